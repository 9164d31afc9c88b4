/** What is needed beside what is there: a small bar with its limit marked, and the words for it. */

import { draw, make, put, sayWords } from "../dom.js";

const WIDTH = 96;
const HEIGHT = 14;
const TOP = 4;
const DEPTH = 6;

export class MeterView {
  /** @param {import("../protocol.js").Meter} data */
  constructor(data) {
    this.fill = draw("rect", { class: "meter-fill", x: 0, y: TOP, height: DEPTH });
    this.past = draw("rect", { class: "meter-past", y: TOP, height: DEPTH });
    this.mark = draw("path", { class: "meter-mark" });
    this.drawing = draw(
      "svg",
      { class: "meter-bar", viewBox: `-2 0 ${WIDTH + 4} ${HEIGHT}`, width: WIDTH + 4, height: HEIGHT, "aria-hidden": "true", focusable: "false" },
      draw("rect", { class: "meter-room", x: 0, y: TOP, width: WIDTH, height: DEPTH }),
      this.fill,
      this.past,
      this.mark,
    );
    this.words = make("span", { class: "meter-words" });
    this.element = make("span", { class: "meter", role: "img" }, this.drawing, this.words);
    this.update(data);
  }

  /** @param {import("../protocol.js").Meter} data */
  update(data) {
    put(this.drawing, "display", data.share === null ? "none" : null);
    const share = (data.share ?? 0) * WIDTH;
    const begins = (data.from ?? 0) * WIDTH;
    const limit = data.mark === null ? null : data.mark * WIDTH;
    const within = limit === null ? share : Math.min(share, limit);
    put(this.fill, "x", begins);
    this.element.classList.toggle("over", data.over);
    put(this.element, "aria-label", data.spoken);
    put(this.element, "data-key", data.key);
    if (limit === null) {
      // A place on a face: its two ends are the limits, and a mark says where.
      put(this.fill, "width", data.from === null ? 0 : share - begins);
      put(this.past, "width", 0);
      put(this.mark, "d", data.from === null ? `M${share - 4} ${HEIGHT}h8l-4 -8Z` : "M0 0");
      put(this.mark, "class", "meter-place");
    } else {
      put(this.fill, "width", Math.max(0, within - begins));
      put(this.past, "x", within);
      put(this.past, "width", Math.max(0, share - within));
      put(this.mark, "d", `M${limit} 0V${HEIGHT}`);
      put(this.mark, "class", "meter-mark");
    }
    sayWords(this.words, data.runs);
  }
}
