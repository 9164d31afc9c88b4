/** Points worth trying as pivots, how a torque is written, and the same sum about two points. */

import { make, put, reconcile } from "../dom.js";
import { words } from "./mathml.js";
import { lineOf } from "./working.js";

/** @typedef {import("../protocol.js").Pivots} Pivots */
/** @typedef {import("../protocol.js").PivotTry} PivotTry */
/** @typedef {import("../protocol.js").SentenceRun} SentenceRun */
/** @typedef {import("../protocol.js").WorkingStep} Step */

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 * @param {() => void} moved after the pivot went to one of the points
 */
export function createPivots(root, state, moved) {
  const tries = make("ul", { class: "tries" });
  const triesHeading = make("h2", { class: "side-heading", id: "tries-heading", text: "Points worth trying" });
  put(tries, "aria-labelledby", triesHeading.id);
  const forms = make("div", { class: "torque-forms", role: "radiogroup" });
  const formsLabel = make("span", { class: "torque-forms-label", id: "torque-forms-label" });
  put(forms, "aria-labelledby", formsLabel.id);
  const again = make("h2", { class: "side-heading", text: "The same about another point" });
  const pin = make("button", {
    type: "button",
    class: "outline-button",
    onclick: () => void state.command("second-pivot", { on: !state.reply?.panels.reasoning?.pivots?.pinned }),
  });
  const missing = make("p", { class: "pivots-missing" });
  const both = make("div", { class: "both-sums" });
  const said = make("p", { class: "both-said" });
  const row = make("div", { class: "torque-forms-row" }, formsLabel, forms);
  root.append(triesHeading, tries, row, again, pin, missing, both, said);

  /** @param {{name: string, args: Record<string, unknown>}|null} command */
  async function press(command) {
    if (!command) return;
    const reply = await state.command(command.name, command.args);
    if (reply.ok && command.name === "pivot") moved();
  }

  forms.addEventListener("keydown", (event) => {
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (!step) return;
    event.preventDefault();
    const buttons = /** @type {HTMLButtonElement[]} */ ([...forms.children]);
    const at = buttons.findIndex((button) => button.getAttribute("aria-checked") === "true");
    const next = buttons[(at + step + buttons.length) % buttons.length];
    next.focus();
    next.click();
  });

  /** @param {Pivots} data @param {string} word */
  function fillForms(data, word) {
    formsLabel.textContent = `${word} as`;
    const { value, options } = data.forms;
    reconcile(
      forms,
      options,
      (option) => option.value,
      () => make("button", { type: "button", role: "radio", class: "torque-form" }),
      (button, option) => {
        const chosen = option.value === value;
        put(button, "aria-checked", String(chosen));
        put(button, "tabindex", chosen ? "0" : "-1");
        put(button, "aria-label", option.spoken);
        put(button, "disabled", state.readOnly);
        fill(button, option.runs);
        button.onclick = () => void state.command("settings", { key: "torque_form", text: option.value });
      },
    );
  }

  return {
    /** @param {Pivots|null} data */
    update(data) {
      root.hidden = data === null;
      if (data === null) return;
      triesHeading.hidden = tries.hidden = data.tries.length === 0;
      reconcile(tries, data.tries, (each) => each.key, () => make("li", {}, make("button", { type: "button", class: "try" })), (item, each) => {
        const button = /** @type {HTMLButtonElement} */ (item.firstElementChild);
        put(button, "data-of", each.key);
        put(button, "aria-current", each.here ? "true" : null);
        put(button, "aria-disabled", each.command === null || each.here || state.readOnly ? "true" : null);
        fill(button, each.sentence);
        button.onclick = () => void press(each.here ? null : each.command);
      });
      fillForms(data, data.turning_word);
      pin.textContent = data.pinned ? `Take the second ${data.pivot_word} away` : `Pin a second ${data.pivot_word}`;
      pin.disabled = state.readOnly;
      missing.hidden = data.missing === null;
      fill(missing, data.missing ?? []);
      both.hidden = said.hidden = data.compare === null;
      const { compare } = data;
      const steps = compare ? [compare.first, compare.second, compare.change].filter((step) => step !== null) : [];
      reconcile(both, steps.map((step, place) => ({ step, place })), ({ place }) => String(place), () => make("div", { class: "one-sum" }), (part, { step }) => fillSum(part, step));
      fill(said, compare?.sentence ?? []);
    },
  };
}

/** @param {HTMLElement} part @param {Step} step */
function fillSum(part, step) {
  const wanted = JSON.stringify([step.title, step.lines]);
  if (part.dataset.shown === wanted) return;
  part.dataset.shown = wanted;
  part.replaceChildren(
    make("h3", { class: "one-sum-title" }, ...words(step.title)),
    make("div", { class: "lines" }, ...step.lines.map(lineOf)),
  );
}

/** Write a sentence only when it changes: what has the focus or the hand over it stays. @param {HTMLElement} element @param {SentenceRun[]} runs */
function fill(element, runs) {
  const wanted = JSON.stringify(runs);
  if (element.dataset.shown === wanted) return;
  element.dataset.shown = wanted;
  element.replaceChildren(...words(runs));
}
