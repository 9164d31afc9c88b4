/** The reading above a finger, and the short reason beside a grip that cannot move. */

import { make, say } from "../dom.js";

const ABOVE_FINGER_PX = 56;
const BESIDE_MOUSE_PX = 22;
const EDGE_PX = 8;

export class Bubble {
  /** @param {HTMLElement} host positioned like the sheet */
  constructor(host) {
    this.host = host;
    this.element = make("div", { class: "bubble", hidden: true, "aria-hidden": "true" });
    host.append(this.element);
  }

  /** @param {string} text @param {[number, number]} at sheet pixels @param {"mouse"|"touch"} kind */
  show(text, at, kind) {
    if (!text) {
      this.hide();
      return;
    }
    say(this.element, text);
    this.element.hidden = false;
    const { offsetWidth: width, offsetHeight: height } = this.element;
    const above = kind === "touch" ? ABOVE_FINGER_PX : BESIDE_MOUSE_PX;
    const left = Math.max(EDGE_PX, Math.min(this.host.clientWidth - width - EDGE_PX, at[0] - width / 2));
    const flipped = at[1] - above - height < EDGE_PX;
    const top = flipped ? at[1] + above : at[1] - above - height;
    this.element.classList.toggle("flipped", flipped);
    this.element.style.transform = `translate(${Math.round(left)}px, ${Math.round(top)}px)`;
    this.element.style.setProperty("--tip", `${Math.round(Math.max(12, Math.min(width - 12, at[0] - left)))}px`);
  }

  hide() {
    this.element.hidden = true;
  }
}
