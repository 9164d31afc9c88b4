/** Ways in and out for sketches: blank, shelf, file. What cannot be opened leaves the sketch as it was. */

import { takeAlong } from "./keep/clipboard.js";
import { acceptDrops, pickFile, readFile, saveFile } from "./keep/files.js";

/**
 * @param {object} parts
 * @param {import("./state.js").State} parts.state
 * @param {import("./keep/keeper.js").Keeper} parts.keeper
 * @param {ReturnType<typeof import("./panels/messages.js").createMessages>} parts.messages
 * @param {HTMLElement} parts.desk
 * @param {(words: string) => void} parts.say
 */
export function createFileDoors({ state, keeper, messages, desk, say }) {
  /** @param {import("./protocol.js").Message} message */
  async function begin(message) {
    state.take(null);
    const reply = await state.ask(message, { quiet: true });
    if (reply.ok) await keeper.begin(reply);
    return reply;
  }

  const anotherFile = { label: "Choose another file", run: () => void open() };

  /** @param {File} file */
  async function openFile(file) {
    let text;
    try {
      text = await readFile(file);
    } catch (problem) {
      messages.refuse(/** @type {any} */ (problem), [anotherFile]);
      return;
    }
    const reply = await begin({ do: "open", document: text });
    if (!reply.ok && !reply.stopped) messages.refuse(reply.error, [anotherFile]);
  }

  async function open() {
    const file = await pickFile();
    if (file) await openFile(file);
  }

  async function save() {
    const reply = await state.ask({ do: "save" });
    if (!reply.ok) return;
    try {
      await saveFile({ text: reply.text, filename: reply.filename });
    } catch (problem) {
      messages.complain(/** @type {any} */ (problem));
    }
  }

  /** @param {string} text */
  async function words(text) {
    const taken = await takeAlong(Promise.resolve({ text, filename: "problem.txt" })).catch(() => null);
    if (taken !== null) say(taken === "copied" ? "The problem copied." : "The clipboard is closed to this page: the problem saved as problem.txt.");
  }

  /** The working as a text. @param {string} form */
  async function copy(form) {
    const asked = state.ask({ do: "copy", as: form });
    const text = asked.then((reply) => {
      if (!reply.ok) throw new Error("there is nothing to copy");
      return /** @type {{text: string, filename: string}} */ (reply);
    });
    text.catch(() => {}); // said already, where it was asked for
    const taken = await takeAlong(text).catch(() => null);
    if (taken === null) return;
    const { form: called, steps, filename } = await asked;
    const what = steps === 1 ? "One step" : `${steps} steps`;
    say(taken === "copied" ? `${what} copied as ${called}.` : `The clipboard is closed to this page: ${what.toLowerCase()} saved as ${filename}.`);
  }

  acceptDrops(desk, { onFile: (file) => void openFile(file), onOver: (over) => desk.classList.toggle("drop-here", over) });

  return {
    open: () => void open(),
    save: () => void save(),
    /** @param {string} form */
    copy: (form) => void copy(form),
    /** Sentences, to the clipboard. @param {string} text */
    words: (text) => void words(text),
    blank: () => void begin({ do: "new" }),
    /** @param {string} slug */
    scenario: (slug) => {
      void begin({ do: "scenario", slug }).then((reply) => {
        if (!reply.ok && !reply.stopped) messages.complain(reply.error);
      });
    },
  };
}
