// Put into the real page before anything else runs: writes down what goes to the engine's worker and what comes back,
// and ends the worker at a chosen moment. What the page must have kept is known from here, not from the page.

window.watched = {
  committed: null, // text of the sketch after the last answered change
  base: null, // text of the sketch as it was opened first
  at: 0, // how many steps can be undone
  changes: 0,
  opened: 0,
  openedDocument: null,
  cameBackWhole: null, // whether that was the sketch after the last answered change
  state: null,
  kills: 0,
  diesAt: null, // {asked, moment: "before the reply" | "after the reply" | "some time later", wait_ms}
};

{
  const kill = () => {
    watched.kills += 1;
    dispatchEvent(new CustomEvent("steelyard-test-kill"));
  };
  watched.kill = kill;

  /** Once only. @param {string} asked @param {string} moment */
  const isTime = (asked, moment) => {
    const { diesAt } = watched;
    if (diesAt?.asked !== asked || diesAt.moment !== moment) return false;
    watched.diesAt = null;
    return true;
  };

  /** @param {string} asked @param {any} reply */
  const note = (asked, reply) => {
    if (!reply.ok) return;
    if (reply.picture) watched.state = reply;
    if (asked === "open" || asked === "scenario" || asked === "new") {
      watched.opened += 1;
      watched.openedDocument = reply.document;
      watched.committed ??= reply.document;
      watched.cameBackWhole = reply.document === watched.committed;
      watched.base ??= reply.document;
    } else if (reply.entry) {
      watched.at += asked === "undo" ? -1 : 1;
      watched.committed = reply.document;
      watched.changes += 1;
    }
  };

  window.Worker = class extends window.Worker {
    #asked = new Map();

    constructor(...words) {
      super(...words);
      this.addEventListener("message", ({ data }) => {
        if (typeof data !== "string") return;
        const reply = JSON.parse(data);
        const asked = this.#asked.get(reply.seq);
        note(asked, reply);
        if (isTime(asked, "after the reply")) setTimeout(kill);
      });
    }

    postMessage(message, ...more) {
      super.postMessage(message, ...more);
      if (typeof message !== "string") return;
      const request = JSON.parse(message);
      this.#asked.set(request.seq, request.do);
      const wait_ms = watched.diesAt?.wait_ms;
      if (isTime(request.do, "before the reply")) queueMicrotask(kill);
      if (isTime(request.do, "some time later")) setTimeout(kill, wait_ms);
    }
  };
}
