// Replies name again what has not changed; here they become whole, before anyone else sees them.

const PICTURES = ["picture", "strips"];

/** Holds the records of the last picture heard, and makes the next reply whole with them. */
export class Whole {
  constructor() {
    /** @type {number | undefined} number of the reply held; sent with each request as its `base` */
    this.base = undefined;
    /** @type {Record<string, Map<string, object>>} */
    this.held = {};
    /** @type {any} the reasoning held */
    this.reasoning = null;
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
    whole.panels = { ...reply.panels, reasoning: this.reasoned(reply.panels.reasoning, reply.preview) };
    this.base = reply.seq;
    return whole;
  }

  /**
   * @param {any} heard in a preview, parts that are as before are left out
   * @param {boolean} preview
   */
  reasoned(heard, preview) {
    if (heard && preview) {
      const held = this.reasoning ?? {};
      const working = heard.working && { ...heard.working, steps: heard.working.steps.map((/** @type {any} */ step, /** @type {number} */ place) => wholeStep(step, held.working?.steps[place])) };
      this.reasoning = { ...held, ...heard, working };
    } else this.reasoning = heard ?? null;
    return this.reasoning;
  }
}

/**
 * A step as heard: 0 is the one held, a step without a kind is what changed of it.
 * @param {any} heard
 * @param {any} held
 */
function wholeStep(heard, held) {
  if (heard === 0) return held;
  if (heard.kind) return heard;
  const step = { ...held, ...heard };
  if (heard.lines) step.lines = heard.lines.map((/** @type {any} */ line, /** @type {number} */ place) => wholeLine(line, held.lines[place]));
  return step;
}

/**
 * A line as heard: 0 is the one held, a list is the digits of its numbers in reading order.
 * @param {any} heard
 * @param {any} held
 */
function wholeLine(heard, held) {
  if (heard === 0) return held;
  return Array.isArray(heard) ? { ...held, digits: heard } : heard;
}
