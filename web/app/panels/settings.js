/** How this sketch is read and shown. */

import { make, reconcile, say } from "../dom.js";
import { createDialog } from "./dialog.js";
import { FieldView } from "./field.js";

/** @param {import("../state.js").State} state */
export function createSettings(state) {
  const list = make("div", { class: "settings-list" });
  const complaint = make("p", { class: "settings-complaint", hidden: true });
  const settings = createDialog("Settings", "settings-dialog", make("p", { text: "They belong to this sketch and are saved with it." }), list, complaint);
  /** @type {Map<string, FieldView>} */
  const views = new Map();
  /** @type {import("./field.js").Writer} */
  const writer = {
    preview: () => Promise.resolve({ ok: true }),
    write: (key, text) => state.command("settings", { key, text }, { quiet: true }),
    restore: () => Promise.resolve(),
    act: () => {},
    leave: () => {},
    complain: (words) => {
      say(complaint, words);
      complaint.hidden = words === "";
    },
  };
  return {
    open: settings.open,
    /** @param {import("../protocol.js").Field[]} items */
    update(items) {
      reconcile(
        list,
        items,
        (item) => item.key,
        (item) => {
          const view = new FieldView(item, writer, `setting-${item.key}`);
          views.set(item.key, view);
          return view.element;
        },
        (_element, item) => views.get(item.key)?.update(item),
      );
    },
  };
}
