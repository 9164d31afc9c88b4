// Text for elsewhere: to the clipboard, or as a file where the browser keeps the clipboard to itself.

import { download } from "./files.js";

/**
 * Call it from a click or a key. The text may come later: browsers that ask for it at once are given the promise.
 * @param {Promise<{text: string, filename: string}>} coming
 * @returns {Promise<"copied"|"saved">}
 */
export async function takeAlong(coming) {
  try {
    if (typeof ClipboardItem === "undefined" || !navigator.clipboard?.write) {
      await navigator.clipboard.writeText((await coming).text);
    } else {
      const blob = coming.then(({ text }) => new Blob([text], { type: "text/plain" }));
      await navigator.clipboard.write([new ClipboardItem({ "text/plain": blob })]);
    }
    return "copied";
  } catch {
    const { text, filename } = await coming; // rejects when there is no text at all
    download(new Blob([text], { type: "text/plain" }), filename);
    return "saved";
  }
}
