/** What the keys set in motion. */

/**
 * @param {object} parts
 * @param {import("./state.js").State} parts.state
 * @param {import("./board/board.js").Board} parts.board
 * @param {ReturnType<typeof import("./panels/fields.js").createFields>} parts.fields
 * @param {ReturnType<typeof import("./panels/status.js").createStatus>} parts.status
 * @param {() => import("./protocol.js").Tool[]} parts.tools
 * @param {() => void} parts.toBoard
 * @param {() => void} parts.help
 * @returns {import("./keys/keys.js").KeyActions}
 */
export function keyActions({ state, board, fields, status, tools, toBoard, help }) {
  /** @param {import("./protocol.js").Tool} tool */
  async function place(tool) {
    const reply = await state.command("add", { tool: tool.name, selected: state.selected });
    if (!reply.ok) return;
    if (reply.created) await state.select(reply.created);
    fields.openFirst();
  }

  return {
    walk(step) {
      const ids = state.reply?.panels.outline.map((entry) => entry.id) ?? [];
      if (ids.length === 0) return;
      const at = ids.indexOf(state.selected ?? "");
      board.forgetGrip();
      void state.select(ids[at < 0 ? (step > 0 ? 0 : ids.length - 1) : (at + step + ids.length) % ids.length]);
    },
    holding: () => board.holding,
    nudge: (dx, dy) => board.hands.nudge(dx, dy),
    takeHold: () => status.now(board.takeHold()),
    putDown: () => void board.putDown(),
    changeGrip: (step) => status.now(board.changeGrip(step)),
    stepBack() {
      if (board.stepBack()) return true;
      if (state.tool) state.take(null);
      else if (state.selected) void state.select(null);
      else return false;
      return true;
    },
    remove() {
      if (state.selected) void state.command("delete", { id: state.selected });
    },
    duplicate() {
      if (state.selected) void state.command("duplicate", { id: state.selected });
    },
    undo: () => void state.ask({ do: "undo" }),
    redo: () => void state.ask({ do: "redo" }),
    zoom: (steps) => board.zoom(steps),
    pan: (dx, dy) => board.pan(dx, dy),
    fit: () => void board.fit(),
    otherView: () => void state.ask({ do: "show", view: state.reply?.view === "extended" ? "set-up" : "extended" }),
    help,
    placeTool(key) {
      const tool = tools().find((each) => each.key === key);
      if (!tool) return false;
      void place(tool).then(() => document.activeElement === document.body && toBoard());
      return true;
    },
    type: (character) => state.selected !== null && fields.openFirst(character),
    used() {
      board.byKeys = true;
      board.showRing();
    },
  };
}
