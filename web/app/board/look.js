/**
 * Moving the window on the paper. The drawn figure follows the hand at once as a plain transform; the
 * engine lays it out anew within a tenth of a second.
 */

/** @typedef {(message: import("../protocol.js").Message) => Promise<any>} Ask */

const LAYOUT_EVERY_MS = 80;

export class Look {
  /** @param {SVGSVGElement} svg @param {Ask} ask */
  constructor(svg, ask) {
    this.svg = svg;
    this.ask = ask;
    this.zoom = 1;
    this.shift = [0, 0];
    this.busy = false;
    // Where the small body stands beside the forces, only a part of the figure follows the hand: it waits to be laid out.
    this.still = false;
    this.timer = 0;
    this.fits = 0;
  }

  /** @param {number} dx @param {number} dy in sheet pixels */
  pan(dx, dy) {
    this.shift = [this.shift[0] + dx, this.shift[1] + dy];
    this.later();
  }

  /** @param {number} factor @param {[number, number]} at in sheet pixels */
  zoomAt(factor, at) {
    this.zoom *= factor;
    this.shift = [at[0] + factor * (this.shift[0] - at[0]), at[1] + factor * (this.shift[1] - at[1])];
    this.later();
  }

  fit() {
    // What was still to be laid out of the old look has no place in the new one.
    window.clearTimeout(this.timer);
    this.timer = 0;
    this.fits += 1;
    this.zoom = 1;
    this.shift = [0, 0];
    this.transform();
    return this.ask({ do: "look", fit: true });
  }

  later() {
    this.transform();
    if (!this.busy && !this.timer) this.timer = window.setTimeout(() => void this.lay(), LAYOUT_EVERY_MS);
  }

  /** Ask for the picture where the hand has put it; what moves meanwhile stays a transform. */
  async lay() {
    window.clearTimeout(this.timer);
    this.timer = 0;
    if (this.busy) return;
    this.busy = true;
    const { zoom, fits } = this;
    if (zoom !== 1) {
      await this.ask({ do: "look", zoom, at_px: [0, 0] });
      // Painted in this very task: taking the laid part out of the transform now shows it once.
      if (fits === this.fits) this.zoom /= zoom;
      this.transform();
    }
    const { shift } = this;
    if (shift[0] !== 0 || shift[1] !== 0) {
      await this.ask({ do: "look", pan_px: shift });
      if (fits === this.fits) this.shift = [this.shift[0] - this.zoom * shift[0], this.shift[1] - this.zoom * shift[1]];
      this.transform();
    }
    this.busy = false;
    if (this.moved) this.later();
  }

  get moved() {
    return Math.abs(this.zoom - 1) > 1e-9 || Math.hypot(...this.shift) > 1e-6;
  }

  transform() {
    if (!this.moved) [this.zoom, this.shift] = [1, [0, 0]];
    const { zoom, shift } = this;
    const figure = `translate(${shift[0]} ${shift[1]}) scale(${zoom})`;
    for (const layer of this.svg.querySelectorAll(":scope > .layer")) {
      if (layer.classList.contains("layer-edge")) continue;
      if (!this.moved || this.still) layer.removeAttribute("transform");
      else layer.setAttribute("transform", figure);
    }
  }
}
