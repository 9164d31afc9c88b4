/** The one status line for screen readers: what stands when things have settled, never during a move. */

import { say } from "../dom.js";

const SETTLED_MS = 500;

/** @param {HTMLElement} root present and empty from the start */
export function createStatus(root) {
  let timer = 0;
  return {
    /** @param {string} words said once nothing has changed for half a second */
    settle(words) {
      window.clearTimeout(timer);
      timer = window.setTimeout(() => say(root, words), SETTLED_MS);
    },
    /** @param {string} words the answer to a key, said at once */
    now(words) {
      window.clearTimeout(timer);
      say(root, words);
    },
    /** A move is under way: say nothing now. */
    hold() {
      window.clearTimeout(timer);
    },
  };
}
