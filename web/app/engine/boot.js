// Starts Python with the engine in this worker: from the kept memory when there is one, else from the files.

import { BUILD, PYTHON_URL } from "./build.js";
import { Fetched } from "./fetching.js";
import { findSnapshot, refuseSnapshot } from "./snapshot.js";
import { FETCHING, LOADING, STARTING, step } from "./steps.js";

/** @typedef {"snapshot" | "plain"} Way */
/** @typedef {(text: string) => string} Door one JSON request in, one JSON reply out */
/** @typedef {{bytes: Record<string, number>, lock: object}} About what the build says of its files */

const ENGINE_PATH = "/lib/engine.zip";
const LIBRARY = "python.zip";
const ENGINE = "engine.zip";
const WASM = "pyodide.asm.wasm";
const FETCHED = [WASM, LIBRARY, ENGINE];
const MODULES = ["pyodide.mjs", "pyodide.asm.mjs"];
const FIND_LIBRARY = `import sys; next(path for path in sys.path if path.endswith(".zip") and path != "${ENGINE_PATH}")`;
const EMPTY_WASM_MODULE = new Uint8Array([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0]);

/** Why Python cannot start, with a code the page has words for. */
export class BootError extends Error {
  /**
   * @param {string} code
   * @param {string} message
   */
  constructor(code, message) {
    super(message);
    this.name = "BootError";
    this.code = code;
  }
}

/**
 * @param {(step: import("./steps.js").Step) => void} tell
 * @param {{plainOnly: boolean}} options
 * @returns {Promise<{door: Door, way: Way}>}
 */
export async function boot(tell, { plainOnly }) {
  refuseWithoutWebAssembly();
  const kept = plainOnly ? null : await findSnapshot();
  if (kept) {
    try {
      return { door: openDoor(await wake(kept.arrayBuffer(), tell)), way: "snapshot" };
    } catch (error) {
      console.warn("The kept start could not be used; starting from the files.", error);
      await refuseSnapshot(String(error)).catch(() => undefined);
    }
  }
  return { door: openDoor(await startPlain(tell, {})), way: "plain" };
}

/**
 * The memory of a fresh Python with the engine loaded, to be kept for later visits.
 * @returns {Promise<Uint8Array>}
 */
export async function takeMemory() {
  refuseWithoutWebAssembly();
  const pyodide = await startPlain(() => undefined, { _makeSnapshot: true });
  return pyodide.makeMemorySnapshot();
}

/**
 * @param {(step: import("./steps.js").Step) => void} tell
 * @param {object} options
 */
async function startPlain(tell, options) {
  const started = startFetching(tell, false);
  const pyodide = await load(started, options);
  tell(step(LOADING, 0, false));
  pyodide.FS.writeFile(ENGINE_PATH, await started.fetched.bytes(PYTHON_URL + ENGINE));
  pyodide.runPython(`import sys; sys.path.insert(0, "${ENGINE_PATH}"); import packed_start`);
  tell(step(LOADING, 1, false));
  return pyodide;
}

/**
 * @param {Promise<ArrayBuffer>} memory
 * @param {(step: import("./steps.js").Step) => void} tell
 */
async function wake(memory, tell) {
  const started = startFetching(tell, true);
  const pyodide = await load(started, { _loadSnapshot: memory });
  tell(step(LOADING, 0, true));
  // Memory holds no files: what is imported later must find its archive again.
  const libraryPath = pyodide.runPython(FIND_LIBRARY);
  pyodide.FS.mkdirTree("/lib");
  pyodide.FS.writeFile(libraryPath, await started.fetched.bytes(PYTHON_URL + LIBRARY));
  pyodide.FS.writeFile(ENGINE_PATH, await started.fetched.bytes(PYTHON_URL + ENGINE));
  // Memory repeats the random numbers of the day it was taken.
  pyodide.runPython(`"random" in sys.modules and sys.modules["random"].seed()`);
  tell(step(LOADING, 1, true));
  return pyodide;
}

/**
 * On a first visit bytes are counted as they come; later they come from the browser's cache at once.
 * @param {(step: import("./steps.js").Step) => void} tell
 * @param {boolean} fromSnapshot
 */
function startFetching(tell, fromSnapshot) {
  const onProgress = (/** @type {number} */ done) =>
    tell(done < 1 ? step(FETCHING, done, fromSnapshot) : step(STARTING, 0, fromSnapshot));
  tell(step(FETCHING, 0, fromSnapshot));
  const fetched = new Fetched({ onProgress, counted: !fromSnapshot });
  const about = readAbout();
  for (const name of FETCHED) fetched.start(PYTHON_URL + name);
  void about.then(({ bytes }) => fetched.expect(FETCHED.reduce((sum, name) => sum + bytes[name], 0)), fetched.fail);
  return { fetched, about };
}

/**
 * @param {ReturnType<typeof startFetching>} started
 * @param {object} options
 */
async function load({ fetched, about }, options) {
  // Both modules are asked for at once; Pyodide would ask for the second only after the first has run.
  const modules = Promise.all(MODULES.map((name) => import(PYTHON_URL + name)));
  const [{ loadPyodide }] = await Promise.race([modules, fetched.failure]);
  return fetched.serving(() =>
    loadPyodide({
      indexURL: PYTHON_URL,
      packageBaseUrl: PYTHON_URL,
      stdLibURL: PYTHON_URL + LIBRARY,
      lockFileContents: about.then(({ lock }) => lock),
      env: { HOME: "/home/pyodide", STEELYARD_BUILD: BUILD },
      ...options,
    }),
  );
}

/** @returns {Promise<About>} */
async function readAbout() {
  const answer = await fetch(`${PYTHON_URL}about.json`);
  if (!answer.ok) throw new BootError("file-missing", `about.json answered ${answer.status}`);
  return answer.json();
}

/**
 * @param {any} pyodide
 * @returns {Door}
 */
function openDoor(pyodide) {
  return pyodide.runPython("from steelyard.bridge import handle; handle");
}

/** Loading Python would hang for ever where compiling is forbidden, so a module of eight bytes is tried first. */
function refuseWithoutWebAssembly() {
  if (typeof WebAssembly === "undefined") throw new BootError("no-webassembly", "WebAssembly is not there");
  try {
    new WebAssembly.Module(EMPTY_WASM_MODULE);
  } catch (error) {
    throw new BootError("webassembly-forbidden", String(error));
  }
}
