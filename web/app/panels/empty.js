/** What to do with an empty sheet. */

import { make, say } from "../dom.js";

/**
 * @param {HTMLElement} root lies over the foot of the board
 * @param {() => void} open opens the scenario named
 */
export function createEmpty(root, open) {
  const button = make("button", { type: "button", class: "outline-button", onclick: open });
  const element = make("div", { class: "empty", hidden: true }, button);
  root.append(element);
  return {
    /** @param {boolean} empty @param {string} title of the scenario offered */
    update(empty, title) {
      element.hidden = !empty;
      say(button, `Open “${title}” instead`);
      button.hidden = !title;
    },
  };
}
