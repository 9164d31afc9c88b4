/** The outlines of bodies on their way, drawn over the sheet: one path each, moved as a whole. */

import { draw, put } from "../dom.js";

export class Ghost {
  /** @param {SVGSVGElement} svg */
  constructor(svg) {
    this.layer = draw("g", { class: "layer-ghost", "aria-hidden": "true", id: "let-go-ghost" });
    svg.append(this.layer);
  }

  /** @param {{path: string, transform: string}[]} outlines */
  show(outlines) {
    while (this.layer.children.length > outlines.length) this.layer.lastElementChild?.remove();
    outlines.forEach(({ path, transform }, index) => {
      const outline = this.layer.children[index] ?? this.layer.appendChild(draw("path", { class: "sy-let-go" }));
      put(outline, "d", path);
      put(outline, "transform", transform);
    });
  }

  clear() {
    this.layer.replaceChildren();
  }
}
