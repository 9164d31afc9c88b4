/** The bar at the foot of a phone: what the hand needs most. */

import { make, put } from "../dom.js";
import { VIEWS } from "./header.js";
import { icon } from "./icons.js";
import { createMenu } from "./menu.js";

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 * @param {{tray: () => void, pivot: () => void, side: () => void}} calls
 * @param {HTMLElement} look buttons for looking around
 */
export function createDock(root, state, calls, look) {
  /** @param {string} name @param {string} label @param {(() => void)|null} run */
  const entry = (name, label, run) => make("button", { type: "button", class: "dock-button", onclick: run ?? (() => {}) }, icon(name), make("span", { text: label }));
  const add = entry("add", "Add", calls.tray);
  const pivot = entry("pivot", "Pivot", calls.pivot);
  const undo = entry("undo", "Undo", () => void state.ask({ do: "undo" }));
  const views = entry("view-extended", "Views", null);
  const working = entry("readings", "Working", calls.side);
  const menu = createMenu(views, () => [
    ...VIEWS.map(([view, label]) => ({ label, icon: `view-${view}`, pressed: () => state.reply?.view === view, run: () => void state.show(view) })),
    look,
  ]);
  root.append(add, pivot, undo, views, working, menu);
  put(add, "aria-controls", "tray");
  put(working, "aria-controls", "side");
  return {
    /** @param {import("../protocol.js").Panels} panels */
    update(panels) {
      undo.disabled = !panels.history.undo;
      pivot.disabled = panels.empty;
    },
    /** @param {"tray"|"side"|""} open */
    show(open) {
      put(add, "aria-expanded", String(open === "tray"));
      put(working, "aria-expanded", String(open === "side"));
    },
  };
}
