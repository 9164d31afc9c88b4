// Time as the reader saw it: stands still while the page is hidden, and does not jump when the machine slept.

const TICK_MS = 250;

export class VisibleClock {
  constructor() {
    this.now_ms = 0;
    /** @type {Set<{due_ms: number, ring: () => void}>} */
    this.alarms = new Set();
    /** @type {ReturnType<typeof setInterval> | undefined} */
    this.timer = undefined;
    this.last_ms = 0;
  }

  /**
   * Calls `ring` once, after so much visible time.
   * @param {number} after_ms
   * @param {() => void} ring
   * @returns {() => void} takes the alarm back
   */
  alarm(after_ms, ring) {
    if (this.alarms.size === 0) this.run();
    const alarm = { due_ms: this.now_ms + after_ms, ring };
    this.alarms.add(alarm);
    return () => this.drop(alarm);
  }

  run() {
    this.last_ms = performance.now();
    this.timer = setInterval(() => this.tick(), TICK_MS);
  }

  tick() {
    const now_ms = performance.now();
    // One tick counts for a few at most: a machine that slept, or a page that was frozen, counts for nothing more.
    if (document.visibilityState === "visible") this.now_ms += Math.min(now_ms - this.last_ms, 4 * TICK_MS);
    this.last_ms = now_ms;
    for (const alarm of [...this.alarms]) {
      if (alarm.due_ms > this.now_ms) continue;
      this.drop(alarm);
      alarm.ring();
    }
  }

  /** @param {{due_ms: number, ring: () => void}} alarm */
  drop(alarm) {
    this.alarms.delete(alarm);
    if (this.alarms.size === 0) clearInterval(this.timer);
  }
}
