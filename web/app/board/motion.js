/**
 * Arrows that travel: from their points to the dot or the chain, and back, when the view changes.
 *
 * The painter writes the new picture first, so the end is exactly what was sent; on the way there only numbers
 * are put between those of before and those of now, record by record. Anything that happens ends it at once.
 */

/** @typedef {import("../protocol.js").Picture} Picture */
/** @typedef {import("../protocol.js").PictureRecord} PictureRecord */
/** @typedef {{element: SVGElement, name: string, pieces: string[], from: number[], to: number[], end: string}} Track */

const LASTS_MS = 400;
const NUMBER = /-?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?/gi;
const MOVED = ["d", "cx", "cy", "r", "x", "y"];
const ALONE = new Set(["point", "polygon"]);

export class Motion {
  /** @param {import("./painter.js").Painter} painter */
  constructor(painter) {
    this.painter = painter;
    this.view = "";
    /** @type {Track[]} */
    this.tracks = [];
    /** @type {SVGElement[]} what was not there before comes up out of the paper */
    this.rising = [];
    this.frame = 0;
    this.started = 0;
    this.calm = matchMedia("(prefers-reduced-motion: reduce)");
  }

  get moving() {
    return this.frame !== 0;
  }

  /** Paint a picture, on the way if the view is another one. @param {Picture} picture @param {string} view @param {boolean} still whether it is to be there at once */
  paint(picture, view, still) {
    this.finish();
    const before = this.view;
    this.view = view;
    const travels = !still && before !== "" && before !== view && (ALONE.has(before) || ALONE.has(view));
    if (!travels || this.calm.matches || document.hidden) {
      this.painter.paint(picture);
      return;
    }
    /** @type {Map<string, PictureRecord>} */
    const old = new Map();
    for (const [id, { record }] of this.painter.painted) old.set(id, record);
    this.painter.paint(picture);
    for (const record of picture.records) this.follow(old.get(record.id), record);
    if (this.tracks.length === 0 && this.rising.length === 0) return;
    this.started = 0;
    this.show(0);
    this.painter.svg.setAttribute("data-moving", "true");
    this.frame = requestAnimationFrame((now) => this.step(now));
  }

  /** @param {PictureRecord|undefined} before @param {PictureRecord} after */
  follow(before, after) {
    if (after.layer === "edge" || after.layer === "overlay" || after.shown === "lit") return;
    const element = this.painter.painted.get(after.id)?.element;
    if (!element) return;
    if (!before || before.tag !== after.tag || before.shown === "lit") {
      this.rising.push(element);
      return;
    }
    for (const name of MOVED) {
      const [from, to] = [before.attrs[name], after.attrs[name]];
      if (from === undefined || to === undefined || from === to) continue;
      const track = between(from, to);
      if (track) this.tracks.push({ element, name, end: to, ...track });
    }
  }

  /** @param {number} now */
  step(now) {
    if (this.started === 0) this.started = now;
    const part = (now - this.started) / LASTS_MS;
    if (part >= 1) {
      this.finish();
      return;
    }
    this.show(part);
    this.frame = requestAnimationFrame((later) => this.step(later));
  }

  /** @param {number} part of the time, from 0 to 1 */
  show(part) {
    const eased = part < 0.5 ? 4 * part ** 3 : 1 - (2 - 2 * part) ** 3 / 2;
    for (const { element, name, pieces, from, to } of this.tracks) {
      let text = pieces[0];
      for (let index = 0; index < to.length; index += 1) {
        text += Math.round((from[index] + (to[index] - from[index]) * eased) * 100) / 100 + pieces[index + 1];
      }
      element.setAttribute(name, text);
    }
    for (const element of this.rising) element.setAttribute("opacity", String(Math.round(eased * 100) / 100));
  }

  /** Be there at once: every record as it was sent. */
  finish() {
    if (this.frame) cancelAnimationFrame(this.frame);
    this.frame = 0;
    for (const { element, name, end } of this.tracks) element.setAttribute(name, end);
    for (const element of this.rising) element.removeAttribute("opacity");
    this.tracks = [];
    this.rising = [];
    this.painter.svg.removeAttribute("data-moving");
  }
}

/**
 * The numbers of two texts that differ in nothing else; null for texts of different shapes.
 * @param {string} from @param {string} to
 */
export function between(from, to) {
  const pieces = to.split(NUMBER);
  if (pieces.join("0") !== from.split(NUMBER).join("0")) return null;
  const [start, end] = [from, to].map((text) => (text.match(NUMBER) ?? []).map(Number));
  // The flags of an arc are numbers too, but there is nothing between them.
  const flagged = /a/i.test(to) && end.some((value, index) => value !== start[index] && [0, 1].includes(value) && [0, 1].includes(start[index]));
  return flagged ? null : { pieces, from: start, to: end };
}
