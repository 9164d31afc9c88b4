/** Taking the working along: to the clipboard as LaTeX or Markdown. */

import { make, put } from "../dom.js";
import { createMenu } from "./menu.js";

/** @type {Array<[label: string, form: string]>} */
const FORMS = [
  ["LaTeX, a whole document", "latex"],
  ["LaTeX, the steps alone", "latex-steps"],
  ["Markdown", "markdown"],
];

/** @param {(form: string) => void} run */
export function createCopy(run) {
  const button = make("button", { type: "button", class: "quiet-button", text: "Copy" });
  const menu = createMenu(button, () => FORMS.map(([label, form]) => ({ label, run: () => run(form) })));
  put(menu, "aria-label", "Copy the working");
  return make("div", { class: "foot-menu" }, button, menu);
}
