/** The title and question of the sketch, the views, and the menu. */

import { make, put, say } from "../dom.js";
import { createDialog } from "./dialog.js";
import { icon } from "./icons.js";
import { createMenu } from "./menu.js";

export const VIEWS = /** @type {const} */ ([
  ["set-up", "Set-up", "The body with what holds it, as drawn in the trade"],
  ["extended", "Extended", "The body alone, with every force at its point"],
  ["point", "Point", "Every force from one dot: what moves the centre of mass"],
  ["polygon", "Polygon", "The forces head to tail: closed when they add up to nothing"],
]);

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 * @param {() => Array<import("./menu.js").MenuItem|Element>} menuItems
 * @param {Array<{label: string, run: () => void}>} actions the most wanted of them, in sight where there is room
 */
export function createHeader(root, state, menuItems, actions) {
  const title = make("h1", { class: "title" });
  const question = make("p", { class: "question" });
  const rename = make("button", { type: "button", class: "title-block", title: "Change title and question", onclick: () => void edit() }, title, question);
  const views = make("div", { class: "views", role: "group", "aria-label": "View" });
  /** @type {Map<string, HTMLButtonElement>} */
  const tabs = new Map();
  for (const [view, label, help] of VIEWS) {
    const tab = make("button", { type: "button", class: "view", title: help, "aria-pressed": "false", onclick: () => void state.show(view) }, icon(`view-${view}`), make("span", { text: label }));
    tabs.set(view, tab);
    views.append(tab);
  }
  const menuButton = make("button", { type: "button", class: "plain-button menu-button" }, icon("more"), make("span", { class: "unseen", text: "Menu" }));
  const menu = createMenu(menuButton, menuItems);
  const inSight = actions.map(({ label, run }) => make("button", { type: "button", class: "action", text: label, onclick: run }));
  root.append(rename, views, make("div", { class: "actions" }, ...inSight, menuButton, menu));

  const titleInput = make("input", { type: "text", id: "edit-title", autocomplete: "off", maxlength: "120" });
  const questionInput = make("input", { type: "text", id: "edit-question", autocomplete: "off", maxlength: "240" });
  const form = make(
    "form",
    { class: "title-form" },
    make("label", { for: "edit-title", text: "Title" }),
    titleInput,
    make("label", { for: "edit-question", text: "Question" }),
    questionInput,
    make("button", { type: "submit", class: "strong-button", text: "Keep" }),
  );
  const editor = createDialog("Title and question", "title-dialog", form);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    editor.dialog.close();
    void state.command("title", { title: titleInput.value.trim(), question: questionInput.value.trim() });
  });

  async function edit() {
    titleInput.value = state.reply?.panels.title ?? "";
    questionInput.value = state.reply?.panels.question ?? "";
    editor.open();
    titleInput.select();
  }

  return {
    /** @param {import("../protocol.js").StateReply} reply */
    update(reply) {
      for (const [view, tab] of tabs) put(tab, "aria-pressed", String(reply.view === view));
      say(title, reply.panels.title);
      say(question, reply.panels.question);
      question.hidden = reply.panels.question === "";
      const name = reply.panels.title ? `${reply.panels.title} · Steelyard` : "Steelyard";
      if (document.title !== name) document.title = name;
    },
  };
}
