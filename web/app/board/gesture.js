/**
 * One hold: begin, previews, then commit or cancel. One preview is in flight at a time and only the
 * newest point is kept, so a slow engine never falls behind the hand.
 */

/** @typedef {import("../protocol.js").Message} Message */
/** @typedef {(message: Message, options?: {quiet?: boolean}) => Promise<any>} Ask */
/** @typedef {{point_px: [number, number], snap: boolean, catch_px: number}} Move */

export class Gesture {
  /** @param {Ask} ask @param {Message} begin */
  constructor(ask, begin) {
    this.ask = ask;
    /** @type {Move|null} */
    this.newest = null;
    this.ended = false;
    /** @type {Promise<any>} */
    this.begun = ask(begin);
    /** @type {Promise<any>} the last request sent */
    this.flight = this.begun;
    this.busy = true;
    void this.begun.then(() => this.landed());
  }

  /** @param {Move} move */
  move(move) {
    if (this.ended) return;
    this.newest = move;
    if (!this.busy) this.send();
  }

  send() {
    const move = this.newest;
    if (!move) return;
    this.newest = null;
    this.busy = true;
    this.flight = this.ask({ do: "preview", ...move }, { quiet: true });
    void this.flight.then(() => this.landed());
  }

  landed() {
    this.busy = false;
    if (this.newest && !this.ended) this.send();
  }

  /**
   * Make the last preview permanent; the last move is painted first. A tool that needs another point
   * stays in hand: then the reply is again a preview.
   * @param {boolean} [more] an outline takes this point as one more corner
   * @param {Move|null} [tapped] where: a hand that has gone on meanwhile does not move it
   * @returns {Promise<any>} the reply to the commit, or the complaint that stopped the beginning
   */
  async commit(more = false, tapped = null) {
    if (this.ended) return null;
    const begun = await this.begun;
    if (!begun.ok) {
      this.ended = true;
      return begun;
    }
    while (!this.ended && (this.busy || (this.newest && !tapped))) {
      if (!this.busy) this.send();
      await this.flight;
    }
    if (this.ended) return null;
    this.busy = true;
    if (tapped) {
      this.flight = this.ask({ do: "preview", ...tapped }, { quiet: true });
      await this.flight;
      if (this.ended) return null;
    }
    // A second tap may come while this one is on its way: it waits for this reply as for a preview's.
    this.flight = this.ask(more ? { do: "commit", more } : { do: "commit" });
    const reply = await this.flight;
    if (!reply.ok || !reply.preview) this.ended = true;
    this.landed();
    return reply;
  }

  /** Put everything back as it was. */
  async cancel() {
    if (this.ended) return null;
    this.ended = true;
    this.newest = null;
    const begun = await this.begun;
    return begun.ok ? this.ask({ do: "cancel" }, { quiet: true }) : begun;
  }
}
