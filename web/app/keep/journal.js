// What was done to one sketch: a base document, the entries done since, and how many of them stand.
//
// In memory the journal never forgets, so undo has no limit while the page is open. The stored copy may start later
// (`rebase`) when storage is full: then only the steps before that point cannot be undone after a restart.

/**
 * One undoable step, as the engine wrote it. The page never looks inside the patches.
 * @typedef {{label: string, forward: unknown, backward: unknown}} Entry
 */

/**
 * What the engine needs to have the sketch and its undo history back.
 * @typedef {object} Replay
 * @property {string} document  text the entries start from
 * @property {Entry[]} entries
 * @property {number} at  how many of the entries are done
 */

/**
 * What storage keeps: as a replay, with the number of the first entry, so that writing may skip entries that stand.
 * @typedef {object} KeptJournal
 * @property {string} document
 * @property {number} first  number of entries[0]
 * @property {Entry[]} entries
 * @property {number} at  how many of `entries` are done
 * @property {string} current  text of the sketch as it stands; opened alone when the entries cannot be replayed
 */

export class Journal {
  /** @type {Entry[]} */ #entries;
  #at;
  #document;
  #current;
  /** number of #entries[0] in storage */
  #first;
  /** where the stored copy starts, as an index into #entries, and the text there */
  #keptFrom = 0;
  #keptDocument;
  /** lowest index of an entry storage does not have yet */
  #unsaved = 0;

  /**
   * @param {{document: string, entries?: Entry[], at?: number, current?: string, first?: number}} kept
   * @param {boolean} [stored]  whether storage has these entries already
   */
  constructor({ document, entries = [], at = 0, current = document, first = 0 }, stored = false) {
    this.#document = document;
    this.#keptDocument = document;
    this.#entries = [...entries];
    this.#at = at;
    this.#current = current;
    this.#first = first;
    this.#unsaved = stored ? entries.length : 0;
  }

  /** The sketch as it stands, as text. */
  get current() {
    return this.#current;
  }

  get at() {
    return this.#at;
  }

  get length() {
    return this.#entries.length;
  }

  /**
   * Adds a step; steps that were undone are gone, as everywhere.
   * @param {Entry} entry
   * @param {string} document  the sketch after it
   */
  push(entry, document) {
    this.#entries.length = this.#at;
    this.#unsaved = Math.min(this.#unsaved, this.#at);
    this.#entries.push(entry);
    this.#at += 1;
    this.#current = document;
  }

  /** @param {string} document  the sketch after undoing */
  undo(document) {
    this.#moveTo(this.#at - 1, document);
  }

  /** @param {string} document  the sketch after redoing */
  redo(document) {
    this.#moveTo(this.#at + 1, document);
  }

  /**
   * @param {number} at
   * @param {string} document
   */
  #moveTo(at, document) {
    if (at < 0 || at > this.#entries.length) {
      throw new RangeError(`the journal has ${this.#entries.length} entries: cannot stand at ${at}`);
    }
    this.#at = at;
    this.#current = document;
    if (at < this.#keptFrom) {
      // Undone to before the stored copy starts: it starts here from now on, and the entries ahead can be redone.
      this.#keptFrom = at;
      this.#keptDocument = document;
      this.#unsaved = Math.min(this.#unsaved, at);
    }
  }

  /** Makes the stored copy start at the sketch as it stands. What is remembered in this page stays whole. */
  rebase() {
    this.#keptFrom = this.#at;
    this.#keptDocument = this.#current;
  }

  copy() {
    return new Journal({ ...this.replay(), current: this.#current });
  }

  /** The sketch as it stands with nothing to undo; what is stored of the old entries is dropped with the next save. */
  withoutHistory() {
    return new Journal({ document: this.#current, first: this.#first + this.#entries.length });
  }

  /** @returns {Replay} */
  replay() {
    return { document: this.#document, entries: [...this.#entries], at: this.#at };
  }

  /** @returns {KeptJournal} */
  kept() {
    return {
      document: this.#keptDocument,
      first: this.#first + this.#keptFrom,
      entries: this.#entries.slice(this.#keptFrom),
      at: this.#at - this.#keptFrom,
      current: this.#current,
    };
  }

  /**
   * Number of the first entry storage may lack; from now on they count as written.
   * Give the number back to `stillUnsaved` when the writing failed.
   * @returns {number}
   */
  takeUnsaved() {
    const since = this.#first + this.#unsaved;
    this.#unsaved = this.#entries.length;
    return since;
  }

  /** @param {number} since */
  stillUnsaved(since) {
    this.#unsaved = Math.min(this.#unsaved, since - this.#first);
  }
}
