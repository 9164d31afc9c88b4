// Sketches in storage. A sketch is a head, its journal entries one by one (so that a change writes one entry, not
// all of them), and a picture for painting before the engine is up. What cannot be written stays in memory here.

import { answer, createDatabase, StoreProblem } from "./database.js";

/** @typedef {import("./journal.js").KeptJournal} KeptJournal */

/**
 * @typedef {object} SketchHead
 * @property {string} id
 * @property {string} title
 * @property {number} changed  when it was last changed, milliseconds since 1970
 * @property {boolean} touched  false until the user has changed anything
 * @property {number} revision  grows with every save
 * @property {string} writer  the page that wrote it last
 */

/**
 * @typedef {object} SaveOptions
 * @property {number} since  number of the first entry that may differ from what is stored
 * @property {unknown} [picture]  the last state reply; undefined keeps the stored one, null removes it
 * @property {number} basis  the revision this page took the sketch over at
 */

const ALL = ["sketches", "entries", "pictures", "marks"];

/** @typedef {ReturnType<typeof createStore>} Store */

/** @param {{name?: string, patience_ms?: number}} [options] */
export function createStore(options = {}) {
  const database = createDatabase(options);
  /** @type {Map<string, {head: SketchHead, journal: KeptJournal, picture: unknown}>} */
  const memory = new Map();

  /** @param {string} id */
  function entriesOf(id, first = -Infinity, last = Infinity) {
    return IDBKeyRange.bound([id, first], [id, last]);
  }

  return {
    /**
     * Writes a sketch in one transaction and remembers it as the last one.
     * Throws `StoreProblem`: "conflict" when another page wrote it meanwhile (nothing is overwritten), "full", "slow"
     * or "unavailable"; except after a conflict the sketch is then in memory.
     * @param {SketchHead} head
     * @param {KeptJournal} journal
     * @param {SaveOptions} options
     */
    async save(head, journal, { since, picture, basis }) {
      try {
        await database.run(ALL, "readwrite", async ({ sketches, entries, pictures, marks }) => {
          const stored = await answer(sketches.get(head.id));
          if (stored && stored.writer !== head.writer && stored.revision !== basis) {
            throw new StoreProblem("conflict", `${head.id} was changed in another window`);
          }
          const from = stored && stored.first <= journal.first ? Math.max(since, journal.first) : journal.first;
          entries.delete(entriesOf(head.id, -Infinity, journal.first - 1));
          entries.delete(entriesOf(head.id, from));
          journal.entries.slice(from - journal.first).forEach((entry, index) => {
            entries.put({ id: head.id, number: from + index, ...entry });
          });
          const { document, first, at, current } = journal;
          sketches.put({ ...head, document, first, at, current, count: journal.entries.length });
          if (picture === null) pictures.delete(head.id);
          else if (picture !== undefined) pictures.put({ id: head.id, picture });
          marks.put({ key: "last", value: head.id });
        });
        memory.delete(head.id);
      } catch (problem) {
        if (!(problem instanceof StoreProblem) || problem.reason !== "conflict") {
          memory.set(head.id, { head, journal, picture });
        }
        throw problem;
      }
    },

    /**
     * @param {string} id
     * @returns {Promise<{head: SketchHead, journal: KeptJournal, picture: any} | null>}
     */
    async read(id) {
      const remembered = memory.get(id);
      if (remembered) return { ...remembered, picture: remembered.picture ?? null };
      return database.run(["sketches", "entries", "pictures"], "readonly", async ({ sketches, entries, pictures }) => {
        const [stored, found, painted] = await Promise.all([
          answer(sketches.get(id)),
          answer(entries.getAll(entriesOf(id))),
          answer(pictures.get(id)),
        ]);
        if (!stored) return null;
        const { document, first, at, current, count, ...head } = stored;
        const whole = found.length === count && found.every((entry, index) => entry.number === first + index);
        const journal = whole
          ? { document, first, at, current, entries: found.map(({ label, forward, backward }) => ({ label, forward, backward })) }
          : { document: current, first: first + count, at: 0, current, entries: [] };
        return { head, journal, picture: painted?.picture ?? null };
      });
    },

    /** @returns {Promise<SketchHead[]>} newest first; what is only in memory included */
    async list() {
      /** @type {Map<string, SketchHead>} */
      const heads = new Map();
      try {
        for (const stored of await database.run(["sketches"], "readonly", ({ sketches }) => answer(sketches.getAll()))) {
          const { id, title, changed, touched, revision, writer } = stored;
          heads.set(id, { id, title, changed, touched, revision, writer });
        }
      } catch (problem) {
        if (!(problem instanceof StoreProblem)) throw problem;
      }
      for (const { head } of memory.values()) heads.set(head.id, head);
      return [...heads.values()].sort((one, other) => other.changed - one.changed);
    },

    /** @param {string} id */
    async forget(id) {
      memory.delete(id);
      await database.run(ALL, "readwrite", ({ sketches, entries, pictures }) => {
        sketches.delete(id);
        entries.delete(entriesOf(id));
        pictures.delete(id);
      });
    },

    /** Gives the room the pictures take back; they are made anew by the engine. */
    async dropPictures() {
      await database.run(["pictures"], "readwrite", ({ pictures }) => void pictures.clear());
    },

    /** @param {string} key */
    async mark(key) {
      return (await database.run(["marks"], "readonly", ({ marks }) => answer(marks.get(key))))?.value;
    },

    /**
     * @param {string} key
     * @param {unknown} value
     */
    async setMark(key, value) {
      await database.run(["marks"], "readwrite", ({ marks }) => void marks.put({ key, value }));
    },
  };
}
