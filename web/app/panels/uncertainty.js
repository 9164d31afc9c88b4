/** How sure the reactions are: each with its half-width and what matters most, and the half-widths of what is selected. */

import { make, put, reconcile, say, sayWords } from "../dom.js";
import { FieldView } from "./field.js";

/** @typedef {import("../protocol.js").Unsure} Unsure */

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 * @param {{toBoard: () => void, say: (words: string) => void, idle: () => boolean}} calls idle: nothing is in hand
 */
export function createUncertainty(root, state, calls) {
  const rows = make("ul", { class: "unsure-rows" });
  const said = make("p", { class: "unsure-said" });
  const hint = make("p", { class: "side-none" });
  const fields = make("div", { class: "unsure-fields" });
  const complaint = make("p", { class: "fields-complaint", hidden: true });
  const heading = make("h2", { class: "side-heading", id: "unsure-title", text: "How sure?" });
  const section = make("section", { class: "unsure", id: "unsure", "aria-labelledby": heading.id, hidden: true }, heading, rows, said, hint, fields, complaint);
  root.append(section);
  // On a phone the list it stands in closes when something is chosen there: a field is for typing.
  section.addEventListener("click", (event) => event.stopPropagation());
  /** @type {Map<string, FieldView>} */
  const views = new Map();
  let of = "";

  /** @type {import("./field.js").Writer} */
  const writer = {
    preview: (key, text) => state.ask({ do: "try", name: "set", args: { id: "sketch", key, text } }, { quiet: true }),
    write: (key, text) => state.command("set", { id: "sketch", key, text }, { quiet: true }),
    restore: () => (calls.idle() ? state.ask({ do: "cancel" }, { quiet: true }) : Promise.resolve()),
    act: () => {},
    leave: () => calls.toBoard(),
    complain: (words) => {
      say(complaint, words);
      complaint.hidden = words === "";
      if (words) calls.say(words);
    },
  };

  return {
    /** @param {Unsure|null|undefined} data null while its tab is closed, or answers are kept back */
    update(data) {
      section.hidden = !data;
      if (!data) return;
      rows.hidden = data.rows.length === 0;
      reconcile(
        rows,
        data.rows,
        (row) => row.key,
        () => {
          const button = make("button", { type: "button", class: "unsure-row" });
          button.append(make("span", { class: "unsure-symbol" }), make("span", { class: "unsure-value" }), make("span", { class: "unsure-most" }), make("span", { class: "unsure-most" }));
          return make("li", {}, button);
        },
        (item, row) => {
          const button = item.firstElementChild;
          put(button, "data-of", row.of);
          button.onclick = () => void state.select(row.of);
          sayWords(button.children[0], row.note ? [...row.symbol, { text: ` ${row.note}`, role: "small" }] : row.symbol);
          say(button.children[1], row.value);
          say(button.children[2], row.most);
          say(button.children[3], row.worst);
          button.children[3].hidden = row.worst === "";
        },
      );
      say(said, data.said);
      said.hidden = data.said === "";
      say(hint, data.hint);
      hint.hidden = data.hint === "";
      if (data.of !== of) {
        of = data.of;
        views.clear();
        fields.replaceChildren();
        writer.complain("");
      }
      reconcile(
        fields,
        data.fields,
        (item) => item.key,
        (item) => {
          const view = new FieldView(item, writer, `unsure-${item.key.replace(/[^a-z0-9]+/g, "-")}`);
          views.set(item.key, view);
          return view.element;
        },
        (_element, item) => views.get(item.key)?.update(item),
      );
      fields.inert = state.readOnly;
    },
  };
}
