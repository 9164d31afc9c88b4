/** The working: the revealed steps one below the other, the next one a blank ruled line, and how it is read. */

import { make, put, reconcile, say } from "../dom.js";
import { createCopy } from "./copy.js";
import { mathml, plain, words } from "./mathml.js";
import { createOrder } from "./order.js";
import { senseIcon } from "./sense.js";

/** @typedef {import("../protocol.js").WorkingPanel} WorkingPanel */
/** @typedef {import("../protocol.js").WorkingStep} WorkingStep */
/** @typedef {import("../protocol.js").WorkingLine} WorkingLine */

// What a step gives is said after its title: these lines, and no others.
const RESULTS = new Set(["value", "comparison"]);

/**
 * @param {object} places
 * @param {HTMLElement} places.root
 * @param {HTMLElement} places.tools beside the tabs
 * @param {import("../state.js").State} state
 * @param {{copy: (form: string) => void, say: (words: string) => void}} calls
 */
export function createWorking({ root, tools }, state, calls) {
  const symbols = make("button", { type: "button", class: "quiet-button", text: "Symbols only", "aria-pressed": "false", onclick: () => void state.read({ numbers: !state.study.numbers }) });
  tools.append(symbols);

  const list = make("ol", { class: "step-list" });
  const nextTitle = make("span", { class: "step-number", "aria-hidden": "true" });
  const place = make("span", { class: "unseen" });
  const next = make(
    "button",
    { type: "button", class: "next-step", "aria-keyshortcuts": "Space", onclick: () => void forward() },
    make("kbd", { class: "next-key", "aria-hidden": "true", text: "space" }),
    make("span", {}, "next step", place),
  );
  const blank = make("div", { class: "blank-step" }, nextTitle, make("span", { class: "blank-line", "aria-hidden": "true" }), next);
  /** @param {string} text @param {() => void} run */
  const foot = (text, run) => make("button", { type: "button", class: "quiet-button", text, onclick: run });
  const back = foot("Back", () => void backward());
  put(back, "aria-label", "Back a step");
  const all = foot("All steps", () => void reveal(panel.total));
  const way = foot("By geometry", () => void state.read({ way: state.study.way === "geometry" ? "sums" : "geometry" }));
  const order = createOrder((chosen) => void state.read({ order: chosen }));
  const copy = createCopy(calls.copy);
  const none = make("p", { class: "side-none", text: "Nothing to work out yet: draw a body, say what holds it and what loads it." });
  // As wide as a line of mathematics may be.
  const room = make("div", { class: "step-room" }, make("div", { id: "line-room" }));
  root.append(room, list, blank, make("div", { class: "step-foot" }, back, all, way, order.element, copy), none);

  /** @type {Omit<WorkingPanel, "steps">} what a preview leaves out stands as it was */
  let panel = { total: 0, geometry: false, sums: [] };
  let shown = 0;

  /** @param {number} count */
  async function reveal(count) {
    const before = shown;
    const reply = await state.read({ revealed: Math.max(0, Math.min(panel.total, count)) });
    if (!reply.ok) return;
    const latest = list.lastElementChild;
    if (shown > before && latest) {
      latest.scrollIntoView({ block: "nearest" });
      // The blank line below it is the next thing wanted.
      blank.scrollIntoView({ block: "nearest" });
    }
    calls.say(spoken());
  }

  function spoken() {
    const place = `Step ${shown} of ${panel.total}.`;
    return shown === 0 ? `No step of ${panel.total} is shown.` : `${place} ${list.lastElementChild?.getAttribute("data-spoken") ?? ""}`;
  }

  /** @returns {boolean} whether there was one to show */
  function forward() {
    if (shown >= panel.total) return false;
    void reveal(shown + 1);
    return true;
  }

  /** @returns {boolean} whether there was one to take back */
  function backward() {
    if (shown <= 0) return false;
    void reveal(shown - 1);
    return true;
  }

  // Where the working itself has the focus, it is read with the same keys as from the board, and with the arrows.
  root.parentElement?.addEventListener("keydown", (event) => {
    if (event.target !== root.parentElement || event.ctrlKey || event.metaKey || event.altKey) return;
    const done = onward(event) ? forward() : backwards(event) && backward();
    if (done) event.preventDefault();
  });

  return {
    forward,
    backward,
    /** @param {WorkingPanel|null} data */
    update(data) {
      root.hidden = false;
      none.hidden = data !== null;
      for (const part of root.children) if (part !== none) /** @type {HTMLElement} */ (part).hidden = data === null;
      tools.toggleAttribute("data-idle", data === null);
      if (data === null) return;
      const { steps, ...rest } = data;
      panel = { ...panel, ...rest };
      shown = steps.length;
      reconcile(list, steps.map((step, place) => ({ step, place })), ({ place }) => String(place), createStep, updateStep);
      list.hidden = shown === 0;
      const left = panel.total - shown;
      blank.hidden = left <= 0;
      say(nextTitle, String(shown + 1));
      say(place, `, ${shown + 1} of ${panel.total}`);
      back.hidden = shown === 0;
      all.hidden = left <= 1;
      way.hidden = !panel.geometry;
      say(way, state.study.way === "geometry" ? "By sums" : "By geometry");
      order.update(state.study.way === "geometry" ? [] : panel.sums);
      put(symbols, "aria-pressed", String(!state.study.numbers));
    },
  };
}

/** @param {KeyboardEvent} event */
const onward = ({ key, shiftKey }) => key === "ArrowRight" || key === "PageDown" || (key === " " && !shiftKey);
/** @param {KeyboardEvent} event */
const backwards = ({ key, shiftKey }) => key === "ArrowLeft" || key === "PageUp" || (key === " " && shiftKey);

/** @param {{place: number}} item */
function createStep({ place }) {
  return make(
    "li",
    { class: "step" },
    make("span", { class: "step-number", "aria-hidden": "true", text: String(place + 1) }),
    make("h2", { class: "step-title" }),
    make("div", { class: "step-body" }),
  );
}

/** @param {HTMLElement} element @param {{step: WorkingStep}} item */
function updateStep(element, { step }) {
  const before = written.get(element);
  if (before === step) return;
  written.set(element, step);
  if (before && before.title === step.title) {
    // The hand is moving: only some lines and words have changed.
    updateLines(element, before, step);
    return;
  }
  if (before && JSON.stringify(before) === JSON.stringify(step)) return;
  const [, title, body] = element.children;
  put(element, "data-kind", step.kind);
  const results = step.lines.filter(({ kind }) => RESULTS.has(kind)).map(({ text }) => `${text}.`);
  put(element, "data-spoken", [`${plain(step.title)}.`, ...results, ...step.remarks.map(plain)].join(" "));
  const about = make("span", { "data-of": step.of || null }, ...words(step.title));
  title.replaceChildren(about, ...(step.sense && step.kind !== "isolate" ? [" ", senseIcon(step.sense)] : []));
  body.replaceChildren(...bodyOf(step));
}

/** @type {WeakMap<HTMLElement, WorkingStep>} what a step was made from */
const written = new WeakMap();

/** @param {HTMLElement} element @param {WorkingStep} before @param {WorkingStep} step */
function updateLines(element, before, step) {
  const body = /** @type {HTMLElement} */ (element.lastElementChild);
  const lines = body.querySelector(":scope > .lines");
  const sameWords = before.why === step.why && before.remarks === step.remarks;
  if (!sameWords || !lines || lines.childElementCount !== step.lines.length) {
    body.replaceChildren(...bodyOf(step));
    return;
  }
  step.lines.forEach((line, place) => {
    if (line === before.lines[place]) return;
    if (line.rows === before.lines[place]?.rows) writeDigits(lines.children[place], line);
    else lines.children[place].replaceWith(lineOf(line));
  });
}

/** @param {Element} element @param {WorkingLine} line */
function writeDigits(element, line) {
  const numbers = element.querySelectorAll("mn:not(msup > :last-child)");
  line.digits?.forEach((text, place) => say(numbers[place], text));
}

/** @param {WorkingStep} step */
function* bodyOf(step) {
  if (step.why.length) yield make("p", { class: "step-why" }, ...step.why.flatMap((each) => [...words(each), " "]));
  if (step.contacts.length) {
    yield make("ul", { class: "contacts" }, ...step.contacts.map(({ forces, sentence }) => make("li", { "data-of": forces[0] ?? null }, ...words(sentence))));
  }
  if (step.lines.length) yield make("div", { class: "lines" }, ...step.lines.map(lineOf));
  if (step.remarks.length) yield make("div", { class: "remark" }, ...step.remarks.map((each) => make("p", {}, ...words(each))));
}

/** One line, heard as words and seen as mathematics. @param {WorkingLine} line */
export function lineOf(line) {
  const rows = line.rows.map((row) => {
    const math = mathml(row);
    put(math, "aria-hidden", "true");
    return make("span", { class: "line-row" }, math);
  });
  const element = make("p", { class: `line line-${line.kind}${line.underlined ? " underlined" : ""}` }, make("span", { class: "unseen", text: line.text }), ...rows);
  writeDigits(element, line);
  return element;
}
