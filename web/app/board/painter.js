/**
 * Paints a display list into an SVG by patching: elements are kept by id and only what changed is
 * written. Layers fix what lies over what.
 */

import { draw, put } from "../dom.js";

/** @typedef {import("../protocol.js").Picture} Picture */
/** @typedef {import("../protocol.js").PictureRecord} PictureRecord */

/** @type {import("../protocol.js").Layer[]} */
const LAYERS = ["edge", "ground", "body", "construct", "force", "pivot", "label", "overlay"];

/** @typedef {{element: SVGElement, record: PictureRecord, attrs: string, runs: string}} Painted */

export class Painter {
  /**
   * @param {SVGSVGElement} svg
   * @param {string} prefix makes ids unique where several pictures share a page
   */
  constructor(svg, prefix) {
    this.svg = svg;
    this.prefix = prefix;
    /** @type {Map<string, Painted>} */
    this.painted = new Map();
    /** @type {Map<string, SVGGElement>} */
    this.layers = new Map();
    for (const name of LAYERS) {
      const layer = draw("g", { class: `layer layer-${name}` });
      this.layers.set(name, layer);
      svg.append(layer);
    }
  }

  /** @param {string} id of a record @returns {string} id of its element */
  elementId(id) {
    return `${this.prefix}-${id}`;
  }

  /** @param {Picture} picture */
  paint(picture) {
    put(this.svg, "viewBox", `0 0 ${picture.width} ${picture.height}`);
    const wanted = new Map(picture.records.map((record) => [record.id, record]));
    for (const [id, { element, record }] of this.painted) {
      const next = wanted.get(id);
      if (next && next.tag === record.tag && next.layer === record.layer) continue;
      element.remove();
      this.painted.delete(id);
    }
    /** @type {Map<string, Element|null>} */
    const cursors = new Map();
    for (const [name, layer] of this.layers) cursors.set(name, layer.firstElementChild);
    for (const record of picture.records) {
      const element = this.write(record);
      const layer = this.layers.get(record.layer);
      if (!layer) continue;
      const cursor = cursors.get(record.layer) ?? null;
      if (element === cursor) cursors.set(record.layer, cursor.nextElementSibling);
      else layer.insertBefore(element, cursor);
    }
  }

  /** @param {PictureRecord} record @returns {SVGElement} */
  write(record) {
    let painted = this.painted.get(record.id);
    if (painted?.record === record) return painted.element;
    if (!painted) {
      const element = draw(record.tag, { id: this.elementId(record.id) });
      painted = { element, record: { ...record, attrs: {}, role: "", name: "?", of: "", shown: undefined }, attrs: "", runs: "" };
      this.painted.set(record.id, painted);
    }
    const { element, record: before } = painted;
    if (before.role !== record.role || before.shown !== record.shown) {
      const lit = element.classList.contains("lit") ? " lit" : "";
      element.setAttribute("class", `sy-${record.role}${record.shown === "lit" ? " of-lit" : ""}${lit}`);
    }
    if (before.of !== record.of) put(element, "data-of", record.of || null);
    if (before.name !== record.name) nameElement(element, record.name ?? "");
    writeAttributes(element, before.attrs, record.attrs);
    const runs = record.runs ? JSON.stringify(record.runs) : "";
    if (runs !== painted.runs) {
      writeRuns(element, record.runs ?? []);
      painted.runs = runs;
    }
    painted.record = record;
    return element;
  }

  /** @param {string} of @returns {string|null} id of the element that speaks for a thing */
  spokesman(of) {
    for (const { record, element } of this.painted.values()) {
      if (record.of === of && record.name && record.shown !== "lit") return element.id;
    }
    return null;
  }
}

/** @param {SVGElement} element @param {Record<string, string>} before @param {Record<string, string>} after */
function writeAttributes(element, before, after) {
  for (const name of Object.keys(before)) if (!(name in after)) element.removeAttribute(name);
  for (const [name, value] of Object.entries(after)) if (before[name] !== value) element.setAttribute(name, value);
}

/** @param {SVGElement} element @param {import("../protocol.js").Run[]} runs */
function writeRuns(element, runs) {
  element.replaceChildren(
    ...runs.map((run) => {
      const span = draw("tspan", { class: `sy-${run.role}` });
      if (run.dx) span.setAttribute("dx", String(run.dx));
      if (run.dy) span.setAttribute("dy", String(run.dy));
      span.textContent = run.text;
      return span;
    }),
  );
}

/** @param {SVGElement} element @param {string} name */
function nameElement(element, name) {
  put(element, "role", name ? "graphics-symbol img" : null);
  put(element, "aria-label", name || null);
  put(element, "aria-hidden", name ? null : "true");
}
