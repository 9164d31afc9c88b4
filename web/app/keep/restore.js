// Brings a kept sketch back into an engine that knows nothing of it.

/** @typedef {import("./saver.js").OpenSketch} OpenSketch */
/** @typedef {import("../protocol.js").StateReply} StateReply */

/**
 * What the keeper needs of the engine.
 * @typedef {object} EnginePort
 * @property {(message: {do: string, [argument: string]: unknown}) => Promise<any>} request  resolves with the reply,
 *   refusals included; rejects when the worker dies before it answers
 * @property {() => Promise<unknown>} restart  ends the worker, starts a new one, resolves once it is ready
 */

/**
 * @param {EnginePort} engine
 * @param {() => Record<string, unknown>} presentation
 */
export function createRestorer(engine, presentation) {
  /**
   * @param {{do: string, [argument: string]: unknown}} message
   * @returns {Promise<StateReply>} rejects with the engine's complaint too
   */
  async function ask(message) {
    const reply = await engine.request(message);
    if (!reply.ok) throw reply.error;
    return reply;
  }

  /** @param {{do: string, [argument: string]: unknown}} message */
  async function ofThisPage(message) {
    await ask({ do: "show", ...presentation() });
    return ask(message);
  }

  return {
    /**
     * With its undo history. Rejects when the entries do not lead to the sketch as it was kept.
     * @param {OpenSketch} sketch
     */
    async whole(sketch) {
      const { journal } = sketch;
      const state = await ofThisPage({ do: "open", ...journal.replay() });
      if (typeof state.document === "string" && state.document !== journal.current) {
        throw new Error("the journal does not lead to the sketch that was kept");
      }
      sketch.picture = state;
      return state;
    },

    /**
     * As it stands, without what was done before.
     * @param {OpenSketch} sketch
     */
    async plain(sketch) {
      const { current } = sketch.journal;
      const state = await ofThisPage({ do: "open", document: current });
      sketch.journal = sketch.journal.withoutHistory();
      sketch.picture = state;
      return state;
    },

    /** An empty sheet. */
    blank: () => ofThisPage({ do: "new" }),
  };
}
