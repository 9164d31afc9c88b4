// Fetches the files of the engine side by side, counts their bytes as they arrive, and hands them to Pyodide, which
// would fetch them one after the other and tells no progress.

const WASM_TYPE = "application/wasm";

/**
 * Responses under way by address. Each is handed out once.
 */
export class Fetched {
  /** @param {(done: number) => void} onProgress called with the share of the known bytes that has arrived */
  constructor(onProgress) {
    this.onProgress = onProgress;
    /** @type {Map<string, Promise<Response>>} */
    this.responses = new Map();
    /** Rejects when a file could not be had. Pyodide itself would only warn, and wait for ever. @type {Promise<never>} */
    this.failure = new Promise((_, reject) => {
      this.fail = reject;
    });
    this.failure.catch(() => undefined);
    this.expectedBytes = 0;
    this.arrivedBytes = 0;
  }

  /**
   * Starts to fetch an address.
   * @param {string} url
   * @param {{bytes: number, counted: boolean}} about its size; uncounted, it is counted whole when its headers are
   *   there, and its stream is left alone, which lets the browser keep the compiled code
   */
  start(url, { bytes, counted }) {
    this.expectedBytes += bytes;
    const response = fetch(url).then((answer) => {
      if (!answer.ok) throw new FileMissing(url, answer.status);
      const wasm = url.endsWith(".wasm");
      if (counted || (wasm && answer.headers.get("Content-Type") !== WASM_TYPE)) {
        return this.counting(answer, wasm ? WASM_TYPE : null);
      }
      this.arrived(bytes);
      return answer;
    });
    response.catch((error) => this.fail(error));
    this.responses.set(url, response);
  }

  /**
   * The response begun for an address, or null when none was begun or it was taken before.
   * @param {string} url
   * @returns {Promise<Response> | null}
   */
  take(url) {
    const response = this.responses.get(url) ?? null;
    this.responses.delete(url);
    return response;
  }

  /**
   * The bytes of an address that was started.
   * @param {string} url
   */
  async bytes(url) {
    const response = await (this.take(url) ?? fetch(url));
    return new Uint8Array(await response.arrayBuffer());
  }

  /**
   * Runs `work` while `fetch` of this worker answers from here.
   * @template T
   * @param {() => Promise<T>} work
   * @returns {Promise<T>}
   */
  async serving(work) {
    const ordinary = self.fetch;
    self.fetch = (input, init) => {
      const url = input instanceof Request ? input.url : new URL(input, location.href).href;
      return this.take(url) ?? ordinary(input, init);
    };
    try {
      return await work();
    } finally {
      self.fetch = ordinary;
    }
  }

  /** @param {number} bytes */
  arrived(bytes) {
    this.arrivedBytes += bytes;
    this.onProgress(Math.min(1, this.arrivedBytes / this.expectedBytes));
  }

  /**
   * @param {Response} answer
   * @param {string | null} type the type to hand on instead of the one that was sent
   */
  counting(answer, type) {
    const transform = (/** @type {Uint8Array} */ chunk, /** @type {TransformStreamDefaultController} */ controller) => {
      this.arrived(chunk.byteLength);
      controller.enqueue(chunk);
    };
    // Bytes are let in as they come, also those that are read only later, or the count would wait for the reader.
    const count = new TransformStream({ transform }, undefined, { highWaterMark: Infinity });
    const sent = answer.headers.get("Content-Type") ?? "";
    answer.body?.pipeTo(count.writable).catch((error) => this.fail(error));
    return new Response(count.readable, { headers: { "Content-Type": type ?? sent } });
  }
}

/** A file of the site that the server does not have. */
export class FileMissing extends Error {
  /**
   * @param {string} url
   * @param {number} status
   */
  constructor(url, status) {
    super(`${url} answered ${status}`);
    this.name = "FileMissing";
  }
}
