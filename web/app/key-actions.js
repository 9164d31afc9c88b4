/** What the keys set in motion. */

/** @type {import("./protocol.js").View[]} */
const VIEWS = ["set-up", "extended", "point", "polygon"];

/** @param {import("./protocol.js").Tool} tool why a tool cannot be used where forces stand alone */
export const notHere = (tool) => `${tool.label}: not in this view. Go to Set-up or Extended.`;

/**
 * @param {object} parts
 * @param {import("./state.js").State} parts.state
 * @param {import("./board/board.js").Board} parts.board
 * @param {ReturnType<typeof import("./panels/fields.js").createFields>} parts.fields
 * @param {ReturnType<typeof import("./panels/status.js").createStatus>} parts.status
 * @param {() => import("./protocol.js").Tool[]} parts.tools
 * @param {() => void} parts.toBoard
 * @param {() => void} parts.help
 * @param {(step: number) => boolean} parts.read
 * @param {() => boolean} parts.putBack what was let go is put back
 * @returns {import("./keys/keys.js").KeyActions}
 */
export function keyActions({ state, board, fields, status, tools, toBoard, help, read, putBack }) {
  /** @param {import("./protocol.js").Tool} tool */
  async function place(tool) {
    const reply = await state.command("add", { tool: tool.name, selected: state.selected });
    if (!reply.ok) return;
    if (reply.created) await state.select(reply.created);
    fields.openFirst();
  }

  /** What can be walked: where forces stand alone, they and the pivots; else everything there is. */
  function onBoard() {
    const panels = state.reply?.panels;
    const all = panels?.outline.map((entry) => entry.id) ?? [];
    const targets = new Set(board.hands.targets.map((target) => target.of));
    const forces = panels?.chain?.forces.map((force) => force.id);
    return forces ? [...forces, ...all.filter((id) => !forces.includes(id) && targets.has(id))] : all;
  }

  return {
    walk(step) {
      const ids = onBoard();
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
      if (board.stepBack() || putBack()) return true;
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
    otherView(step) {
      const at = VIEWS.indexOf(state.reply?.view ?? "extended");
      void state.show(VIEWS[(at + step + VIEWS.length) % VIEWS.length]);
    },
    help,
    read,
    placeTool(key) {
      const tool = tools().find((each) => each.key === key);
      if (!tool) return false;
      if (!state.serves(tool)) {
        status.now(notHere(tool));
        return true;
      }
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
