/** The problem in sentences, made from the sketch: read, lit with its forces, and taken along. */

import { make, put } from "../dom.js";
import { words } from "./mathml.js";

/**
 * @param {HTMLElement} root
 * @param {{copy: (text: string) => void}} calls
 */
export function createProblem(root, calls) {
  const sentences = make("p", { class: "problem-words" });
  const copy = make("button", { type: "button", class: "quiet-button", text: "Copy", "aria-label": "Copy the problem" });
  const head = make("div", { class: "problem-head" }, make("h2", { class: "side-heading", id: "problem-title", text: "The problem" }), copy);
  const section = make("section", { class: "problem", id: "problem", "aria-labelledby": "problem-title", hidden: true }, head, sentences);
  root.prepend(section);
  let text = "";
  // On a phone the list it stands in closes when something is chosen there: reading and copying choose nothing.
  section.addEventListener("click", (event) => event.stopPropagation());
  copy.addEventListener("click", () => calls.copy(text));

  return {
    /** @param {import("../protocol.js").Problem|null|undefined} problem null while its tab is closed: what was there stays */
    update(problem) {
      if (problem === undefined) return;
      section.hidden = problem === null;
      if (problem === null || problem.text === text) return;
      text = problem.text;
      sentences.replaceChildren(...problem.sentences.flatMap((runs, place) => (place ? [document.createTextNode(" "), ...words(runs)] : words(runs))));
      put(section, "data-sentences", problem.sentences.length);
    },
  };
}
