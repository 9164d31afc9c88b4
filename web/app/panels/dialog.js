/** A dialog with a title and a way out. */

import { make } from "../dom.js";
import { icon } from "./icons.js";

/**
 * @param {string} title
 * @param {string} className
 * @param {...(Node|null)} content
 */
export function createDialog(title, className, ...content) {
  const heading = make("h2", { id: `${className}-title`, text: title });
  const close = make("button", { type: "button", class: "plain-button dialog-close", onclick: () => dialog.close() }, icon("close"), make("span", { class: "unseen", text: "Close" }));
  const body = make("div", { class: "dialog-body" }, ...content);
  const dialog = make("dialog", { class: `dialog ${className}`, "aria-labelledby": heading.id }, make("div", { class: "dialog-head" }, heading, close), body);
  // A press on what lies behind closes it, as Escape does.
  dialog.addEventListener("pointerdown", (event) => event.target === dialog && dialog.close());
  document.body.append(dialog);
  return {
    dialog,
    heading,
    body,
    open() {
      if (!dialog.open) dialog.showModal();
    },
  };
}
