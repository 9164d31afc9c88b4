/** Mathematics and sentences from the engine's data: built element by element, never from markup. */

import { draw, make } from "../dom.js";

/** @typedef {import("../protocol.js").MathNode} MathNode */
/** @typedef {import("../protocol.js").SentenceRun} SentenceRun */

const MATHML = "http://www.w3.org/1998/Math/MathML";

/**
 * An expression as MathML. What names a force carries `data-of`, and lights with it.
 * @param {MathNode} node
 * @returns {Element}
 */
export function mathml([tag, attributes, children]) {
  if (tag === "msqrt") return root(children);
  const [first] = children;
  // A sum sign before a letter stands upright, as everywhere.
  if (tag === "mi" && typeof first === "string" && /^Σ./.test(first)) {
    return mathml(["mrow", {}, [["mi", { mathvariant: "normal" }, ["Σ"]], ["mi", {}, [first.slice(1)]]]]);
  }
  const element = document.createElementNS(MATHML, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  for (const child of children) element.append(typeof child === "string" ? child : mathml(child));
  return element;
}

/**
 * A square root. The fonts carry no stretching radical sign, so the sign is drawn and the bar is a border.
 * @param {Array<MathNode|string>} children
 */
function root(children) {
  const sign = draw("svg", { class: "radical", viewBox: "0 0 12 24", preserveAspectRatio: "none" }, draw("path", { class: "pen-radical", d: "M1 13.5L3.5 12L7 22.5L11.5 1H12" }));
  const radicand = mathml(["mrow", { class: "radicand" }, children]);
  const holder = document.createElementNS(MATHML, "mtext");
  holder.append(sign);
  const whole = document.createElementNS(MATHML, "mrow");
  whole.append(holder, radicand);
  return whole;
}

/**
 * A sentence as nodes: words as text, a letter with its index as one piece that lights with its force.
 * @param {SentenceRun[]} runs
 * @returns {Node[]}
 */
export function words(runs) {
  /** @type {Node[]} */
  const nodes = [];
  /** @type {HTMLElement|null} */
  let letter = null;
  for (const run of runs) {
    if (run.role === "word") {
      nodes.push(document.createTextNode(run.text));
      letter = null;
    } else if (run.role === "symbol" || letter === null) {
      letter = make("span", { class: "letter", "data-of": run.of || null }, make("span", { class: `run-${run.role}`, text: run.text }));
      nodes.push(letter);
    } else {
      letter.append(make("span", { class: run.italic ? "run-sub" : "run-sub upright", text: run.text }));
    }
  }
  return nodes;
}

/**
 * A sentence as plain text.
 * @param {SentenceRun[]} runs
 */
export const plain = (runs) => runs.map((run) => run.text).join("");
