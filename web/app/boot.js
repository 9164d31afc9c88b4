/**
 * From nothing to a live board: the last picture at once, the engine behind it, and then the sketch
 * itself, with whatever was pressed meanwhile.
 */

import { EngineStopped } from "./engine/client.js";

/** The engine is there but will not give what the page cannot do without. */
class Refusal extends Error {
  /** @param {import("./protocol.js").Complaint} complaint */
  constructor(complaint) {
    super(complaint.message);
    this.complaint = complaint;
  }
}

/**
 * @param {object} parts
 * @param {import("./engine/client.js").Engine} parts.engine
 * @param {import("./state.js").State} parts.state
 * @param {import("./keep/keeper.js").Keeper} parts.keeper
 * @param {ReturnType<typeof import("./panels/waking.js").createWaking>} parts.waking
 * @param {import("./sheet.js").Sheet} parts.sheet
 * @param {(hello: import("./protocol.js").Hello) => void} parts.onHello
 * @param {() => void} parts.onLive
 */
export async function boot({ engine, state, keeper, waking, sheet, onHello, onLive }) {
  engine.addEventListener("step", (event) => {
    if (!state.live) waking.step(/** @type {CustomEvent} */ (event).detail);
  });
  engine.addEventListener("failed", (event) => waking.failed(/** @type {CustomEvent} */ (event).detail, () => void wake()));
  engine.addEventListener("crashed", () => {
    if (state.live) state.holdUntil(keeper.recover());
    else waking.failed({ message: "It stopped while it was starting.", hint: "Try again; if it stops again, reload the page." }, () => void wake());
  });

  /** @type {Promise<any>} */
  const recalled = keeper.recall();
  void Promise.all([recalled, opening()]).then(([last, built]) => {
    if (state.live) return;
    if (built && !greeted) onHello(built.hello);
    const picture = last ? last.picture : built;
    if (picture) state.receive({ ...picture, selected: null, panels: { ...picture.panels, fields: null } }, "open");
  });
  let greeted = false;
  await wake();

  async function wake() {
    try {
      void engine.start();
      const [last, hello] = await Promise.all([recalled, engine.request({ do: "hello" })]);
      if (!hello.ok) throw new Refusal(hello.error);
      greeted = true;
      onHello(hello);
      if (!(last && (await keeper.resume()))) await openFirst(hello);
    } catch (problem) {
      // Where the engine stopped, "failed" or "crashed" has said why.
      if (problem instanceof Refusal) waking.failed(problem.complaint, () => void wake());
      else if (!(problem instanceof EngineStopped)) throw problem;
      return;
    }
    waking.done();
    state.open();
    state.receive(state.reply, "show");
    sheet.check();
    onLive();
  }

  /** @param {any} hello */
  async function openFirst(hello) {
    await engine.request({ do: "show", ...sheet.presentation() });
    const [first] = hello.scenarios;
    const reply = await engine.request(first ? { do: "scenario", slug: first.slug } : { do: "new" });
    if (!reply.ok) throw new Refusal(reply.error);
    state.receive(reply, "scenario");
    await keeper.begin(reply);
  }
}

/** The opening scenario as the build drew it; null where it was not built. */
async function opening() {
  try {
    const answer = await fetch(new URL("../opening.json", import.meta.url));
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
}
