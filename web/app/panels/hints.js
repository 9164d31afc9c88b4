/** Hints for the first half minute: one at a time, on the thing itself, each gone once done. */

import { make, say } from "../dom.js";
import { icon } from "./icons.js";

/** @typedef {import("../protocol.js").Hint} Hint */
/** @typedef {import("../protocol.js").Target} Target */

const KEPT_UNDER = "steelyard-hints-done";
const BESIDE_PX = 18;
const EDGE_PX = 6;
// On a lower board a hint hides more than it tells.
const LEAST_HEIGHT_PX = 300;
// Where along itself a hint may stand over what it points at, the middle first.
const SLIDES = [0.5, 0.3, 0.7, 0.12, 0.88];
// What hiding costs: a spot of what it speaks of, a line of words, a grip, a spot of a stroke (there are several along one).
const [OWN, WORDS, GRIP, STROKE] = [40, 10, 6, 1];
const SPOT_PX = 12;

/** @param {HTMLElement} root positioned like the sheet */
export function createHints(root) {
  const words = make("span");
  const close = make("button", { type: "button", class: "hint-close" }, icon("close"), make("span", { class: "unseen", text: "No more hints" }));
  const bubble = make("div", { class: "hint", hidden: true }, words, close);
  root.append(bubble);
  const done = new Set(recall());
  /** @type {Hint[]} */
  let hints = [];
  close.addEventListener("click", () => {
    for (const hint of hints) done.add(hint.key);
    remember(done);
    bubble.hidden = true;
  });

  /** @param {Target[]} targets @param {Hint} hint */
  function place(targets, hint) {
    const own = targets.filter((target) => target.of === hint.of && !target.selected_only);
    const target = own.find((each) => each.grip === hint.grip) ?? own[0];
    if (!target) return null;
    const points = target.shape === "line" ? target.points_px : target.points_px.slice(0, 1);
    return /** @type {[number, number]} */ ([0, 1].map((axis) => points.reduce((sum, point) => sum + point[axis], 0) / points.length));
  }

  return {
    /** @param {import("../protocol.js").StateReply} reply @param {boolean} quiet while a tool is in hand or something moves */
    update(reply, quiet) {
      if (reply.panels.hints) ({ hints } = reply.panels);
      const hint = hints.find(({ key }) => !done.has(key));
      const roomy = reply.picture.height >= LEAST_HEIGHT_PX;
      const at = hint && roomy && !quiet ? place(reply.picture.targets ?? [], hint) : null;
      bubble.hidden = !hint || !at;
      if (!hint || !at) return;
      say(words, hint.text);
      const { offsetWidth: width, offsetHeight: height } = bubble;
      const room = { width: reply.picture.width, height: reply.picture.height - EDGE_PX * 5 };
      const others = [...labelBoxes(root), ...thingBoxes(reply.picture.targets ?? [], hint.of)];
      let best = { cost: Infinity, left: 0, top: 0, above: false };
      for (const above of [false, true]) {
        const top = above ? at[1] - BESIDE_PX - height : at[1] + BESIDE_PX;
        if (top < EDGE_PX || top + height > room.height) continue;
        for (const slide of SLIDES) {
          const left = Math.max(EDGE_PX, Math.min(room.width - width - EDGE_PX, at[0] - width * slide));
          const cost = others
            .filter(({ x, y, width: w, height: h }) => x < left + width && x + w > left && y < top + height && y + h > top)
            .reduce((sum, { weight }) => sum + weight, 0);
          if (cost < best.cost) best = { cost, left, top, above };
        }
      }
      bubble.hidden = best.cost === Infinity;
      bubble.classList.toggle("above", best.above);
      bubble.style.transform = `translate(${Math.round(best.left)}px, ${Math.round(best.top)}px)`;
      bubble.style.setProperty("--tip", `${Math.round(at[0] - best.left)}px`);
    },
    /** Something was moved ("tap": touched). @param {string} of @param {string} grip */
    did(of, grip) {
      for (const hint of hints) if (hint.of === of && (hint.key.startsWith("touch") || grip !== "tap")) done.add(hint.key);
      remember(done);
    },
  };
}

/** Where words stand on the sheet, so that a hint hides as few as it can. @param {HTMLElement} root */
function labelBoxes(root) {
  const texts = /** @type {SVGTextElement[]} */ ([...root.querySelectorAll(".sheet .layer-label text")]);
  return texts.map((text) => text.getBBox()).filter(({ width }) => width > 0).map(({ x, y, width, height }) => ({ x, y, width, height, weight: WORDS }));
}

/**
 * Grips and arrows on the sheet, which a hint should not lie over either, least of all those it speaks of.
 * @param {Target[]} targets @param {string} own
 */
function thingBoxes(targets, own) {
  return targets.flatMap(({ shape, points_px, of }) => {
    if (of === "" || shape === "area") return [];
    const spots = shape === "dot" ? points_px.slice(0, 1) : points_px.slice(1).flatMap((end, index) => along(points_px[index], end));
    return spots.map(([x, y]) => ({ x: x - 4, y: y - 4, width: 8, height: 8, weight: shape === "dot" ? GRIP : of === own ? OWN : STROKE }));
  });
}

/** Spots along a stroke, about a stroke's clearance apart. @param {[number, number]} from @param {[number, number]} to */
function along(from, to) {
  const count = Math.max(1, Math.round(Math.hypot(to[0] - from[0], to[1] - from[1]) / SPOT_PX));
  return Array.from({ length: count }, (_, index) => /** @type {[number, number]} */ ([0, 1].map((axis) => from[axis] + ((to[axis] - from[axis]) * (index + 0.5)) / count)));
}

function recall() {
  try {
    return (localStorage.getItem(KEPT_UNDER) ?? "").split(" ").filter(Boolean);
  } catch {
    return [];
  }
}

/** @param {Set<string>} done */
function remember(done) {
  try {
    localStorage.setItem(KEPT_UNDER, [...done].join(" "));
  } catch {
    // Without storage the hints come again next time.
  }
}
