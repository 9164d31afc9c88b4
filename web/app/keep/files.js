// Sketches as files: saving, opening, dropping on the page. What cannot be read is said in words.

/** A sketch of a thousand things is about 0.5 MB of text; more than this is not a sketch. */
export const LARGEST_FILE_BYTES = 8_000_000;

const KIND = "application/json";

/** Why a file was not opened; the same shape as the engine's errors. */
export class FileProblem extends Error {
  /**
   * @param {string} code
   * @param {string} message  says what must be, what was got and what to do
   * @param {string} hint
   */
  constructor(code, message, hint) {
    super(message);
    this.name = "FileProblem";
    this.code = code;
    this.where = "file";
    this.hint = hint;
  }
}

/**
 * Reads the text of a sketch file. Throws `FileProblem`.
 * @param {File} file
 * @returns {Promise<string>}
 */
export async function readFile(file) {
  if (file.size > LARGEST_FILE_BYTES) {
    const size = (file.size / 1e6).toFixed(1);
    const limit = LARGEST_FILE_BYTES / 1e6;
    throw new FileProblem("file-too-large", `“${file.name}” is ${size} MB: a sketch is at most ${limit} MB.`,
      "Choose a file that Save made.");
  }
  if (file.size === 0) {
    throw new FileProblem("file-empty", `“${file.name}” is empty.`, "Choose a file that Save made.");
  }
  let bytes;
  try {
    bytes = await file.arrayBuffer();
  } catch {
    throw new FileProblem("file-unreadable", `“${file.name}” could not be read.`,
      "It may be a folder, or have been moved or changed. Choose it again.");
  }
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new FileProblem("file-not-text", `“${file.name}” is not text in UTF-8.`,
      "A sketch file is JSON text. If an editor changed it, save it again as UTF-8.");
  }
}

/**
 * Saves text as a file: asks where, in browsers that can; else downloads it.
 * Call it from a click or a key. Throws `FileProblem` when the disk refuses.
 * @param {{text: string, filename: string}} save  as the engine's `save` answers
 * @returns {Promise<"saved" | "downloaded" | "cancelled">}
 */
export async function saveFile({ text, filename }) {
  const blob = new Blob([text], { type: KIND });
  const picker = /** @type {any} */ (window).showSaveFilePicker;
  if (!picker) return download(blob, filename);
  let handle;
  try {
    handle = await picker({
      suggestedName: filename,
      types: [{ description: "Steelyard sketch", accept: { [KIND]: [".json"] } }],
    });
  } catch (problem) {
    if (/** @type {Error} */ (problem).name === "AbortError") return "cancelled";
    return download(blob, filename); // refused in this frame, or the click is too long ago
  }
  try {
    const stream = await handle.createWritable();
    await stream.write(blob);
    await stream.close();
    return "saved";
  } catch {
    throw new FileProblem("file-not-written", `“${handle.name}” could not be written.`,
      "The disk may be full or the folder protected. Save it somewhere else.");
  }
}

/**
 * @param {Blob} blob
 * @param {string} filename
 * @returns {"downloaded"}
 */
export function download(blob, filename) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = filename;
  link.hidden = true;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // some browsers start the download late
  return "downloaded";
}

/**
 * Lets the user choose a file; null when they do not. Call it from a click or a key.
 * @returns {Promise<File | null>}
 */
export function pickFile() {
  return new Promise((resolve) => {
    const input = document.createElement("input");
    input.type = "file";
    input.accept = `.json,${KIND}`;
    input.hidden = true;
    const done = (/** @type {File | null} */ file) => {
      input.remove();
      resolve(file);
    };
    input.addEventListener("change", () => done(input.files?.[0] ?? null));
    input.addEventListener("cancel", () => done(null));
    document.body.append(input);
    input.click();
  });
}

/**
 * Lets files be dropped on an element. A file dropped anywhere else is not opened by the browser over the page.
 * @param {HTMLElement} element
 * @param {object} hooks
 * @param {(file: File) => void} hooks.onFile
 * @param {(over: boolean) => void} [hooks.onOver]  a file hangs over the element, or no longer does
 * @returns {() => void} takes it all back
 */
export function acceptDrops(element, { onFile, onOver = () => {} }) {
  const ended = new AbortController();
  const { signal } = ended;
  const carriesFiles = (/** @type {DragEvent} */ event) => event.dataTransfer?.types.includes("Files") ?? false;
  const inside = (/** @type {DragEvent} */ event) => element.contains(/** @type {Node} */ (event.target));

  addEventListener("dragover", (event) => {
    if (!carriesFiles(event)) return;
    event.preventDefault();
    const over = inside(event);
    if (event.dataTransfer) event.dataTransfer.dropEffect = over ? "copy" : "none";
    onOver(over);
  }, { signal });
  addEventListener("dragleave", (event) => {
    if (event.relatedTarget === null) onOver(false);
  }, { signal });
  addEventListener("drop", (event) => {
    if (!carriesFiles(event)) return;
    event.preventDefault();
    onOver(false);
    const file = event.dataTransfer?.files[0];
    if (file && inside(event)) onFile(file);
  }, { signal });
  return () => ended.abort();
}
