/** The argument about a guess: which part acts as it must, what is missing where, and what can be done next. */

import { make, put, reconcile } from "../dom.js";
import { createDialog } from "./dialog.js";
import { icon } from "./icons.js";
import { words } from "./mathml.js";
import { lineOf } from "./working.js";

/** @typedef {import("../protocol.js").Argument} Argument */
/** @typedef {import("../protocol.js").ArgumentStage} Stage */
/** @typedef {import("../protocol.js").ArgumentAction} Action */
/** @typedef {import("../protocol.js").SentenceRun} Run */
/** @typedef {import("../protocol.js").WorkingStep} Step */

/** Besides what moves the arrow: what leads on, when it stands first. */
const NEXT = new Set(["start", "as-answered"]);

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 * @param {(name: string, args: Record<string, unknown>) => void} move does a command whose arrow is seen moving
 */
export function createArgument(root, state, move) {
  const headline = make("h2", { class: "guess-headline" });
  const caution = make("p", { class: "guess-caution" });
  const lead = make("div", { class: "guess-lead" });
  const stages = make("ol", { class: "guess-stages" });
  const answer = make("p", { class: "guess-answer" });
  const minus = make("div", { class: "guess-minus" });
  const actions = make("div", { class: "guess-actions" });
  const why = make("button", {
    type: "button",
    class: "guess-why",
    "aria-expanded": "false",
    text: "Why?",
    onclick: () => put(why, "aria-expanded", String(root.toggleAttribute("data-why"))),
  });
  root.append(headline, caution, lead, stages, answer, minus, actions);
  const dialog = createBothWays(() => void state.ask({ do: "show", both: "" }));

  /** @param {Action} action */
  function act({ command, args, moves, show }) {
    if (show) void state.ask({ do: "show", ...show });
    else if (moves) move(command ?? "", args ?? {});
    else void state.command(command ?? "", args ?? {});
  }

  /** @param {Action[]} items @param {boolean} explained */
  function fillActions(items, explained) {
    const held = actions.contains(document.activeElement);
    const [first, ...others] = items;
    /** @type {Array<Action|"why">} */
    const all = first ? [first, ...others] : [];
    if (first && explained) all.splice(1, 0, "why");
    reconcile(
      actions,
      all,
      (item) => (typeof item === "string" ? item : item.key),
      (item) => (typeof item === "string" ? why : make("button", { type: "button" })),
      (button, item) => {
        if (typeof item === "string") return;
        put(button, "class", item === first && (item.moves || NEXT.has(item.key)) ? "strong-button" : "outline-button");
        put(button, "disabled", state.readOnly && !item.show);
        fill(button, item.label);
        button.onclick = () => act(item);
      },
    );
    // The button that was pressed may have done its work: the next one takes its place.
    if (held && !actions.contains(document.activeElement)) actions.querySelector("button")?.focus({ preventScroll: true });
  }

  return {
    /** What the argument comes to, for the status line. */
    get headline() {
      return headline.textContent ?? "";
    },
    /** @param {Argument|null} data */
    update(data) {
      root.hidden = data === null;
      dialog.update(data?.both ?? null);
      if (data === null) return;
      put(root, "data-kind", data.kind);
      put(root, "aria-label", data.kind === "minus" ? "What the minus means" : "Your guess");
      fill(headline, data.headline);
      write(caution, data.caution ?? null);
      fillParagraphs(lead, data.lead ?? []);
      reconcile(stages, data.stages ?? [], (stage) => stage.part, createStage, updateStage);
      stages.hidden = !data.stages?.length;
      write(answer, data.answer ?? null);
      fillMinus(data.minus ?? null);
      fillActions(data.actions, stages.childElementCount > 0);
    },
  };

  /** @param {{headline: Run[], lead: Run[][], actions: Action[]}|null} data */
  function fillMinus(data) {
    minus.hidden = data === null;
    if (data === null) return;
    const seen = JSON.stringify(data);
    if (minus.getAttribute("data-words") === seen) return;
    put(minus, "data-words", seen);
    minus.replaceChildren(
      make("p", { class: "guess-result" }, ...words(data.headline)),
      ...data.lead.map((runs) => make("p", {}, ...words(runs))),
      ...data.actions.map((action) => make("button", { type: "button", class: "outline-button", onclick: () => act(action) }, ...words(action.label))),
    );
  }
}

/** @param {Stage} stage */
function createStage(stage) {
  const mark = make("span", { class: "stage-mark" });
  const title = make("h3", { class: "stage-title" });
  const sum = make("span", { class: "stage-sum" });
  return make("li", { class: "stage", "data-part": stage.part }, make("div", { class: "stage-head" }, title, mark, sum), make("div", { class: "stage-words" }));
}

/** @param {HTMLElement} element @param {Stage} stage */
function updateStage(element, stage) {
  const part = (/** @type {string} */ name) => /** @type {HTMLElement} */ (element.querySelector(`.${name}`));
  put(element, "data-agrees", String(stage.agrees));
  fill(part("stage-title"), stage.title);
  const mark = part("stage-mark");
  if (mark.getAttribute("data-mark") !== stage.mark) {
    put(mark, "data-mark", stage.mark);
    mark.replaceChildren(...(stage.agrees === true ? [icon("check")] : []), stage.mark);
  }
  const sum = part("stage-sum");
  sum.textContent = stage.sum;
  sum.hidden = stage.sum === "";
  fillParagraphs(part("stage-words"), stage.sentences);
}

/** @param {HTMLElement} element @param {Run[]|null} runs */
function write(element, runs) {
  element.hidden = runs === null;
  if (runs !== null) fill(element, runs);
}

/** Words, written only when they change, so that what is lit or read stays. @param {Element} element @param {Run[]} runs */
function fill(element, runs) {
  const seen = JSON.stringify(runs);
  if (element.getAttribute("data-words") === seen) return;
  element.setAttribute("data-words", seen);
  element.replaceChildren(...words(runs));
}

/** @param {HTMLElement} root @param {Run[][]} sentences */
function fillParagraphs(root, sentences) {
  root.hidden = sentences.length === 0;
  while (root.childElementCount > sentences.length) root.lastElementChild?.remove();
  sentences.forEach((runs, place) => {
    const paragraph = root.children[place] ?? root.appendChild(make("p"));
    fill(paragraph, runs);
  });
}

/** Both cases side by side: drawn as it is, and drawn the other way. @param {() => void} closed */
function createBothWays(closed) {
  const columns = make("div", { class: "both-ways" });
  const sentence = make("p", { class: "both-sentence" });
  const made = createDialog("Drawn either way", "both-dialog", columns, sentence);
  made.dialog.addEventListener("close", closed);
  let seen = "";
  return {
    /** @param {import("../protocol.js").BothWays|null} data */
    update(data) {
      if (data === null) {
        if (made.dialog.open) made.dialog.close();
        return;
      }
      const now = JSON.stringify(data);
      if (now !== seen) {
        seen = now;
        columns.replaceChildren(column(data.asDrawnTitle, data.asDrawn), column(data.otherWayTitle, data.otherWay));
        fill(sentence, data.sentence);
      }
      made.open();
    },
  };
}

/** @param {Run[]} title @param {Step} step */
function column(title, step) {
  return make("section", { class: "both-column" }, make("h3", {}, ...words(title)), ...step.lines.map(lineOf), ...step.remarks.map((runs) => make("p", {}, ...words(runs))));
}
