/** The track of one number under the fields: its safe stretch drawn thick, a mark at each change, and a handle to drag. */

import { draw, make, put, reconcile, say } from "../dom.js";

/** @typedef {import("../protocol.js").Track} Track */

// Labels whose middles are nearer than this would run into one another.
const APART_PX = 64;
/** @param {number} share */
const percent = (share) => `${Math.round(share * 1e4) / 100}%`;

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 * @param {{toBoard: () => void, say: (words: string) => void, idle: () => boolean}} calls idle: nothing is in hand
 */
export function createTrack(root, state, calls) {
  const which = make("select", { class: "track-which", "aria-label": "Number of the track", onchange: () => void state.ask({ do: "show", track: which.value }) });
  const drawing = draw("svg", { class: "track-drawing", "aria-hidden": "true" });
  const handle = make("input", { class: "track-handle", type: "range" });
  const close = make("button", { type: "button", class: "track-close quiet-button", text: "Close", "aria-label": "Close the track", onclick: () => void shut() });
  const said = make("p", { class: "track-said", id: "track-said" });
  put(handle, "aria-describedby", said.id);
  root.append(make("div", { class: "track-line" }, which, make("div", { class: "track-room" }, drawing, handle), close), said);
  root.hidden = true;

  /** @type {Track|null} */
  let track = null;
  let held = false;
  let trying = false;
  /** @type {string|null} */
  let newest = null;

  async function shut() {
    calls.toBoard();
    await state.ask({ do: "show", track: null });
  }

  /** One preview in flight; of what is dragged meanwhile only the newest is kept. */
  async function tryNewest() {
    while (newest !== null && track) {
      const text = newest;
      newest = null;
      trying = true;
      await state.ask({ do: "try", name: "set", args: { id: "sketch", key: track.key, text } }, { quiet: true });
      trying = false;
    }
  }

  handle.addEventListener("input", () => {
    held = true;
    newest = handle.value;
    if (!trying) void tryNewest();
  });
  handle.addEventListener("change", async () => {
    if (!held || !track) return;
    newest = null;
    const { key } = track;
    const text = handle.value;
    const reply = await state.command("set", { id: "sketch", key, text }, { quiet: true });
    held = false;
    if (!reply.ok && !reply.stopped) {
      calls.say(`${reply.error.message} ${reply.error.hint}`.trim());
      if (calls.idle()) await state.ask({ do: "cancel" }, { quiet: true });
    }
  });
  root.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    event.preventDefault();
    event.stopPropagation();
    newest = null;
    if (held && calls.idle()) {
      held = false;
      void state.ask({ do: "cancel" }, { quiet: true });
    } else void shut();
  });

  /** @param {Track} data */
  function drawTrack({ safe, changes, ends }) {
    /** @type {SVGElement[]} */
    const parts = [draw("line", { class: "track-way", x1: "0%", x2: "100%", y1: 12, y2: 12 })];
    for (const [start, end] of safe) parts.push(draw("line", { class: "track-safe", x1: percent(start), x2: percent(end), y1: 12, y2: 12 }));
    for (const { share, main } of changes) {
      parts.push(draw("line", { class: "track-mark", x1: percent(share), x2: percent(share), y1: main ? 3 : 7, y2: main ? 21 : 17 }));
    }
    /** @type {Array<[number, string]>} */
    const labels = [[0, ends[0]], [1, ends[1]]];
    const apart = APART_PX / Math.max(1, drawing.clientWidth);
    for (const { share, text, main } of changes) {
      if (main && labels.every(([other]) => Math.abs(other - share) > apart)) labels.push([share, text]);
    }
    for (const [share, text] of labels) {
      const label = draw("text", { class: "track-label", x: percent(share), y: 35, "text-anchor": share < 0.02 ? "start" : share > 0.98 ? "end" : "middle" });
      label.textContent = text;
      parts.push(label);
    }
    drawing.replaceChildren(...parts);
  }

  return {
    /** @param {Track|null|undefined} data null where nothing is tracked, or answers are kept back */
    update(data) {
      track = data ?? null;
      root.hidden = !track;
      if (!track) {
        held = false;
        return;
      }
      reconcile(
        which,
        track.numbers,
        (option) => option.value,
        (option) => make("option", { value: option.value }),
        (element, option) => say(element, option.text),
      );
      which.value = track.path;
      put(root, "data-of", track.of);
      put(handle, "min", track.low);
      put(handle, "max", track.high);
      put(handle, "step", track.step);
      put(handle, "aria-label", track.label);
      put(handle, "aria-valuetext", track.spoken);
      if (!held) handle.value = String(track.value);
      handle.disabled = state.readOnly;
      drawTrack(track);
      say(said, track.said);
    },
  };
}
