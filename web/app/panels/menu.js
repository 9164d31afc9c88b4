/** A short list of things to do, opened by a button; closed by Escape, by choosing, or by going elsewhere. */

import { make, put } from "../dom.js";
import { icon } from "./icons.js";

/** @typedef {{label: string, icon?: string, run: () => void, pressed?: () => boolean, narrow?: boolean}} MenuItem narrow: only where there is no room for a button of its own */

/**
 * @param {HTMLButtonElement} button
 * @param {() => Array<MenuItem|Element>} items read when it opens; elements are put in as they are
 * @returns {HTMLElement} the list, to be placed beside the button
 */
export function createMenu(button, items) {
  const list = make("div", { class: "menu", role: "group", hidden: true, "aria-label": button.textContent ?? "" });
  put(button, "aria-expanded", "false");

  /** @param {boolean} open @param {boolean} [focus] */
  function show(open, focus = false) {
    if (open) list.replaceChildren(...items().map((item) => (item instanceof Element ? item : row(item))));
    list.hidden = !open;
    put(button, "aria-expanded", String(open));
    if (open && focus) list.querySelector("button")?.focus();
    if (!open && focus) button.focus();
  }

  /** @param {MenuItem} item */
  function row({ label, icon: name, run, pressed, narrow }) {
    return make(
      "button",
      {
        type: "button",
        class: narrow ? "menu-item narrow-only" : "menu-item",
        "aria-pressed": pressed ? String(pressed()) : null,
        onclick: () => {
          show(false, true);
          run();
        },
      },
      name ? icon(name) : null,
      make("span", { text: label }),
    );
  }

  button.addEventListener("click", () => show(Boolean(list.hidden), true));
  list.addEventListener("keydown", (event) => {
    const rows = [...list.querySelectorAll("button")].filter((each) => each.offsetParent !== null);
    const index = rows.indexOf(/** @type {HTMLButtonElement} */ (document.activeElement));
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step) rows[(index + step + rows.length) % rows.length]?.focus();
    else if (event.key === "Escape") show(false, true);
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
  document.addEventListener("pointerdown", (event) => {
    if (list.hidden || !(event.target instanceof Node)) return;
    if (!list.contains(event.target) && !button.contains(event.target)) show(false);
  });
  list.addEventListener("focusout", (event) => {
    if (event.relatedTarget instanceof Node && !list.contains(event.relatedTarget) && event.relatedTarget !== button) show(false);
  });
  return list;
}
