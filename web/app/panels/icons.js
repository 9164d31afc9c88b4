/** The icons, drawn in the diagram's own pen. Colours come from classes, shapes from here. */

import { draw } from "../dom.js";

/** @typedef {[tag: "path"|"circle", role: string, shape: string]} Stroke shape: path data, or "cx cy r" */

/** @type {Record<string, Stroke[]>} */
const DRAWINGS = {
  bar: [["path", "solid", "M2.5 8.5L26 15l-1.3 4.6L1.2 13.1Z"]],
  "bent-bar": [["path", "solid", "M2 20.5V16.4H16.4V3H20.6V20.5Z"]],
  plate: [
    ["path", "solid", "M3 21L7 4L21 3L27 14L19 22Z"],
    ["circle", "open", "15 12 3"],
  ],
  disc: [
    ["circle", "solid", "15 12.5 10.5"],
    ["path", "fine", "M11.5 12.5h7M15 9v7"],
  ],
  hole: [
    ["path", "fine", "M2.5 21.5L5 4.5L25 3L27.5 20Z"],
    ["circle", "solid", "15 12.3 5.2"],
  ],
  pin: [
    ["path", "solid", "M15 7L7.5 18H22.5Z"],
    ["circle", "open", "15 7 3.2"],
    ["path", "line", "M4 18.5H26M7.5 23.5l3-4.6M13.5 23.5l3-4.6M19.5 23.5l3-4.6"],
  ],
  roller: [
    ["path", "solid", "M15 4L8 14H22Z"],
    ["circle", "open", "11 17 2.7"],
    ["circle", "open", "19 17 2.7"],
    ["path", "line", "M4 20.6H26"],
  ],
  rope: [
    ["path", "line", "M6 23L23 5"],
    ["path", "fine", "M8.5 18.5l3 2.6M12.7 14l3 2.6M17 9.5l3 2.6"],
    ["circle", "open", "24 4 2.6"],
    ["circle", "dot", "5.5 23 2"],
  ],
  strut: [
    ["path", "solid", "M7.2 20.8L22.6 8.5l-2.3-2.9L4.9 17.9Z"],
    ["circle", "open", "6 19.5 3"],
    ["circle", "open", "21.7 6.9 3"],
  ],
  contact: [
    ["path", "solid", "M3 5.5L27 9l-.7 4.5L2.3 10Z"],
    ["path", "open", "M15 12L9 22H21Z"],
  ],
  friction: [
    ["path", "unknown", "M3 6.2H18V2.5L27.5 8L18 13.5V9.8H3Z"],
    ["path", "line", "M2 20.5l3.5-4l3.5 4l3.5-4l3.5 4l3.5-4l3.5 4l3.5-4l1.5 2"],
  ],
  face: [
    ["path", "solid", "M8 3.5H22V16H8Z"],
    ["path", "line", "M2 17H28M6 22.5l3.4-4.8M12.5 22.5l3.4-4.8M19 22.5l3.4-4.8"],
  ],
  fixed: [
    ["path", "solid", "M9 9.5H28V15.5H9Z"],
    ["path", "line", "M9 2V23M9 5l-5 4M9 10.5l-5 4M9 16l-5 4M9 21.5l-4 3"],
  ],
  force: [["path", "known", "M4.3 21.7L20 6.5l-2.6-2.8L27.5 1.5L24 11.3L22 9L6.7 24.2Z"]],
  weight: [["path", "known", "M13.4 2H16.6V14H20.6L15 24L9.4 14H13.4Z"]],
  couple: [
    ["path", "turn", "M8 20A9.5 9.5 0 1 1 23.5 18"],
    ["path", "turn-head", "M20.3 23.2L28 17l-8-2.7Z"],
  ],
  thing: [
    ["path", "open", "M10.5 5.5H19.5V14.5H10.5Z"],
    ["path", "solid", "M3 14.5H27V18.5H3Z"],
  ],
  spread: [
    ["path", "solid", "M2 19H28V23H2Z"],
    ["path", "known", "M3 9H27V10.6H3Z"],
    ["path", "known", "M4.2 10H5.8V14H7.6L5 18.5L2.4 14H4.2ZM14.2 10H15.8V14H17.6L15 18.5L12.4 14H14.2ZM24.2 10H25.8V14H27.6L25 18.5L22.4 14H24.2Z"],
  ],
  length: [["path", "line", "M3 5V21M27 5V21M4 13H26M8.5 10L4 13l4.5 3M21.5 10l4.5 3l-4.5 3"]],
  angle: [
    ["path", "line", "M26 22H4L23 5"],
    ["path", "turn", "M18.5 22a14.5 14.5 0 0 0-3.6-9.6"],
  ],
  slope: [
    ["path", "solid", "M4 20L25 6V20Z"],
    ["path", "fine", "M20.5 20v-4.5H25"],
  ],
  label: [
    ["path", "line", "M9 21L15.5 4.5H16.5L23 21M11.5 15.5H20.5"],
    ["circle", "dot", "4 21 2"],
  ],
  point: [
    ["circle", "dot", "15 13 3"],
    ["path", "fine", "M15 4V7M15 19V22M6 13H9M21 13H24"],
  ],
  pivot: [
    ["circle", "turn", "15 13 6"],
    ["path", "turn", "M4 13h5M21 13h5M15 2v5M15 19v5"],
  ],
  undo: [["path", "line", "M11 6L5 11.5l6 5.5M5.5 11.5H18a5.5 5.5 0 0 1 0 11H14"]],
  redo: [["path", "line", "M19 6l6 5.5l-6 5.5M24.5 11.5H12a5.5 5.5 0 0 0 0 11H16"]],
  add: [["path", "line", "M15 4V22M6 13H24"]],
  nearer: [["path", "line", "M15 6V20M8 13H22"]],
  farther: [["path", "line", "M8 13H22"]],
  fit: [["path", "line", "M7 10V5H12M18 5H23V10M23 16V21H18M12 21H7V16"]],
  shift: [["path", "line", "M15 4V22M6 13H24M12 7l3-3l3 3M12 19l3 3l3-3M9 10l-3 3l3 3M21 10l3 3l-3 3"]],
  up: [["path", "line", "M9 16L15 9L21 16"]],
  down: [["path", "line", "M9 10L15 17L21 10"]],
  left: [["path", "line", "M18 7L11 13L18 19"]],
  right: [["path", "line", "M12 7L19 13L12 19"]],
  "view-set-up": [
    ["path", "solid", "M2 6L27 11l-.8 4L1.2 10Z"],
    ["path", "line", "M9 12.5L4.5 20H13.5Z"],
  ],
  "view-extended": [
    ["path", "solid", "M2 14L27 18l-.8 4L1.2 18Z"],
    ["path", "line", "M20 18V4M16.5 8.5L20 3.6L23.5 8.5"],
  ],
  "view-point": [
    ["path", "line", "M15 15V3.5M11.8 7.2L15 3.2L18.2 7.2M15 15L5.5 21M9.8 20.6L5 21.3L6.6 16.8M15 15L24.5 21M20.2 20.6L25 21.3L23.4 16.8"],
    ["circle", "dot", "15 15 2.6"],
  ],
  "view-polygon": [
    ["path", "line", "M7 4.5V21M3.8 17.4L7 21.4L10.2 17.4M7 21.4L24.5 15M20.6 13.2L25 14.8L22.4 18.7M25 14.8L8 4.5M12.9 4.6L7.6 4.2L9.9 8.8"],
  ],
  more: [
    ["circle", "dot", "7 13 2.2"],
    ["circle", "dot", "15 13 2.2"],
    ["circle", "dot", "23 13 2.2"],
  ],
  readings: [["path", "line", "M6 5H24M6 11H24M6 17H16"]],
  close: [["path", "line", "M9 7L21 19M21 7L9 19"]],
  check: [["path", "line", "M6 13L12 19L24 6"]],
  copy: [
    ["path", "open", "M6 4H18V17H6Z"],
    ["path", "open", "M11 9H23V22H11Z"],
  ],
  remove: [["path", "line", "M6 7H24M12 7V4H18V7M8.5 7L9.5 22H20.5L21.5 7M13 11V18M17 11V18"]],
};

/** @param {string} name @param {string} [role] replaces the roles of the drawing, e.g. for an unknown arrow */
export function icon(name, role = "") {
  const svg = draw("svg", { class: `icon ${role}`.trim(), viewBox: "0 0 30 26", width: 30, height: 26, "aria-hidden": "true", focusable: "false" });
  for (const [tag, stroke, shape] of DRAWINGS[name] ?? []) {
    if (tag === "path") svg.append(draw("path", { class: `pen-${stroke}`, d: shape }));
    else {
      const [cx, cy, r] = shape.split(" ");
      svg.append(draw("circle", { class: `pen-${stroke}`, cx, cy, r }));
    }
  }
  return svg;
}

/** The mark: a bar on its pivot, a pan on the short arm, a weight on the graduated long one. */
export function mark() {
  const svg = draw("svg", { class: "icon mark-icon", viewBox: "0 0 34 22", width: 34, height: 22, "aria-hidden": "true", focusable: "false" });
  svg.append(
    draw("path", { class: "pen-bold", d: "M2 8.5H32" }),
    draw("path", { class: "pen-fine", d: "M14 5.5v6M18 6.5v4M22 6.5v4M26 6.5v4M30 6.5v4M4 8.5V13" }),
    draw("path", { class: "pen-line", d: "M9.5 8.5V2" }),
    draw("circle", { class: "pen-open", cx: 9.5, cy: 2.6, r: 1.8 }),
    draw("path", { class: "pen-dot", d: "M.5 13.5A3.6 4.5 0 0 0 7.6 13.5Z" }),
    draw("path", { class: "pen-turn", d: "M26 8.5v4.5" }),
    draw("circle", { class: "pen-turn-head", cx: 26, cy: 16, r: 3.4 }),
  );
  return svg;
}
