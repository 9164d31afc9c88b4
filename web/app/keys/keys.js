/**
 * What keys do. Letters act only while the board has the focus; undo, redo and the way to the shelf of
 * keys work everywhere but in a text being typed, which keeps its own undo.
 */

import { takesText } from "../dom.js";

/**
 * @typedef {object} KeyActions
 * @property {(step: number) => void} walk to the thing before or after
 * @property {() => boolean} holding
 * @property {(dx: number, dy: number) => void} nudge
 * @property {() => void} takeHold
 * @property {() => void} putDown
 * @property {(step: number) => void} changeGrip
 * @property {() => boolean} stepBack
 * @property {() => void} remove
 * @property {() => void} duplicate
 * @property {() => void} undo
 * @property {() => void} redo
 * @property {(steps: number) => void} zoom
 * @property {(dx: number, dy: number) => void} pan
 * @property {() => void} fit
 * @property {(step: number) => void} otherView
 * @property {() => void} help
 * @property {(step: number) => boolean} read one step of the working more (+1) or less (−1)
 * @property {(key: string) => boolean} placeTool
 * @property {(character: string) => boolean} type
 * @property {() => void} used the board is being worked by keys
 */

/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/**
 * @param {HTMLElement} desk
 * @param {KeyActions} actions
 */
export function listenToKeys(desk, actions) {
  desk.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || event.target !== desk) return;
    const done = event.ctrlKey || event.metaKey ? withControl(event, actions) : onBoard(event, actions);
    if (!done) return;
    event.preventDefault();
    event.stopPropagation();
    actions.used();
  });
  document.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || takesText(event.target)) return;
    if (document.querySelector("dialog[open]")) return; // what is behind it does not hear: Escape closes the dialog
    if (event.ctrlKey || event.metaKey) {
      if (withHistory(event, actions)) event.preventDefault();
    } else if (event.key === "Escape" && actions.stepBack()) event.preventDefault();
  });
}

/** @param {KeyboardEvent} event @param {KeyActions} actions @returns {boolean} */
function withHistory(event, actions) {
  const key = event.key.toLowerCase();
  if (key === "z" && !event.altKey) {
    if (event.shiftKey) actions.redo();
    else actions.undo();
  } else if (key === "y") actions.redo();
  else return false;
  return true;
}

/** @param {KeyboardEvent} event @param {KeyActions} actions @returns {boolean} */
function withControl(event, actions) {
  if (event.key.toLowerCase() === "d") {
    actions.duplicate();
    return true;
  }
  return withHistory(event, actions);
}

/** @param {KeyboardEvent} event @param {KeyActions} actions @returns {boolean} */
function onBoard(event, actions) {
  const { key } = event;
  const arrow = ARROWS[key];
  if (arrow && event.altKey) actions.pan(arrow[0], -arrow[1]);
  else if (arrow && actions.holding()) actions.nudge(arrow[0] * (event.shiftKey ? 10 : 1), arrow[1] * (event.shiftKey ? 10 : 1));
  else if (arrow) actions.walk(key === "ArrowRight" || key === "ArrowDown" ? 1 : -1);
  else if (key === "Enter") {
    if (actions.holding()) actions.putDown();
    else actions.takeHold();
  } else if (key === "Escape") return actions.stepBack();
  else if (key === "[") actions.changeGrip(-1);
  else if (key === "]") actions.changeGrip(1);
  else if (key === " " || key === "PageDown" || key === "PageUp") {
    if (actions.holding()) return false;
    actions.read(key === "PageUp" || event.shiftKey ? -1 : 1);
  } else if (key === "Delete" || key === "Backspace") actions.remove();
  else if (key === "+" || key === "=") actions.zoom(1);
  else if (key === "-" || key === "\u2212") actions.zoom(-1);
  else if (key === "?") actions.help();
  else if (key.toLowerCase() === "v" && !event.altKey) actions.otherView(event.shiftKey ? -1 : 1);
  else if (key === "0") actions.fit();
  else if (/^[1-9.,]$/.test(key)) return actions.type(key);
  else if (key.length === 1 && !event.altKey) return actions.placeTool(key.toLowerCase());
  else return false;
  return true;
}
