/** Everything on the board as a list of buttons: the same as the board for those who do not use it. */

import { make, put, reconcile, say } from "../dom.js";
import { icon } from "./icons.js";

/** @typedef {import("../protocol.js").OutlineEntry} OutlineEntry */

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 */
export function createOutline(root, state) {
  const list = make("ul", { class: "outline", "aria-labelledby": "outline-title" });
  const none = make("p", { class: "side-none", text: "Nothing yet." });
  root.append(make("h2", { class: "side-heading", id: "outline-title", text: "On the board" }), list, none);

  return {
    /** @param {OutlineEntry[]} outline @param {string|null} selected */
    update(outline, selected) {
      none.hidden = outline.length > 0;
      reconcile(
        list,
        outline,
        (entry) => `${entry.id} ${entry.kind}`,
        (entry) =>
          make(
            "li",
            {},
            make(
              "button",
              { type: "button", class: "outline-entry", onclick: () => void state.select(entry.id) },
              icon(entry.kind),
              make("span", { class: "outline-symbol" }),
              " ",
              make("span", { class: "outline-name" }),
            ),
          ),
        (element, entry) => {
          const button = element.firstElementChild;
          put(element, "data-level", entry.level);
          put(button, "data-of", entry.id);
          put(button, "aria-label", entry.spoken);
          put(button, "aria-pressed", String(entry.id === selected));
          // A point's letter is part of its name; a force's stands before what it is.
          const named = entry.kind === "point" || entry.kind === "pivot";
          say(button.children[1], named ? "" : entry.symbol.replace("_", ""));
          say(button.children[2], named ? entry.spoken : entry.name);
        },
      );
    },
  };
}
