/** What this is, what it is not for, and the keys. */

import { make, say } from "../dom.js";
import { createDialog } from "./dialog.js";

const WHAT = "Steelyard is for learning and teaching statics: take one thing out of a picture, draw the forces that act on it, and see whether they balance and what they turn about any point you choose.";
const CAUTION = "Everything here is idealised: rigid, at rest, in two dimensions. It is not for design, rigging, lifting, ergonomic or clinical decisions. Follow local codes and standards, and ask a licensed professional.";
const FONTS = "Set in Alegreya Sans and STIX Two Text, both under the SIL Open Font License 1.1. Python runs in the page through Pyodide.";

export function createAbout() {
  const version = make("p", { class: "quiet" });
  const offline = make("p", { class: "quiet" });
  const about = createDialog("About Steelyard", "about-dialog", make("p", { text: WHAT }), make("p", { class: "caution", text: CAUTION }), make("p", { class: "quiet", text: FONTS }), version, offline);
  return {
    open: about.open,
    /** @param {import("../protocol.js").Hello} hello */
    fill(hello) {
      say(version, `Version ${hello.version}${hello.build ? `, build ${hello.build}` : ""}.`);
    },
    /** How it stands with working without a network. @param {string} words */
    sayOffline(words) {
      say(offline, words);
    },
  };
}

/** @type {Array<[string, string]>} */
const KEYS = [
  ["← → ↑ ↓", "walk the things on the board; move what is held"],
  ["Enter", "take hold of a grip; put it down"],
  ["[ and ]", "take the grip before or after"],
  ["Shift with arrows", "ten steps at once"],
  ["space", "next step of the working (also page down)"],
  ["Shift space", "back a step (also page up)"],
  ["Escape", "step back"],
  ["digits", "open the first field of what is selected"],
  ["Tab", "go on to the fields"],
  ["Delete", "delete what is selected"],
  ["Ctrl D", "duplicate it"],
  ["Ctrl Z, Ctrl Y", "undo, redo"],
  ["+ − 0", "nearer, farther, fit"],
  ["V, Shift V", "the next view, the one before"],
  ["← → on a letter of the order", "move that force along the chain (Polygon)"],
  ["space, ← → on the time slider", "play and stop, look through (Let go)"],
  ["Alt while dragging", "no snapping"],
];

export function createKeysHelp() {
  const list = make("dl", { class: "keys" });
  const help = createDialog("Keys", "keys-dialog", make("p", { text: "They act while the board has the focus." }), list);
  return {
    open: help.open,
    /** @param {Array<{tools: import("../protocol.js").Tool[]}>} tray */
    fill(tray) {
      const tools = tray.flatMap(({ tools: each }) => each).flatMap(({ key, label }) => (key ? [/** @type {[string, string]} */ ([key.toUpperCase(), `place a ${label.toLowerCase()}`])] : []));
      list.replaceChildren(...[...KEYS, ...tools].flatMap(([key, does]) => [make("dt", {}, make("kbd", { text: key })), make("dd", { text: does })]));
    },
  };
}
