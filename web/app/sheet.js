/** The size of the board and the strips, told to the engine whenever it changes and no hand is on the board. */

export class Sheet {
  /**
   * @param {HTMLElement} desk
   * @param {HTMLElement} readings
   * @param {import("./state.js").State} state
   * @param {() => boolean} idle
   */
  constructor(desk, readings, state, idle) {
    this.desk = desk;
    this.readings = readings;
    this.state = state;
    this.idle = idle;
    this.asked = "";
    this.touch = matchMedia("(pointer: coarse)").matches;
    const watch = new ResizeObserver(() => this.check());
    watch.observe(desk);
    watch.observe(readings);
  }

  size() {
    const style = getComputedStyle(document.documentElement);
    return {
      width_px: Math.max(1, Math.round(this.desk.clientWidth)),
      height_px: Math.max(1, Math.round(this.desk.clientHeight)),
      covered_px: [0, this.coveredRight(), 0, 0],
      strips_px: Math.max(1, Math.round(this.readings.clientWidth)),
      text_scale: Number.parseFloat(style.fontSize) / 16,
      ...this.line(Number.parseFloat(style.fontSize) / 16),
      touch: this.touch,
    };
  }

  /** The room for a row of mathematics, as wide as it would be at the usual text size. @param {number} scale */
  line(scale) {
    const room = document.getElementById("line-room")?.clientWidth ?? 0;
    return room > 0 ? { line_px: Math.max(1, Math.floor(room / scale)) } : {};
  }

  /** The buttons over the right edge of the board, where they are: nothing may be drawn for reading under them. */
  coveredRight() {
    const buttons = this.desk.parentElement?.querySelector(":scope > .look");
    if (!buttons || buttons.clientWidth === 0) return 0;
    return Math.round(this.desk.getBoundingClientRect().right - buttons.getBoundingClientRect().left);
  }

  /** What `show` needs when a sketch is opened anew. A press made before the engine was ready is finished on the sheet it was made on. */
  presentation() {
    const size = this.size();
    const picture = this.state.reply?.picture;
    if (!this.idle() && picture) Object.assign(size, { width_px: picture.width, height_px: picture.height });
    this.asked = JSON.stringify(size);
    return { ...size, ...this.state.study, view: this.state.reply?.view ?? "extended" };
  }

  check() {
    if (!this.state.live || !this.idle()) return;
    const size = this.size();
    const text = JSON.stringify(size);
    if (text === this.asked) return;
    this.asked = text;
    void this.state.ask({ do: "show", ...size });
  }
}
