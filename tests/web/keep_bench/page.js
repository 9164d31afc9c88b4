// The keeper wired as the real page wires it, around a small engine. Everything a test needs hangs on `window.bench`.

import { acceptDrops, pickFile, readFile, saveFile } from "./keep/files.js";
import { Journal } from "./keep/journal.js";
import { createKeeper } from "./keep/keeper.js";
import { createStore } from "./keep/store.js";
import { SmallEngine } from "./engine.js";

const patience_ms = Number(new URLSearchParams(location.search).get("patience_ms") ?? 2000);
const engine = new SmallEngine();
const store = createStore({ patience_ms });
const bench = {
  engine, store, files: { pickFile, readFile, saveFile }, Journal,
  painted: null, notices: {}, readOnly: null, recalled: undefined, ready: false, dropped: null, recoveries: [],

  async act(message) {
    const state = await engine.request(message);
    if (!state.ok) throw new Error(state.error.message);
    bench.painted = state;
    bench.keeper.remember(state, message.do);
    return state.numbers;
  },
  add: (number) => bench.act({ do: "command", number }),
  async begin(title) {
    const state = await engine.request({ do: "new", title });
    bench.painted = state;
    await bench.keeper.begin(state);
  },
  say: (key) => bench.notices[key]?.text ?? null,
  press: (key, label) => bench.notices[key].actions.find((action) => action.label === label).run(),
  // Chromium asks for leave only after the user has touched the page, so the event itself is asked.
  warnsBeforeLeaving: () => !dispatchEvent(new Event("beforeunload", { cancelable: true })),
};
bench.keeper = createKeeper({
  engine, store,
  onState: (state) => (bench.painted = state),
  onNotice: (notice) => (bench.notices[notice.key] = notice),
  onReadOnly: (readOnly) => (bench.readOnly = readOnly),
  presentation: () => ({ view: "extended" }),
});
engine.onCrash = () => bench.recoveries.push(bench.keeper.recover());
acceptDrops(document.getElementById("board"), { onFile: async (file) => (bench.dropped = await readFile(file)) });
window.bench = bench;

bench.recalled = await bench.keeper.recall();
await engine.restart();
if (!(await bench.keeper.resume())) await bench.begin("Blank");
bench.ready = true;
