// One IndexedDB database, opened with limited patience. A browser may refuse it (private window, sandboxed frame),
// never answer (a damaged profile) or close it under us (site data cleared); every operation says which.

/** @typedef {"full" | "unavailable" | "slow" | "conflict"} StoreReason */

/** Why something could not be kept. */
export class StoreProblem extends Error {
  /**
   * @param {StoreReason} reason
   * @param {string} message
   * @param {Promise<unknown>} [late]  settles when the operation that was given up on ends after all
   */
  constructor(reason, message, late) {
    super(message);
    this.name = "StoreProblem";
    this.reason = reason;
    this.late = late;
  }
}

/** Storage that has not answered in this time is treated as if it were not there. */
export const PATIENCE_MS = 2000;

const VERSION = 1;

/**
 * @typedef {object} Database
 * @property {<T>(stores: string[], mode: IDBTransactionMode, work: (stores: Record<string, IDBObjectStore>) => T) =>
 *   Promise<Awaited<T>>} run  runs `work` in one transaction; answers once the transaction is complete
 */

/**
 * @param {{name?: string, patience_ms?: number}} [options]
 * @returns {Database}
 */
export function createDatabase({ name = "steelyard", patience_ms = PATIENCE_MS } = {}) {
  /** @type {Promise<IDBDatabase> | null} */
  let opening = null;

  function open() {
    opening ??= new Promise((resolve, reject) => {
      const request = indexedDB.open(name, VERSION);
      request.onupgradeneeded = () => {
        const database = request.result;
        database.createObjectStore("sketches", { keyPath: "id" });
        database.createObjectStore("entries", { keyPath: ["id", "number"] });
        database.createObjectStore("pictures", { keyPath: "id" });
        database.createObjectStore("marks", { keyPath: "key" });
      };
      request.onsuccess = () => {
        const database = request.result;
        database.onclose = () => (opening = null);
        database.onversionchange = () => {
          database.close();
          opening = null;
        };
        resolve(database);
      };
      request.onerror = () => reject(request.error);
    });
    opening.catch(() => (opening = null));
    return opening;
  }

  /** @type {Database["run"]} */
  async function attempt(stores, mode, work) {
    const database = await open();
    /** @type {IDBTransaction} */
    let transaction;
    try {
      transaction = database.transaction(stores, mode);
    } catch (problem) {
      opening = null; // a connection that was closed under us: the next attempt opens a new one
      throw problem;
    }
    const complete = new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve(undefined);
      transaction.onabort = () => reject(transaction.error ?? new Error("the transaction was given up"));
    });
    complete.catch(() => {});
    let result;
    try {
      const opened = Object.fromEntries(stores.map((store) => [store, transaction.objectStore(store)]));
      result = await work(opened);
    } catch (problem) {
      if (problem instanceof StoreProblem) {
        abort(transaction);
        throw problem;
      }
      // A failed request aborts its transaction, whose error says more (a full disk) than the request's own.
      abort(transaction);
      throw transaction.error ?? problem;
    }
    // Nothing more is coming: the browser need not ask this page again, which may be closing.
    if (mode === "readwrite") transaction.commit();
    await complete;
    return result;
  }

  return {
    async run(stores, mode, work) {
      const running = attempt(stores, mode, work);
      running.catch(() => {});
      /** @type {ReturnType<typeof setTimeout> | undefined} */
      let timer;
      const tooLong = new Promise((_, reject) => {
        timer = setTimeout(() => {
          reject(new StoreProblem("slow", `storage did not answer in ${patience_ms / 1000} s`, running));
        }, patience_ms);
      });
      try {
        return /** @type {any} */ (await Promise.race([running, tooLong]));
      } catch (problem) {
        throw problem instanceof StoreProblem ? problem : named(problem);
      } finally {
        clearTimeout(timer);
      }
    },
  };
}

/** @param {IDBTransaction} transaction */
function abort(transaction) {
  try {
    transaction.abort();
  } catch {
    // already finished
  }
}

/** @param {any} problem */
function named(problem) {
  const reason = problem?.name === "QuotaExceededError" ? "full" : "unavailable";
  return new StoreProblem(reason, String(problem?.message ?? problem));
}

/**
 * @template T
 * @param {IDBRequest<T>} request
 * @returns {Promise<T>}
 */
export function answer(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}
