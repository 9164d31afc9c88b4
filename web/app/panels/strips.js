/** The strips: the three sums, painted from the reply beside the verdict. */

import { draw, make } from "../dom.js";

/**
 * @param {HTMLElement} root
 * @param {(svg: SVGSVGElement) => {paint: (picture: import("../protocol.js").Picture) => void}} paintOn
 * @param {import("../state.js").State} state
 */
export function createStrips(root, paintOn, state) {
  const svg = draw("svg", { class: "strips", role: "graphics-document document", "aria-label": "Sums of forces and torques" });
  const holder = make("div", { class: "strips-room" });
  holder.append(svg);
  root.append(holder);
  const painter = paintOn(svg);
  svg.addEventListener("click", (event) => {
    const of = event.target instanceof Element ? event.target.closest("[data-of]")?.getAttribute("data-of") : null;
    if (of) void state.select(of);
  });
  return {
    /** @param {import("../protocol.js").Picture} picture */
    update(picture) {
      painter.paint(picture);
      svg.style.height = `${picture.height}px`;
    },
    get width() {
      return holder.clientWidth;
    },
  };
}
