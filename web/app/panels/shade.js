/** Light, dark, or as the system has it. */

import { make } from "../dom.js";

const KEPT_UNDER = "steelyard-shade";
const SHADES = /** @type {const} */ ([
  ["light", "Light"],
  ["dark", "Dark"],
  ["auto", "As the system"],
]);

function kept() {
  try {
    return localStorage.getItem(KEPT_UNDER) ?? "auto";
  } catch {
    return "auto";
  }
}

/** @param {string} shade */
function choose(shade) {
  try {
    localStorage.setItem(KEPT_UNDER, shade);
  } catch {
    // It holds until the page is closed.
  }
  show(shade);
}

/** @param {string} shade */
function show(shade) {
  const dark = shade === "dark" || (shade !== "light" && matchMedia("(prefers-color-scheme: dark)").matches);
  document.documentElement.dataset.shade = dark ? "dark" : "light";
}

/** Follow the system while nothing else is chosen. */
export function followSystem() {
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => show(kept()));
}

/** @returns {HTMLElement} a row of choices for a menu */
export function shadeChoice() {
  const now = kept();
  const row = make("fieldset", { class: "shades" }, make("legend", { text: "Shade" }));
  for (const [shade, label] of SHADES) {
    const input = make("input", { type: "radio", name: "shade", id: `shade-${shade}`, value: shade, onchange: () => choose(shade) });
    input.checked = shade === now;
    row.append(make("span", {}, input, make("label", { for: `shade-${shade}`, text: label })));
  }
  return row;
}
