/**
 * One Pointer Events path for mouse, pen and touch: tells taps from drags, two fingers from one, and a
 * long press from both. It knows nothing of what lies on the sheet.
 */

/** @typedef {[number, number]} Point */
/** @typedef {"mouse"|"touch"} Kind pens count as touch */

/**
 * @typedef {object} Calls
 * @property {(point: Point, kind: Kind, event: PointerEvent) => void} hover
 * @property {() => void} leave
 * @property {(point: Point, kind: Kind) => void} press
 * @property {(point: Point, kind: Kind) => void} tap
 * @property {(start: Point, kind: Kind, pan: boolean) => void} dragStart
 * @property {(point: Point, kind: Kind, event: PointerEvent) => void} drag
 * @property {() => void} dragEnd
 * @property {() => void} dragCancel
 * @property {() => boolean} panning whether the drag under way moves the paper
 * @property {(factor: number, at: Point, shift: Point) => void} pinch
 * @property {(point: Point) => void} longPress
 * @property {(target: Element) => void} plainClick
 */

const TAP_PX = { mouse: 6, touch: 10 };
const LONG_PRESS_MS = 550;
const SECOND_FINGER_MS = 150;
const SECOND_FINGER_PX = 8;
const PLAIN_CLICK_AFTER_MS = 600;

export class Pointer {
  /**
   * @param {SVGSVGElement} svg captures the pointer; never patched
   * @param {(event: {clientX: number, clientY: number}) => Point} toSheet
   * @param {Calls} calls
   */
  constructor(svg, toSheet, calls) {
    this.svg = svg;
    this.toSheet = toSheet;
    this.calls = calls;
    /** @type {Map<number, Point>} */
    this.down = new Map();
    /** @type {"idle"|"pressed"|"dragging"|"pinching"|"spent"} */
    this.mode = "idle";
    /** @type {Point} */
    this.start = [0, 0];
    this.startedAt_ms = 0;
    this.middle = false;
    this.timer = 0;
    this.lastUp_ms = -Infinity;
    svg.addEventListener("pointerdown", (event) => this.pressed(event));
    svg.addEventListener("pointermove", (event) => this.moved(event));
    svg.addEventListener("pointerup", (event) => this.released(event));
    svg.addEventListener("pointercancel", (event) => this.lost(event));
    svg.addEventListener("lostpointercapture", (event) => this.lost(event));
    svg.addEventListener("pointerleave", () => this.mode === "idle" && calls.leave());
    svg.addEventListener("contextmenu", (event) => {
      event.preventDefault();
      if (this.mode === "idle" || this.mode === "pressed") this.pressLong(this.toSheet(event));
    });
    svg.addEventListener("click", (event) => {
      if (event.timeStamp - this.lastUp_ms > PLAIN_CLICK_AFTER_MS && event.target instanceof Element) {
        calls.plainClick(event.target);
      }
    });
  }

  /** @param {PointerEvent} event @returns {Kind} */
  kind(event) {
    return event.pointerType === "mouse" ? "mouse" : "touch";
  }

  /** @param {PointerEvent} event */
  pressed(event) {
    if (event.button > 1) return;
    const point = this.toSheet(event);
    if (this.mode === "idle") {
      this.down.set(event.pointerId, point);
      this.svg.setPointerCapture(event.pointerId);
      this.mode = "pressed";
      this.start = point;
      this.startedAt_ms = event.timeStamp;
      this.middle = event.button === 1;
      this.timer = window.setTimeout(() => this.pressLong(point), LONG_PRESS_MS);
      this.calls.press(point, this.kind(event));
      return;
    }
    const first = this.down.get([...this.down.keys()][0]) ?? point;
    const young = event.timeStamp - this.startedAt_ms <= SECOND_FINGER_MS && apart(first, this.start) <= SECOND_FINGER_PX;
    const joins = this.mode === "pressed" || (this.mode === "dragging" && (young || this.calls.panning()));
    if (this.down.size !== 1 || event.pointerType === "mouse" || !joins) return;
    window.clearTimeout(this.timer);
    if (this.mode === "dragging") this.calls.dragCancel();
    this.down.set(event.pointerId, point);
    this.svg.setPointerCapture(event.pointerId);
    this.mode = "pinching";
  }

  /** @param {PointerEvent} event */
  moved(event) {
    const point = this.toSheet(event);
    const before = this.down.get(event.pointerId);
    if (!before) {
      if (this.mode === "idle") this.calls.hover(point, this.kind(event), event);
      return;
    }
    const kind = this.kind(event);
    if (this.mode === "pressed" && apart(this.start, point) > TAP_PX[kind]) {
      window.clearTimeout(this.timer);
      this.mode = "dragging";
      this.calls.dragStart(this.start, kind, this.middle);
    }
    if (this.mode === "pinching") this.pinched(event.pointerId, before, point);
    this.down.set(event.pointerId, point);
    if (this.mode === "dragging") this.calls.drag(point, kind, event);
  }

  /** @param {number} id @param {Point} before @param {Point} now of the finger that moved */
  pinched(id, before, now) {
    const other = [...this.down].find(([key]) => key !== id)?.[1];
    if (!other) return;
    const [was, is] = [Math.max(1, apart(before, other)), Math.max(1, apart(now, other))];
    const middle = /** @type {Point} */ ([(before[0] + other[0]) / 2, (before[1] + other[1]) / 2]);
    this.calls.pinch(is / was, middle, [(now[0] - before[0]) / 2, (now[1] - before[1]) / 2]);
  }

  /** @param {PointerEvent} event */
  released(event) {
    if (!this.down.delete(event.pointerId)) return;
    window.clearTimeout(this.timer);
    this.lastUp_ms = event.timeStamp;
    const { mode } = this;
    this.mode = this.down.size > 0 ? "spent" : "idle";
    if (mode === "pressed" && !this.middle) this.calls.tap(this.start, this.kind(event));
    if (mode === "dragging") this.calls.dragEnd();
  }

  /** @param {PointerEvent} event */
  lost(event) {
    if (!this.down.delete(event.pointerId)) return;
    window.clearTimeout(this.timer);
    const { mode } = this;
    this.mode = this.down.size > 0 ? "spent" : "idle";
    if (mode === "dragging") this.calls.dragCancel();
  }

  /** @param {Point} point */
  pressLong(point) {
    window.clearTimeout(this.timer);
    if (this.mode === "pressed") this.mode = "spent";
    this.calls.longPress(point);
  }

  /** Forget the drag under way: Escape has put everything back. */
  abandon() {
    window.clearTimeout(this.timer);
    if (this.mode !== "idle") this.mode = this.down.size > 0 ? "spent" : "idle";
  }
}

/** @param {Point} a @param {Point} b */
function apart(a, b) {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
