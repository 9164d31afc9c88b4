// Fetches the files of the engine side by side before Pyodide asks for them, counts their bytes as they arrive, and
// hands them over. Pyodide alone would begin to compile only after its own code had come, and tells no progress.

const WASM_TYPE = "application/wasm";

/** Files under way by address. */
export class Fetched {
  /**
   * @param {object} options
   * @param {(done: number) => void} options.onProgress called with the share of the bytes that has arrived
   * @param {boolean} options.counted count bytes as they come; else a file counts whole when it begins to come, and
   *   its stream is left alone, which lets the browser keep the compiled code
   */
  constructor({ onProgress, counted }) {
    this.onProgress = onProgress;
    this.counted = counted;
    /** @type {Map<string, Promise<Response>>} */
    this.responses = new Map();
    /** @type {Promise<WebAssembly.Module> | null} */
    this.compiled = null;
    this.expectedBytes = 0;
    this.arrivedBytes = 0;
    /** @type {(error: unknown) => void} */
    this.fail = () => undefined;
    /** @type {Promise<never>} rejects when a file cannot be had; Pyodide itself would only warn, and wait for ever */
    this.failure = new Promise((_, reject) => {
      this.fail = reject;
    });
    this.failure.catch(() => undefined);
  }

  /**
   * Starts to fetch an address, and to compile what comes if it is WebAssembly.
   * @param {string} url
   */
  start(url) {
    const wasm = url.endsWith(".wasm");
    const response = fetch(url).then((answer) => {
      if (!answer.ok) throw new Error(`${url} answered ${answer.status}`);
      const type = answer.headers.get("Content-Type") ?? "";
      if (this.counted || (wasm && type !== WASM_TYPE)) return this.counting(answer, wasm ? WASM_TYPE : type);
      this.arrived(Number(answer.headers.get("Content-Length") ?? 0));
      return answer;
    });
    if (wasm) this.compiled = WebAssembly.compileStreaming(response);
    else this.responses.set(url, response);
    Promise.all([response, wasm && this.compiled]).catch((error) => this.fail(error));
  }

  /**
   * Says how many bytes are to come; progress is told from then on.
   * @param {number} bytes
   */
  expect(bytes) {
    this.expectedBytes = bytes;
    this.arrived(0);
  }

  /**
   * The bytes of an address that was started.
   * @param {string} url
   */
  async bytes(url) {
    const response = await (this.responses.get(url) ?? fetch(url));
    return new Uint8Array(await response.clone().arrayBuffer());
  }

  /**
   * Runs `work`, which loads Python, while this worker's `fetch` and WebAssembly answer from here.
   * @template T
   * @param {() => Promise<T>} work
   * @returns {Promise<T>} rejects also when a file cannot be had
   */
  async serving(work) {
    const ordinary = { fetch: self.fetch, instantiate: WebAssembly.instantiateStreaming };
    self.fetch = (input, init) => {
      const url = input instanceof Request ? input.url : new URL(input, location.href).href;
      if (url.endsWith(".wasm") && this.compiled) return Promise.resolve(new Response());
      return this.responses.get(url)?.then((response) => response.clone()) ?? ordinary.fetch(input, init);
    };
    WebAssembly.instantiateStreaming = async (source, imports) => {
      if (!this.compiled) return ordinary.instantiate(source, imports);
      const module = await this.compiled;
      return { module, instance: await WebAssembly.instantiate(module, imports) };
    };
    try {
      return await Promise.race([work(), this.failure]);
    } finally {
      self.fetch = ordinary.fetch;
      WebAssembly.instantiateStreaming = ordinary.instantiate;
    }
  }

  /** @param {number} bytes */
  arrived(bytes) {
    this.arrivedBytes += bytes;
    if (this.expectedBytes > 0) this.onProgress(Math.min(1, this.arrivedBytes / this.expectedBytes));
  }

  /**
   * @param {Response} answer
   * @param {string} type the type to hand on, whatever was sent
   */
  counting(answer, type) {
    const transform = (/** @type {Uint8Array} */ chunk, /** @type {TransformStreamDefaultController} */ controller) => {
      this.arrived(chunk.byteLength);
      controller.enqueue(chunk);
    };
    // Bytes are let in as they come, also those that are read only later, or the count would wait for the reader.
    const count = new TransformStream({ transform }, undefined, { highWaterMark: Infinity });
    answer.body?.pipeTo(count.writable).catch((error) => this.fail(error));
    return new Response(count.readable, { headers: { "Content-Type": type } });
  }
}
