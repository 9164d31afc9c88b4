/** The board: the sheet, what lies over it, and the hands upon it. */

import { draw, make, put, say } from "../dom.js";
import { Bubble } from "./bubble.js";
import { Hands } from "./hands.js";
import { Look } from "./look.js";
import { Motion } from "./motion.js";
import { Painter } from "./painter.js";
import { Pointer } from "./pointer.js";
import { ThingsHere } from "./things-here.js";

/** @typedef {import("../protocol.js").Target} Target */
/** @typedef {import("./pointer.js").Point} Point */

const VIEW_NAMES = { "set-up": "Set-up", extended: "Extended", point: "Point", polygon: "Polygon" };
const ZOOM_STEP = 1.25;
const PAN_STEP_PX = 80;

export class Board {
  /**
   * @param {HTMLElement} desk the element with role=application that the focus rests on
   * @param {import("../state.js").State} state
   * @param {{placed: (id: string|null) => void, moved: (of: string, grip: string) => void}} calls
   */
  constructor(desk, state, calls) {
    this.desk = desk;
    this.state = state;
    this.svg = draw("svg", { class: "sheet", role: "graphics-document document", "aria-label": "Sketch" });
    desk.append(this.svg);
    this.painter = new Painter(this.svg, "board");
    this.motion = new Motion(this.painter);
    this.ring = make("div", { class: "grip-ring", hidden: true, "aria-hidden": "true" });
    desk.append(this.ring);
    this.bubble = new Bubble(desk);
    this.look = new Look(this.svg, (message) => state.ask(message));
    this.list = new ThingsHere(desk, state);
    this.hands = new Hands(state, this.look, this.bubble, { ...calls, choose: (point) => void this.list.open(point) });
    /** @type {"mouse"|"touch"} */
    this.kind = "mouse";
    this.grip = 0;
    this.pointer = this.listen();
    desk.addEventListener("focus", () => this.showRing());
    desk.addEventListener("blur", () => this.showRing());
    this.wheel();
  }

  /** Client to sheet pixels; the sheet may still be shown scaled while the engine starts.
   * @param {{clientX: number, clientY: number}} event @returns {Point} */
  toSheet(event) {
    const matrix = this.svg.getScreenCTM();
    if (!matrix) return [0, 0];
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    return [Math.round(point.x * 10) / 10, Math.round(point.y * 10) / 10];
  }

  listen() {
    const { hands, svg } = this;
    /** @type {import("./pointer.js").Calls} */
    const calls = {
      hover: (point, kind, event) => {
        const cursor = hands.hover(point, kind, event);
        if (svg.style.cursor !== cursor) svg.style.cursor = cursor;
      },
      leave: () => this.state.hover(""),
      press: (_point, kind) => {
        this.motion.finish();
        this.kind = kind;
        this.byKeys = false;
        this.list.close();
        this.desk.focus({ preventScroll: true });
      },
      tap: (point, kind) => hands.tap(point, kind),
      dragStart: (start, kind, pan) => {
        hands.dragStart(start, kind, pan);
        svg.style.cursor = "grabbing";
      },
      drag: (point, kind, event) => hands.drag(point, kind, event),
      dragEnd: () => {
        svg.style.cursor = "";
        hands.dragEnd();
      },
      dragCancel: () => {
        svg.style.cursor = "";
        hands.dragCancel();
      },
      panning: () => hands.panning,
      pinch: (factor, at, shift) => {
        this.look.zoomAt(factor, at);
        this.look.pan(shift[0], shift[1]);
      },
      longPress: (point) => {
        hands.cancel();
        void this.list.open(point);
      },
      plainClick: (target) => {
        const of = target.closest("[data-of]")?.getAttribute("data-of");
        const mark = hands.targets.find((each) => each.lights === of && each.command);
        if (mark) hands.press(mark);
        else void this.state.select(of ?? null);
      },
    };
    return new Pointer(svg, (event) => this.toSheet(event), calls);
  }

  wheel() {
    this.svg.addEventListener(
      "wheel",
      (event) => {
        event.preventDefault();
        const unit = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
        if (event.ctrlKey || event.metaKey) {
          this.look.zoomAt(Math.exp(Math.max(-60, Math.min(60, -event.deltaY * unit)) / 120), this.toSheet(event));
        } else this.look.pan(-event.deltaX * unit, -event.deltaY * unit);
      },
      { passive: false },
    );
  }

  /** @param {import("../protocol.js").StateReply} reply @param {string} title */
  paint(reply, title) {
    const alone = reply.view === "point" || reply.view === "polygon";
    // What was in the hand was held where it stood: in another view it stands elsewhere.
    if (this.motion.view !== "" && this.motion.view !== reply.view) this.hands.drop();
    this.motion.paint(reply.picture, reply.view, reply.preview);
    this.look.still = alone;
    put(this.svg, "aria-label", `${VIEW_NAMES[reply.view]} of ${title || "the sketch"}`);
    const current = reply.selected ? this.painter.spokesman(reply.selected) : null;
    put(this.desk, "aria-activedescendant", current);
    this.hands.read(this.kind);
    this.showRing();
  }

  // Looking around, for keys and buttons.

  /** @param {number} steps positive comes nearer */
  zoom(steps) {
    const { width, height } = this.state.reply?.picture ?? { width: 0, height: 0 };
    this.look.zoomAt(ZOOM_STEP ** steps, [width / 2, height / 2]);
  }

  /** @param {number} dx @param {number} dy steps to look right and down */
  pan(dx, dy) {
    this.look.pan(-dx * PAN_STEP_PX, -dy * PAN_STEP_PX);
  }

  fit() {
    return this.look.fit();
  }

  // Holding by keys.

  /** @returns {Target[]} the grips of the selected thing: those that can move first, as the hand would take them */
  get grips() {
    const { selected } = this.state;
    const own = this.hands.targets.filter((target) => target.of === selected);
    const named = own.filter((target, index) => own.findIndex((other) => other.grip === target.grip) === index);
    return named.sort((a, b) => Number(Boolean(a.locked)) - Number(Boolean(b.locked)) || a.rank - b.rank);
  }

  /** Whether what is held by keys has been moved, so that there is something new to say. */
  get nudged() {
    return this.hands.nudged;
  }

  get holding() {
    return this.hands.doing === "keys";
  }

  /** @returns {string} what to say */
  takeHold() {
    if (this.hands.placeGhost()) return "";
    const grip = this.grips[this.grip % Math.max(1, this.grips.length)];
    if (!grip) return "";
    if (grip.locked) return grip.locked;
    if (grip.command) {
      this.forgetGrip();
      this.hands.press(grip);
      return "";
    }
    this.hands.holdByKeys(grip);
    this.showRing();
    return `Holding ${grip.name}. Arrow keys move it, Enter puts it down, Escape puts it back.`;
  }

  /** @param {number} step @returns {string} what to say */
  changeGrip(step) {
    const { grips } = this;
    if (grips.length === 0) return "";
    if (this.holding) void this.hands.finish();
    this.grip = (this.grip + step + grips.length) % grips.length;
    this.showRing();
    const grip = grips[this.grip];
    this.state.focus(grip.lights ?? "");
    return grip.locked ? `${grip.name}: ${grip.locked}` : grip.name;
  }

  forgetGrip() {
    this.grip = 0;
    this.state.focus("");
  }

  putDown() {
    return this.hands.finish();
  }

  /** Step back once: the move under way, the list, the first point of a tool. @returns {boolean} */
  stepBack() {
    if (this.list.close()) return true;
    if (this.pointer.mode === "dragging") this.pointer.abandon();
    return this.hands.cancel();
  }

  /** The ring round the grip that keys would take, while the board has the focus. */
  showRing() {
    this.ring.classList.toggle("held", this.holding);
    if (!this.byKeys) {
      put(this.ring, "hidden", true);
      return;
    }
    const grip = document.activeElement === this.desk ? this.grips[this.grip % Math.max(1, this.grips.length)] : undefined;
    const point = grip?.command ? middle(grip.points_px) : grip?.points_px[0];
    this.ring.hidden = !point;
    if (point) this.ring.style.transform = `translate(${point[0]}px, ${point[1]}px)`;
  }

  /** Whether the last thing done on the board was done by keys. */
  byKeys = false;
}

/** @param {Array<[number, number]>} points @returns {[number, number]} */
function middle(points) {
  const sum = points.reduce(([x, y], [px, py]) => [x + px, y + py], [0, 0]);
  return [sum[0] / points.length, sum[1] / points.length];
}
