/** The tray: what can be put on the board, grouped by grammar, and the way back. */

import { make, put, say } from "../dom.js";
import { icon, mark } from "./icons.js";

/** @typedef {import("../protocol.js").Tool} Tool */

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 * @param {{close: () => void, refuse: (tool: Tool) => void}} calls close: the tray lies over the page on a phone; refuse: say why a tool is of no use here
 */
export function createTray(root, state, calls) {
  const groups = make("div", { class: "tray-groups" });
  const undo = historyButton("undo", "Undo", state);
  const redo = historyButton("redo", "Redo", state);
  root.append(
    make("p", { class: "wordmark" }, mark(), make("span", { text: "steelyard" })),
    groups,
    make("div", { class: "tray-history" }, undo.button, redo.button),
  );
  /** @type {Map<string, HTMLButtonElement>} */
  const buttons = new Map();
  /** @type {Tool[]} */
  let tools = [];

  /** @param {Tool} tool */
  function toolButton(tool) {
    const button = make(
      "button",
      { type: "button", class: "tool", "aria-pressed": "false", title: `${tool.help ?? tool.label}${tool.key ? ` (${tool.key.toUpperCase()})` : ""}` },
      icon(tool.name),
      make("span", { text: tool.label }),
    );
    // A second click within the double-click time keeps the tool; one after it puts the tool down.
    button.addEventListener("click", (event) => {
      const mine = state.tool?.name === tool.name;
      if (!state.serves(tool)) {
        calls.refuse(tool);
        return;
      }
      if (event.detail > 1) state.take(tool, true);
      else if (mine) state.take(null);
      else state.take(tool);
      if (state.tool) calls.close();
    });
    buttons.set(tool.name, button);
    return button;
  }

  state.addEventListener("tool", () => {
    for (const [name, button] of buttons) {
      put(button, "aria-pressed", String(state.tool?.name === name));
      button.classList.toggle("kept", state.tool?.name === name && state.keepTool);
    }
  });

  return {
    /** @param {import("../protocol.js").ToolGroup[]} tray */
    fill(tray) {
      tools = tray.flatMap((each) => each.tools);
      groups.replaceChildren(
        ...tray.map(({ group, tools }) =>
          make("div", { role: "group", "aria-label": group }, make("p", { class: "tray-heading", text: group }), ...tools.map(toolButton)),
        ),
      );
    },
    /** @param {import("../protocol.js").Panels} panels */
    update(panels) {
      for (const tool of tools) put(buttons.get(tool.name) ?? groups, "aria-disabled", state.serves(tool) ? null : "true");
      undo.update(panels.history.undo);
      redo.update(panels.history.redo);
    },
    /** @param {boolean} readOnly */
    lock(readOnly) {
      for (const button of buttons.values()) button.disabled = readOnly;
      undo.lock(readOnly);
      redo.lock(readOnly);
    },
  };
}

/**
 * @param {"undo"|"redo"} what
 * @param {string} word
 * @param {import("../state.js").State} state
 */
export function historyButton(what, word, state) {
  const label = make("span", { class: "unseen", text: word });
  const button = make("button", { type: "button", class: "plain-button", disabled: true }, icon(what), label);
  button.addEventListener("click", () => void state.ask({ do: what }));
  let locked = false;
  return {
    button,
    /** @param {boolean} readOnly */
    lock(readOnly) {
      locked = readOnly;
      if (readOnly) button.disabled = true;
    },
    /** @param {string|null|undefined} step */
    update(step) {
      button.disabled = !step || locked;
      say(label, step ? `${word}: ${step}` : word);
      put(button, "title", step ? `${word}: ${step}` : word);
    },
  };
}
