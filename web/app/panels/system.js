/** The system that is looked at: which bodies, and which things on them, are taken as one. */

import { make, put, reconcile, say } from "../dom.js";

/** @typedef {import("../protocol.js").SystemPanel} SystemPanel */
/** @typedef {import("../protocol.js").SystemChoice} SystemChoice */

/**
 * @param {Element} root where its button goes, before what is said of the system
 * @param {import("../state.js").State} state
 */
export function createSystem(root, state) {
  const name = make("span", { class: "system-name" });
  const word = make("span", { class: "system-word" });
  const button = make("button", { type: "button", class: "system-button", "aria-expanded": "false", "aria-controls": "system-choices" }, word, " ", name);
  const rows = make("div", { class: "system-rows" });
  const follow = make("button", { type: "button", class: "menu-item", text: "The body of what is selected", onclick: () => isolate([]) });
  const whole = make("button", { type: "button", class: "menu-item", text: "All bodies as one", onclick: () => isolate(panel?.whole ?? []) });
  const list = make("div", { class: "menu system-menu", id: "system-choices", role: "group", "aria-label": "What is isolated", hidden: true }, rows, whole, follow);
  const holder = make("div", { class: "system", hidden: true }, button, list);
  root.prepend(holder);
  /** @type {SystemPanel|null} */
  let panel = null;

  /** @param {string[]} ids */
  const isolate = (ids) => void state.command("isolate", { ids });

  /** @param {boolean} open @param {boolean} [focus] */
  function show(open, focus = false) {
    list.hidden = !open;
    put(button, "aria-expanded", String(open));
    if (open && focus) list.querySelector("button")?.focus();
    if (!open && focus) button.focus();
  }
  button.addEventListener("click", () => show(Boolean(list.hidden), true));
  list.addEventListener("keydown", (event) => {
    const all = [...list.querySelectorAll("button")];
    const index = all.indexOf(/** @type {HTMLButtonElement} */ (document.activeElement));
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step) all[(index + step + all.length) % all.length]?.focus();
    else if (event.key === "Escape") show(false, true);
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
  document.addEventListener("pointerdown", (event) => {
    if (!list.hidden && event.target instanceof Node && !holder.contains(event.target)) show(false);
  });
  holder.addEventListener("focusout", (event) => {
    if (event.relatedTarget instanceof Node && !holder.contains(event.relatedTarget)) show(false);
  });

  return {
    /** @param {boolean} readOnly */
    lock(readOnly) {
      button.disabled = readOnly;
      if (readOnly) show(false);
    },
    /** @param {SystemPanel|null} next */
    update(next) {
      panel = next;
      holder.hidden = next === null;
      if (next === null) {
        show(false);
        return;
      }
      say(word, next.several ? "As one:" : "Isolated:");
      say(name, next.names);
      put(button, "title", `${next.title}. Choose what is isolated: one body, or several taken as one.`);
      put(button, "data-follows", String(next.follows));
      put(follow, "aria-pressed", String(next.follows));
      const every = next.choices.filter((each) => each.kind === "body");
      whole.hidden = every.length < 2;
      put(whole, "aria-pressed", String(!next.follows && every.every((each) => each.on)));
      reconcile(
        rows,
        next.choices,
        (choice) => `${choice.id} ${choice.kind}`,
        (choice) => make("button", { type: "button", class: `menu-item system-${choice.kind}`, role: "checkbox", "data-of": choice.id, onclick: () => isolate(idsOf(choice.id)) }, make("span", { class: "system-tick", "aria-hidden": "true" }), make("span", { class: "system-choice" })),
        (element, choice) => {
          put(element, "aria-checked", String(choice.on));
          say(element.children[1], choice.kind === "thing" ? `with the ${choice.name}` : choice.name);
        },
      );
    },
  };

  /** What the system is once this one is pressed. @param {string} id @returns {string[]} */
  function idsOf(id) {
    return panel?.choices.find((choice) => choice.id === id)?.ids ?? [];
  }
}
