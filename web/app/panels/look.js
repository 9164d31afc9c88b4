/** Buttons for what fingers do with two: nearer, farther, fit, and moving the paper. */

import { make, put } from "../dom.js";
import { icon } from "./icons.js";

/** @type {Array<[string, string, number, number]>} */
const WAYS = [
  ["up", "Look up", 0, -1],
  ["left", "Look left", -1, 0],
  ["right", "Look right", 1, 0],
  ["down", "Look down", 0, 1],
];

let pads = 0;

/**
 * @param {{zoom: (steps: number) => void, fit: () => void, pan: (dx: number, dy: number) => void}} calls
 * @returns {HTMLElement}
 */
export function createLook(calls) {
  /** @param {string} name @param {string} label @param {() => void} run */
  const button = (name, label, run) =>
    make("button", { type: "button", class: `plain-button look-${name}`, title: label, onclick: run }, icon(name), make("span", { class: "unseen", text: label }));
  pads += 1;
  const pad = make("div", { class: "look-pad", id: `look-pad-${pads}`, hidden: true }, ...WAYS.map(([name, label, dx, dy]) => button(name, label, () => calls.pan(dx, dy))));
  const shift = button("shift", "Move the paper", () => {
    pad.hidden = !pad.hidden;
    put(shift, "aria-expanded", String(!pad.hidden));
  });
  put(shift, "aria-expanded", "false");
  put(shift, "aria-controls", pad.id);
  return make(
    "div",
    { class: "look", role: "group", "aria-label": "Look" },
    button("nearer", "Nearer", () => calls.zoom(1)),
    button("farther", "Farther", () => calls.zoom(-1)),
    button("fit", "Fit", calls.fit),
    shift,
    pad,
  );
}
