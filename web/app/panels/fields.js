/** The line under the board: what is selected, its fields, its answers, and what can be done with it. */

import { make, put, reconcile, say, sayWords } from "../dom.js";
import { FieldView } from "./field.js";
import { icon } from "./icons.js";

/** @typedef {import("../protocol.js").Field} FieldData */
/** @typedef {import("../protocol.js").Fields} Fields */

const NOTHING = "Nothing selected. Tap a thing on the board, or choose what to add.";
const EMPTY = "Press on the board and drag to draw a bar, or choose another tool.";

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 * @param {{toBoard: () => void, say: (words: string) => void, idle: () => boolean}} calls idle: nothing is in hand
 */
export function createFields(root, state, calls) {
  const who = make("span", { class: "who" });
  const line = make("div", { class: "fields-line" });
  const more = make("button", { type: "button", class: "fields-more-button", "aria-expanded": "false", "aria-controls": "fields-all" });
  more.append(icon("more"), make("span", { class: "unseen", text: "All fields" }));
  const extra = make("div", { class: "fields-extra", id: "fields-all" });
  const complaint = make("p", { class: "fields-complaint", id: "fields-complaint", hidden: true });
  const sheet = make("div", { class: "fields-sheet" }, complaint, make("div", { class: "fields-top" }, who, line, more), extra);
  root.append(sheet);
  /** @type {Map<string, FieldView>} */
  const views = new Map();
  let of = "";
  /** What stands before the fields, so that it is made anew only when it changes. */
  let heading = "";

  /** @param {boolean} open */
  function expand(open) {
    put(more, "aria-expanded", String(open));
    root.classList.toggle("open", open);
  }
  more.addEventListener("click", () => expand(more.getAttribute("aria-expanded") !== "true"));
  // What a narrow line hides, the focus brings out.
  root.addEventListener("focusin", (event) => {
    if (!(event.target instanceof HTMLElement) || event.target === more) return;
    if (extra.contains(event.target) || event.target.offsetTop > line.offsetTop + line.clientHeight) expand(true);
  });
  root.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || event.defaultPrevented) return;
    expand(false);
    calls.toBoard();
  });

  /** @type {import("./field.js").Writer} */
  const writer = {
    preview: (key, text) => state.ask({ do: "try", name: "set", args: { id: of, key, text } }, { quiet: true }),
    write: (key, text) => state.command("set", { id: of, key, text }, { quiet: true }),
    // What a hand began meanwhile has already put the preview away.
    restore: () => (calls.idle() ? state.ask({ do: "cancel" }, { quiet: true }) : Promise.resolve()),
    act: (field) => {
      if (field.kind === "show") {
        expand(false);
        void state.ask({ do: "show", ...field.show });
        return;
      }
      void state.command(field.command ?? "", field.args ?? {});
      if (field.command === "delete" || field.command === "duplicate") calls.toBoard();
    },
    leave: () => calls.toBoard(),
    complain: (words) => {
      say(complaint, words);
      complaint.hidden = words === "";
      if (words) calls.say(words);
    },
  };

  /** @param {Element} parent @param {FieldData[]} items */
  function fill(parent, items) {
    reconcile(
      parent,
      items,
      (item) => `${of} ${item.key} ${item.kind}`,
      (item) => {
        const view = new FieldView(item, writer, `field-${of}-${item.key}-${item.kind}`);
        views.set(`${of} ${item.key} ${item.kind}`, view);
        return view.element;
      },
      (_element, item) => views.get(`${of} ${item.key} ${item.kind}`)?.update(item),
    );
  }

  /** @param {Fields} fields */
  function showWho(fields) {
    const wanted = JSON.stringify([fields.icon, fields.role, fields.symbol, fields.title]);
    if (wanted === heading) return;
    heading = wanted;
    who.replaceChildren(icon(fields.icon, `role-${fields.role}`));
    if (fields.symbol.length > 0) {
      const symbol = make("span", { class: "who-symbol" });
      sayWords(symbol, fields.symbol);
      who.append(symbol);
    }
    who.append(make("span", { class: "who-title", text: fields.title }));
  }

  /** @param {Fields} fields */
  function showFields(fields) {
    if (fields.of !== of) {
      of = fields.of;
      views.clear();
      line.replaceChildren();
      extra.replaceChildren();
      writer.complain("");
      expand(false);
    }
    root.classList.remove("nothing");
    put(root, "data-of", of);
    showWho(fields);
    more.hidden = false;
    /** @param {(key: string) => boolean} wanted */
    const groups = (wanted) => fields.groups.filter((group) => wanted(group.key));
    fill(line, groups((key) => key === "main" || key === "guess").flatMap((group) => group.items));
    fill(extra, groups((key) => key !== "main" && key !== "guess").flatMap((group) => group.items));
  }

  function showNothing() {
    of = "";
    heading = "";
    views.clear();
    line.replaceChildren();
    extra.replaceChildren();
    expand(false);
    root.classList.add("nothing");
    put(root, "data-of", null);
    more.hidden = true;
    const { tool } = state;
    if (tool) who.replaceChildren(icon(tool.name), make("strong", { text: tool.label }), make("span", { class: "who-help", text: state.helpOf(tool) }));
    else who.replaceChildren(make("span", { class: "who-help", text: state.reply?.panels.empty ? EMPTY : NOTHING }));
  }

  /** @param {Fields|null} fields */
  function update(fields) {
    if (fields && !state.tool) showFields(fields);
    else showNothing();
  }
  state.addEventListener("tool", () => update(state.reply?.panels.fields ?? null));

  return {
    update,
    /** Open the first field, with the character that was typed. @param {string} [character] @returns {boolean} */
    openFirst(character) {
      const view = [...views.values()].find(({ kind, data }) => kind === "quantity" && !data.locked);
      if (!view) return false;
      if (character) view.openWith(character);
      else view.control.focus();
      return true;
    },
  };
}
