/** The outline of a body on its way, drawn over the sheet: one path, moved as a whole. */

import { draw, put } from "../dom.js";

export class Ghost {
  /** @param {SVGSVGElement} svg */
  constructor(svg) {
    this.path = draw("path", { class: "sy-let-go", "aria-hidden": "true", id: "let-go-ghost" });
    svg.append(draw("g", { class: "layer-ghost" }, this.path));
    this.clear();
  }

  /** @param {string} path @param {string} transform */
  show(path, transform) {
    put(this.path, "d", path);
    put(this.path, "transform", transform);
  }

  clear() {
    put(this.path, "d", null);
    put(this.path, "transform", null);
  }
}
