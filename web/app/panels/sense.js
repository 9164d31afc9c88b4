/** The positive sense of a sum as a small drawing: an arrow along an axis, or one that turns. */

import { draw } from "../dom.js";

const TURN = "M4.6 12.6A6 6 0 1 1 12.2 13.6";
const TURN_HEAD = "M15.6 15.6L9.4 16.4L11.4 10.8Z";
const AXIS = "M2 9H13";
const AXIS_HEAD = "M11 5L18 9L11 13Z";

/**
 * @param {import("../protocol.js").Sense} sense
 * @returns {SVGSVGElement}
 */
export function senseIcon(sense) {
  // The drawing turns as the board does: angles counterclockwise, y down.
  const placed = sense.kind === "axis" ? `rotate(${-sense.angle_deg} 9 9)` : sense.turn > 0 ? "matrix(-1 0 0 1 18 0)" : "matrix(1 0 0 1 0 0)";
  const arrow = draw(
    "g",
    { transform: placed },
    draw("path", { class: "pen-sense", d: sense.kind === "axis" ? AXIS : TURN }),
    draw("path", { class: "pen-sense-head", d: sense.kind === "axis" ? AXIS_HEAD : TURN_HEAD }),
  );
  const plus = draw("path", { class: "pen-sense", d: "M22 9H28M25 6V12" });
  return draw("svg", { class: "sense", viewBox: "0 0 30 18", width: 30, height: 18, role: "img", "aria-label": `positive ${sense.words}` }, arrow, plus);
}
