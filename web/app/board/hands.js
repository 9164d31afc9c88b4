/**
 * What presses on the sheet mean: choose, hold and move, place with a tool, move the paper.
 *
 * Selecting and placing happen on release; Escape always has something to put back.
 */

import { Gesture } from "./gesture.js";
import { pick } from "./pick.js";

/** @typedef {import("../state.js").State} State */
/** @typedef {import("./pointer.js").Point} Point */
/** @typedef {import("./pointer.js").Kind} Kind */
/** @typedef {import("../protocol.js").Target} Target */

const CATCH_PX = { mouse: 8, touch: 14 };

export class Hands {
  /**
   * @param {State} state
   * @param {import("./look.js").Look} look
   * @param {import("./bubble.js").Bubble} bubble
   * @param {{placed: (id: string|null) => void, choose: (point: Point) => void, moved: (of: string, grip: string) => void}} calls
   */
  constructor(state, look, bubble, calls) {
    this.state = state;
    this.look = look;
    this.bubble = bubble;
    this.calls = calls;
    /** @type {Gesture|null} a drag, a tool waiting for its second point, or a hold by keys */
    this.gesture = null;
    /** @type {"grip"|"tool"|"keys"|""} */
    this.doing = "";
    this.held = { of: "", grip: "" };
    this.panning = false;
    this.nudged = false;
    /** @type {Point} */
    this.last = [0, 0];
    /** @type {Point|null} */
    this.tapped = null;
    /** @type {Promise<void>} the last tap of a tool, done */
    this.taps = Promise.resolve();
    /** @type {string[]} what a second tap in place goes on to */
    this.stack = [];
    this.stackAt = 0;
  }

  /** @returns {Target[]} */
  get targets() {
    return this.state.reply?.picture.targets ?? [];
  }

  /** Name of the tool in hand; on an empty sheet a bare hand draws a bar, as the sheet says. @returns {string|null} */
  get tool() {
    return this.state.tool?.name ?? (this.state.reply?.panels.empty ? "bar" : null);
  }

  /** @param {Point} point @param {Kind} kind */
  under(point, kind) {
    return pick(this.targets, point, CATCH_PX[kind], this.state.selected);
  }

  /** @param {import("../protocol.js").Message} begin @param {"grip"|"tool"|"keys"} doing */
  begin(begin, doing) {
    this.gesture = new Gesture((message, options) => this.state.ask(message, options), begin);
    this.doing = doing;
    this.nudged = false;
    const { gesture } = this;
    void gesture.begun.then((reply) => {
      if (!reply.ok && this.gesture === gesture) this.drop();
    });
  }

  drop() {
    this.gesture = null;
    this.doing = "";
    this.bubble.hide();
  }

  /** @param {Point} point @param {Kind} kind @param {PointerEvent} [event] */
  move(point, kind, event) {
    this.gesture?.move({ point_px: point, snap: !event?.altKey, catch_px: CATCH_PX[kind] });
    this.last = point;
  }

  /** The reading beside the hand, after each painted preview. @param {Kind} kind */
  read(kind) {
    const reading = this.state.reply?.gesture;
    if (this.gesture && reading && kind === "touch") this.bubble.show(reading.readout, this.last, kind);
  }

  /** @param {Point} point @param {Kind} kind @param {PointerEvent} event @returns {string} the cursor to show */
  hover(point, kind, event) {
    if (this.doing === "tool") this.move(point, kind, event);
    if (this.tool) return "crosshair";
    const [target] = this.under(point, kind);
    this.state.hover(target?.lights ?? target?.of ?? "");
    if (!target) return "default";
    return target.locked ? "not-allowed" : (target.cursor ?? "grab");
  }

  /** @param {Point} start @param {Kind} kind @param {boolean} pan */
  dragStart(start, kind, pan) {
    this.last = start;
    if (this.doing === "tool") return;
    const { tool } = this;
    if (tool && !pan) {
      this.begin({ do: "begin", tool, point_px: start, catch_px: CATCH_PX[kind] }, "tool");
      return;
    }
    const [target] = pan ? [] : this.under(start, kind).filter((each) => !each.command);
    if (!target) {
      this.panning = true;
    } else if (target.locked) {
      this.bubble.show(target.locked, start, kind);
      void this.state.select(target.of);
    } else {
      void this.state.select(target.of);
      this.state.hover(target.of);
      this.hold(target, start);
    }
  }

  /** @param {Target} target @param {Point} point */
  hold(target, point) {
    this.held = { of: target.of, grip: target.grip };
    this.begin({ do: "begin", of: target.of, grip: target.grip, point_px: point }, "grip");
  }

  /** @param {Point} point @param {Kind} kind @param {PointerEvent} event */
  drag(point, kind, event) {
    if (this.panning) {
      this.look.pan(point[0] - this.last[0], point[1] - this.last[1]);
      this.last = point;
    } else this.move(point, kind, event);
  }

  dragEnd() {
    if (this.panning) {
      this.panning = false;
      void this.look.lay();
      return;
    }
    this.bubble.hide();
    void this.finish();
  }

  dragCancel() {
    this.panning = false;
    this.cancel();
  }

  /** @param {Point} point @param {Kind} kind */
  tap(point, kind) {
    if (this.tool) {
      this.tapWithTool(this.tool, point, kind);
      return;
    }
    const found = this.under(point, kind);
    if (found[0]?.command) {
      this.tapped = null;
      this.press(found[0]);
      return;
    }
    const again = this.tapped !== null && Math.hypot(point[0] - this.tapped[0], point[1] - this.tapped[1]) <= CATCH_PX[kind];
    // Selecting brings grips forward: a round of taps in one place goes through what was there at its first tap.
    if (again && this.stack.includes(this.state.selected ?? "")) this.stackAt = (this.stackAt + 1) % this.stack.length;
    else {
      this.stack = [...new Set(found.map((target) => target.of))];
      this.stackAt = 0;
    }
    this.tapped = point;
    const id = this.stack[this.stackAt] ?? null;
    void this.state.select(id);
    const locked = found.find((target) => target.of === id && target.locked)?.locked;
    if (locked && found[0].of === id && found[0].locked) this.bubble.show(locked, point, kind);
    else this.bubble.hide();
    if (id) this.calls.moved(id, "tap");
  }

  /** Give the command of a target that is pressed, not held. @param {Target} target */
  press(target) {
    if (!target.command) return;
    this.bubble.hide();
    const { of } = target;
    void this.state.command(target.command.name, target.command.args).then((reply) => reply.ok && this.calls.moved(of, "pivot"));
  }

  /** @param {string} tool @param {Point} point @param {Kind} kind */
  tapWithTool(tool, point, kind) {
    if (this.doing === "tool") {
      const { gesture } = this;
      this.last = point;
      const tapped = { point_px: point, snap: true, catch_px: CATCH_PX[kind] };
      // Taps faster than their answers are taken one after the other, each where it fell.
      this.taps = this.taps.then(() => (this.gesture === gesture ? this.finish(true, tapped) : undefined));
      return;
    }
    this.begin({ do: "begin", tool, point_px: point, catch_px: CATCH_PX[kind] }, "tool");
    this.last = point;
    this.taps = this.finish();
  }

  /** Put a tool down where its ghost is. @returns {boolean} whether one was waiting */
  placeGhost() {
    if (this.doing !== "tool") return false;
    void this.finish();
    return true;
  }

  /** Make the move permanent; a placed thing is selected and its tool put down. A tool that wants another point waits for it. @param {boolean} [more] an outline takes one more corner @param {import("./gesture.js").Move|null} [tapped] */
  async finish(more = false, tapped = null) {
    const { gesture, doing, held } = this;
    if (!gesture) return;
    const reply = await gesture.commit(more, tapped);
    if (this.gesture !== gesture || (reply?.ok && reply.preview)) return;
    this.drop();
    if (!reply?.ok) return;
    if (doing === "tool") this.calls.placed(reply.created ?? null);
    else this.calls.moved(held.of, held.grip);
  }

  /** Put back what is being moved or placed. @returns {boolean} whether there was anything */
  cancel() {
    const { gesture } = this;
    if (!gesture) {
      this.bubble.hide();
      return false;
    }
    this.drop();
    void gesture.cancel();
    return true;
  }

  /** Take hold of a grip by keys. @param {Target} target */
  holdByKeys(target) {
    this.held = { of: target.of, grip: target.grip };
    this.begin({ do: "begin", of: target.of, grip: target.grip, point_px: target.points_px[0] }, "keys");
  }

  /** @param {number} dx @param {number} dy steps, up is positive */
  nudge(dx, dy) {
    if (this.doing !== "keys") return;
    this.nudged = true;
    void this.state.ask({ do: "nudge", dx, dy }, { quiet: true });
  }
}
