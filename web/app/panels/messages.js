/** Complaints and notices, in words, with what can be done. They never stand in for the sketch. */

import { make } from "../dom.js";
import { createDialog } from "./dialog.js";
import { icon } from "./icons.js";

/** @typedef {import("../protocol.js").Complaint} Complaint */
/** @typedef {{label: string, run: () => void|Promise<void>}} Action */
/** @typedef {{key: string, tone: "info"|"warning", text: string|null, actions: Action[]}} Notice */

/** What stands between backquotes is a path or an input: set apart. @param {string} text */
function words(text) {
  return text.split("`").map((part, index) => (index % 2 === 1 ? make("b", { text: part }) : document.createTextNode(part)));
}

/** @param {HTMLElement} root lies over the head of the board */
export function createMessages(root) {
  const stack = make("div", { class: "notices" });
  root.append(stack);
  /** @type {Map<string, HTMLElement>} */
  const shown = new Map();
  const text = make("p");
  const actions = make("div", { class: "dialog-actions" });
  const failure = createDialog("That file could not be opened", "failure-dialog", text, actions);

  /** @param {string} key */
  function clear(key) {
    shown.get(key)?.remove();
    shown.delete(key);
  }

  /** @param {Action} action @param {() => void} [after] */
  function button({ label, run }, after = () => {}) {
    return make("button", {
      type: "button",
      class: "outline-button",
      text: label,
      onclick: () => {
        after();
        void run();
      },
    });
  }

  return {
    clear,
    /** @param {Notice} notice stands until one with the same key replaces or clears it */
    notice({ key, tone, text: said, actions: offered }) {
      clear(key);
      if (said === null) return;
      const close = make("button", { type: "button", class: "plain-button", onclick: () => clear(key) }, icon("close"), make("span", { class: "unseen", text: "Close" }));
      const element = make("div", { class: `notice notice-${tone}` }, make("p", {}, ...words(said)), ...offered.map((action) => button(action)), close);
      shown.set(key, element);
      stack.append(element);
    },
    /** @param {Complaint} complaint */
    complain(complaint) {
      this.notice({ key: "complaint", tone: "warning", text: `${complaint.message} ${complaint.hint}`.trim(), actions: [] });
    },
    /**
     * A file that was refused; the sketch on the board is as it was.
     * @param {Complaint} complaint
     * @param {Action[]} offered
     */
    refuse(complaint, offered) {
      text.replaceChildren(...words(complaint.message), document.createTextNode(` ${complaint.hint} Your sketch is as it was.`));
      actions.replaceChildren(...offered.map((action) => button(action, () => failure.dialog.close())));
      failure.open();
    },
  };
}
