// Says in plain words why the engine did not start.

import { PYTHON_URL } from "./build.js";

/** @typedef {{message: string, hint: string}} Diagnosis */

const MODULE_TYPES = ["text/javascript", "application/javascript"];
const WHOLE_FOLDER = "Copy the whole built folder to the server again.";

/** @type {Record<string, Diagnosis>} */
const BY_CODE = {
  "no-webassembly": {
    message: "This browser has no WebAssembly, which the engine needs.",
    hint: "Use a current browser, or switch WebAssembly on in its settings (some lockdown modes switch it off).",
  },
  "webassembly-forbidden": {
    message: "This server's Content-Security-Policy forbids WebAssembly, which the engine needs.",
    hint: "Whoever runs the server must add 'wasm-unsafe-eval' to script-src.",
  },
  "no-worker": {
    message: "This page may not start a worker, which the engine runs in.",
    hint: "A page in a sandboxed frame needs allow-same-origin; a page opened as a file needs a web server.",
  },
};

/**
 * @param {{code: string, message: string}} failure what is known of it; the rest is asked of the server
 * @returns {Promise<Diagnosis>}
 */
export async function diagnose({ code, message }) {
  if (code in BY_CODE) return BY_CODE[code];
  const files = [
    { url: new URL("./worker.js", import.meta.url).href, module: true },
    { url: new URL("./boot.js", import.meta.url).href, module: true },
    { url: `${PYTHON_URL}pyodide.mjs`, module: true },
    { url: `${PYTHON_URL}pyodide.asm.mjs`, module: true },
    { url: `${PYTHON_URL}pyodide.asm.wasm`, module: false },
    { url: `${PYTHON_URL}python.zip`, module: false },
    { url: `${PYTHON_URL}engine.zip`, module: false },
    { url: `${PYTHON_URL}about.json`, module: false },
  ];
  const found = await Promise.all(files.map(({ url, module }) => inspect(url, module)));
  return (
    found.find((diagnosis) => diagnosis !== null) ??
    (code === "silent" ? null : await findDamage()) ?? {
      message: code === "silent" ? message : `The engine could not start: ${message}.`,
      hint: "Reload the page. If it stays so, try another browser.",
    }
  );
}

/**
 * @param {string} url
 * @param {boolean} module
 * @returns {Promise<Diagnosis | null>}
 */
async function inspect(url, module) {
  const name = url.split("/").at(-1);
  let answer;
  try {
    answer = await fetch(url, { method: "HEAD", cache: "no-store" });
  } catch {
    return {
      message: `The server could not be reached for ${name}.`,
      hint: "Check the network, and that the server still runs; then reload the page.",
    };
  }
  if (!answer.ok) return { message: `The server does not give ${name} (it answered ${answer.status}).`, hint: WHOLE_FOLDER };
  const type = (answer.headers.get("Content-Type") ?? "").split(";")[0].trim().toLowerCase();
  if (module && !MODULE_TYPES.includes(type)) {
    return {
      message: `The server sends ${name} as ${type || "nothing known"}; browsers only run it as text/javascript.`,
      hint: "Whoever runs the server must set the MIME type of .js and .mjs files to text/javascript.",
    };
  }
  return null;
}

/**
 * Looks for a file that is not as long as the build says, as after a copy that broke off.
 * @returns {Promise<Diagnosis | null>}
 */
async function findDamage() {
  try {
    const { bytes } = await (await fetch(`${PYTHON_URL}about.json`, { cache: "no-store" })).json();
    for (const [name, expected] of Object.entries(bytes)) {
      const got = (await (await fetch(PYTHON_URL + name, { cache: "no-store" })).arrayBuffer()).byteLength;
      if (got !== expected) return { message: `The server gives ${name} damaged: ${got} bytes instead of ${expected}.`, hint: WHOLE_FOLDER };
    }
  } catch {
    // Then the words of the failure itself are all there is to say.
  }
  return null;
}
