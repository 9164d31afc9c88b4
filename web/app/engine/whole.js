// Replies name again what has not changed; here they become whole, before anyone else sees them.

const PICTURES = ["picture", "strips"];

/** Holds the records of the last picture heard, and makes the next reply whole with them. */
export class Whole {
  constructor() {
    /** @type {number | undefined} number of the reply held; sent with each request as its `base` */
    this.base = undefined;
    /** @type {Record<string, Map<string, object>>} */
    this.held = {};
  }

  /**
   * @param {any} reply as heard: a record that is as before is its id alone
   * @returns {any} the same with every record in full
   */
  restore(reply) {
    if (!reply.ok || !reply.picture) return reply;
    const whole = { ...reply };
    for (const name of PICTURES) {
      if (!reply[name]) continue;
      /** @type {Map<string, object>} */
      const next = new Map();
      for (const record of reply[name].records) {
        if (typeof record === "string") next.set(record, this.held[name]?.get(record) ?? { id: record });
        else next.set(record.id, record);
      }
      whole[name] = { ...reply[name], records: [...next.values()] };
      this.held[name] = next;
    }
    this.base = reply.seq;
    return whole;
  }
}
