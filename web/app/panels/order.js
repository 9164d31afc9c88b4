/** The user's own order of the sums; what it leaves open the tool orders itself. */

import { make, put, reconcile, say } from "../dom.js";
import { createMenu } from "./menu.js";

/** @typedef {import("../protocol.js").FirstSum} FirstSum */

/** @param {(order: string[]) => void} choose */
export function createOrder(choose) {
  /** @type {FirstSum[]} */
  let sums = [];
  const chosen = () => sums.filter(({ place }) => place > 0).sort((a, b) => a.place - b.place).map(({ key }) => key);
  const list = make("div", { class: "order-list" });
  const shortest = make("button", { type: "button", class: "menu-item", text: "The shortest way", onclick: () => choose([]) });
  const button = make("button", { type: "button", class: "quiet-button", text: "Order" });
  const menu = createMenu(button, () => [make("p", { class: "menu-words", text: "Which sum first? Press them in your order." }), list, shortest]);
  put(menu, "aria-label", "Order of the sums");
  const element = make("div", { class: "foot-menu" }, button, menu);

  return {
    element,
    /** @param {FirstSum[]} data none: there is nothing to order */
    update(data) {
      sums = data;
      element.hidden = data.length === 0;
      reconcile(
        list,
        data,
        ({ key }) => key,
        ({ key }) => make("button", { type: "button", class: "menu-item", onclick: () => toggle(key) }, make("span", { class: "order-place" }), make("span")),
        (row, { text, place }) => {
          put(row, "aria-pressed", String(place > 0));
          say(row.children[0], place > 0 ? String(place) : "");
          say(row.children[1], text);
          put(row, "aria-label", place > 0 ? `${text}, number ${place}` : text);
        },
      );
      put(shortest, "aria-pressed", String(chosen().length === 0));
    },
  };

  /** @param {string} key */
  function toggle(key) {
    const now = chosen();
    choose(now.includes(key) ? now.filter((each) => each !== key) : [...now, key]);
  }
}
