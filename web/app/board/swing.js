/**
 * A command whose arrow is seen moving: the engine is asked for states on the way, then given the command.
 *
 * The page works nothing out: each frame is a whole picture of the engine's, so strips and words move with the
 * arrow. The command itself is one undo entry. A new movement of any hand ends the show at once: the command is
 * sent before whatever that hand asks for. Escape puts everything back.
 */

const SWING_MS = 650;

/** @typedef {{name: string, args: Record<string, unknown>, ended: boolean, done: Promise<any>|null}} Show */

export class Swing {
  /** @param {import("../state.js").State} state @param {EventTarget} page where hands are noticed */
  constructor(state, page) {
    this.state = state;
    /** @type {Show|null} */
    this.show = null;
    page.addEventListener("pointerdown", () => void this.finish(), { capture: true });
    page.addEventListener(
      "keydown",
      (event) => {
        if (!this.show) return;
        if (/** @type {KeyboardEvent} */ (event).key === "Escape") {
          event.preventDefault();
          event.stopPropagation();
          void this.cancel();
        } else void this.finish();
      },
      { capture: true },
    );
  }

  /**
   * @param {string} name @param {Record<string, unknown>} args
   * @returns {Promise<any>} the reply to the command, or to what ended it
   */
  async play(name, args) {
    void this.finish();
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) return this.state.command(name, args);
    /** @type {Show} */
    const show = { name, args, ended: false, done: null };
    this.show = show;
    const start = performance.now();
    for (;;) {
      const part = (performance.now() - start) / SWING_MS;
      if (show.ended || part >= 1) break;
      const reply = await this.state.ask({ do: "try", name, args: { ...args, share: eased(part) } }, { quiet: true });
      // What cannot be done is said once, by the command.
      if (!reply.ok) break;
      await frame();
    }
    if (!show.ended) void this.finish();
    return show.done;
  }

  /** Do at once what is being shown. @returns {Promise<any>} */
  finish() {
    return this.end((show) => this.state.command(show.name, show.args));
  }

  /** Put everything back. @returns {Promise<any>} */
  cancel() {
    return this.end(() => this.state.ask({ do: "cancel" }, { quiet: true }));
  }

  /** @param {(show: Show) => Promise<any>} how */
  end(how) {
    const { show } = this;
    if (!show) return Promise.resolve(null);
    this.show = null;
    show.ended = true;
    show.done = how(show);
    return show.done;
  }
}

/** Slow at both ends. @param {number} part */
function eased(part) {
  return part * part * (3 - 2 * part);
}

function frame() {
  return new Promise((resolve) => requestAnimationFrame(resolve));
}
