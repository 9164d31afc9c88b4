/** The list of everything at one point, for crowded joints: a long press or a right click opens it. */

import { make } from "../dom.js";

export class ThingsHere {
  /** @param {HTMLElement} desk @param {import("../state.js").State} state */
  constructor(desk, state) {
    this.state = state;
    this.desk = desk;
    this.element = make("ul", { class: "things-here", role: "listbox", "aria-label": "What is here", hidden: true });
    desk.after(this.element);
    this.element.addEventListener("keydown", (event) => this.key(event));
    this.element.addEventListener("focusout", (event) => {
      if (!(event.relatedTarget instanceof Node && this.element.contains(event.relatedTarget))) this.close();
    });
  }

  /** @param {[number, number]} point in sheet pixels */
  async open(point) {
    const reply = await this.state.ask({ do: "here", point_px: point, catch_px: 14 });
    /** @type {Array<{of: string, name: string, command?: {name: string, args: Record<string, unknown>}}>} */
    const here = reply.ok ? reply.here ?? [] : [];
    const things = here.filter((thing, index) => thing.command || here.findIndex((other) => other.of === thing.of) === index);
    if (things.length === 0) return;
    this.element.replaceChildren(
      ...things.map((thing) =>
        make("li", {
          role: "option",
          tabindex: "-1",
          "data-of": thing.of,
          "aria-selected": String(!thing.command && thing.of === this.state.selected),
          text: thing.name,
          onclick: () => (thing.command ? this.give(thing.command) : this.choose(thing.of)),
        }),
      ),
    );
    this.element.hidden = false;
    const room = this.desk.getBoundingClientRect();
    const left = Math.max(4, Math.min(point[0], room.width - this.element.offsetWidth - 4));
    const top = Math.max(4, Math.min(point[1], room.height - this.element.offsetHeight - 4));
    this.element.style.transform = `translate(${Math.round(left)}px, ${Math.round(top)}px)`;
    /** @type {HTMLElement|null} */ (this.element.firstElementChild)?.focus();
  }

  /** @param {string} of */
  choose(of) {
    this.close();
    void this.state.select(of);
  }

  /** @param {{name: string, args: Record<string, unknown>}} command */
  give({ name, args }) {
    this.close();
    void this.state.command(name, args);
  }

  /** @returns {boolean} whether it was open */
  close() {
    if (this.element.hidden) return false;
    const inside = this.element.contains(document.activeElement);
    this.element.hidden = true;
    this.state.focus("");
    if (inside) this.desk.focus({ preventScroll: true });
    return true;
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    const items = /** @type {HTMLElement[]} */ ([...this.element.children]);
    const index = items.indexOf(/** @type {HTMLElement} */ (document.activeElement));
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key] ?? 0;
    if (step) items[(index + step + items.length) % items.length]?.focus();
    else if (event.key === "Enter" || event.key === " ") items[index]?.click();
    else if (event.key === "Escape") this.close();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }
}
