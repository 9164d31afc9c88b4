/** Ways in and out for sketches: blank, shelf, file. What cannot be opened leaves the sketch as it was. */

import { acceptDrops, pickFile, readFile, saveFile } from "./keep/files.js";

/**
 * @param {object} parts
 * @param {import("./state.js").State} parts.state
 * @param {import("./keep/keeper.js").Keeper} parts.keeper
 * @param {ReturnType<typeof import("./panels/messages.js").createMessages>} parts.messages
 * @param {HTMLElement} parts.desk
 */
export function createFileDoors({ state, keeper, messages, desk }) {
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

  acceptDrops(desk, { onFile: (file) => void openFile(file), onOver: (over) => desk.classList.toggle("drop-here", over) });

  return {
    open: () => void open(),
    save: () => void save(),
    blank: () => void begin({ do: "new" }),
    /** @param {string} slug */
    scenario: (slug) => {
      void begin({ do: "scenario", slug }).then((reply) => {
        if (!reply.ok && !reply.stopped) messages.complain(reply.error);
      });
    },
  };
}
