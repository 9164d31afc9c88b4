/** The order in which the forces are laid head to tail, in the line under the board: buttons and arrow keys change it. */

import { make, put, reconcile, sayWords } from "../dom.js";
import { icon } from "./icons.js";

/** @typedef {import("../protocol.js").ChainForce} ChainForce */

/**
 * @param {HTMLElement} root the line under the board
 * @param {import("../state.js").State} state
 * @param {{say: (words: string) => void}} calls
 */
export function createChain(root, state, calls) {
  const earlier = mover("left", "Earlier in the chain", -1);
  const later = mover("right", "Later in the chain", 1);
  const list = make("span", { class: "chain-forces" });
  const element = make("div", { class: "chain", role: "group", "aria-label": "Order of the forces", hidden: true }, make("span", { class: "chain-word quiet", text: "order" }), earlier, list, later);
  root.querySelector(".who")?.after(element);
  /** @type {ChainForce[]} */
  let forces = [];

  /** @param {string} name @param {string} words @param {number} step */
  function mover(name, words, step) {
    const button = make("button", { type: "button", class: "chain-move", title: words, onclick: () => move(state.selected ?? "", step) });
    button.append(icon(name), make("span", { class: "unseen", text: words }));
    return button;
  }

  /** @param {string} id @param {number} step */
  function move(id, step) {
    const ids = forces.map((force) => force.id);
    const at = ids.indexOf(id);
    const to = at + step;
    if (at < 0 || to < 0 || to >= ids.length) return;
    ids.splice(to, 0, ...ids.splice(at, 1));
    void state.command("order", { ids }).then((reply) => {
      if (!reply.ok) return;
      const now = forces.find((force) => force.id === id);
      if (now) calls.say(now.spoken);
    });
  }

  /** @param {ChainForce} force */
  function chip({ id }) {
    const button = make("button", { type: "button", class: "chain-force", "data-of": id, onclick: () => void state.select(id) });
    button.addEventListener("keydown", (event) => {
      const step = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[event.key];
      if (!step || event.altKey || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      event.stopPropagation();
      move(id, step);
    });
    return button;
  }

  return {
    /** @param {import("../protocol.js").Chain|null|undefined} chain @param {string} view @param {string|null} selected */
    update(chain, view, selected) {
      forces = chain?.forces ?? [];
      element.hidden = view !== "polygon" || forces.length < 2;
      root.classList.toggle("chained", !element.hidden);
      if (element.hidden) return;
      const focused = list.contains(document.activeElement) ? document.activeElement : null;
      reconcile(list, forces, (force) => force.id, chip, (button, force) => {
        sayWords(button, force.symbol);
        put(button, "class", `chain-force chain-${force.role}${button.classList.contains("lit") ? " lit" : ""}`);
        put(button, "aria-pressed", String(force.id === selected));
        put(button, "aria-label", force.spoken);
        put(button, "title", "Arrow keys move it along the chain");
      });
      if (focused instanceof HTMLElement && focused.isConnected) focused.focus({ preventScroll: true });
      const at = forces.findIndex((force) => force.id === selected);
      earlier.disabled = at < 1;
      later.disabled = at < 0 || at === forces.length - 1;
    },
  };
}
