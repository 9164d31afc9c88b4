/** The side panel: two tabs, the working and the forces. On a phone it is a drawer under the board. */

import { make, put } from "../dom.js";

/** @typedef {"working"|"forces"} Tab */

/** @type {Array<[Tab, string]>} */
const TABS = [
  ["working", "Working"],
  ["forces", "Forces"],
];

/**
 * @param {HTMLElement} root
 * @param {(tab: Tab) => void} opened
 */
export function createSide(root, opened) {
  const list = make("div", { class: "side-tabs", role: "tablist", "aria-label": "Beside the board" });
  const tools = make("div", { class: "side-tools" });
  const taller = make("button", { type: "button", class: "side-taller", "aria-expanded": "false", "aria-label": "Taller", onclick: () => put(taller, "aria-expanded", String(root.toggleAttribute("data-tall"))) });
  root.prepend(make("div", { class: "side-head" }, taller, list, tools));
  const panels = TABS.map(([name]) => /** @type {HTMLElement} */ (document.getElementById(name)));
  const buttons = TABS.map(([name, label], place) => {
    const button = make("button", { type: "button", class: "side-tab", role: "tab", id: `tab-${name}`, "aria-controls": name, text: label, onclick: () => choose(name) });
    put(panels[place], "role", "tabpanel");
    // It scrolls, so keys must reach it.
    put(panels[place], "tabindex", "0");
    put(panels[place], "aria-labelledby", button.id);
    return button;
  });
  list.append(...buttons);

  /** @type {Tab} */
  let current = "working";
  /** How far each tab was scrolled when it was left. @type {Partial<Record<Tab, number>>} */
  const scrolled = {};

  /** @param {Tab} name */
  function show(name) {
    const turned = name !== current;
    if (turned) scrolled[current] = root.scrollTop;
    current = name;
    TABS.forEach(([each], place) => {
      const open = each === name;
      put(buttons[place], "aria-selected", String(open));
      put(buttons[place], "tabindex", open ? "0" : "-1");
      panels[place].hidden = !open;
    });
    tools.hidden = name !== "working";
    if (turned) root.scrollTop = scrolled[name] ?? 0;
  }

  /** @param {Tab} name */
  function choose(name) {
    show(name);
    opened(name);
  }

  list.addEventListener("keydown", (event) => {
    const at = TABS.findIndex(([name]) => name === current);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: TABS.length - 1 }[event.key];
    if (to === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const place = (to + TABS.length) % TABS.length;
    choose(TABS[place][0]);
    buttons[place].focus();
  });
  show(current);

  return {
    tools,
    choose,
    get tab() {
      return current;
    },
    /** Puts the focus on the open tab. */
    focus() {
      buttons[TABS.findIndex(([name]) => name === current)].focus({ preventScroll: true });
    },
  };
}
