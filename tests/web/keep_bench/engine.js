// An engine that holds a title and a list of numbers, with the same door as the real one. It can be killed.

/** A worker that can die at any moment: what it has not answered it never answers. */
export class SmallEngine {
  #alive = false;
  #sketch = { title: "", numbers: [] };
  #entries = [];
  #at = 0;
  #unanswered = new Set();
  onCrash = () => {};
  /** Documents with this in them kill the engine when they are opened or changed. */
  poison = null;
  /** The moment of the next request at which it dies: "before the work", "before the reply", "after the reply". */
  diesAt = null;
  refuseJournals = false;
  asked = [];

  async restart() {
    this.#end();
    await new Promise((resolve) => setTimeout(resolve, 1));
    this.#alive = true;
    this.#sketch = { title: "", numbers: [] };
    this.#entries = [];
    this.#at = 0;
  }

  request(message) {
    if (!this.#alive) return Promise.reject(new Error("the engine is not there"));
    this.asked.push(message.do);
    return new Promise((resolve, reject) => {
      const one = { reject };
      const diesNow = (moment) => moment === diesAt && (this.kill(), true);
      const { diesAt } = this;
      this.diesAt = null;
      this.#unanswered.add(one);
      setTimeout(() => {
        if (!this.#unanswered.has(one) || diesNow("before the work")) return;
        const reply = this.#answer(message);
        if (this.poison !== null && JSON.stringify(this.#sketch).includes(this.poison)) {
          this.kill();
          return;
        }
        setTimeout(() => {
          if (diesNow("before the reply") || !this.#unanswered.delete(one)) return;
          resolve(reply);
          setTimeout(() => diesNow("after the reply"));
        }, Math.random() * 2);
      }, Math.random() * 2);
    });
  }

  kill() {
    this.#end();
    this.onCrash();
  }

  #end() {
    this.#alive = false;
    const lost = [...this.#unanswered];
    this.#unanswered.clear();
    for (const { reject } of lost) reject(new Error("the engine died"));
  }

  #answer(message) {
    const entry = this.#act(message);
    if (entry === undefined) return { ok: false, error: { code: "refused", where: "", message: "no", hint: "" } };
    return {
      ok: true,
      panels: { title: this.#sketch.title },
      numbers: [...this.#sketch.numbers],
      steps: this.#at,
      entry,
      document: JSON.stringify(this.#sketch),
    };
  }

  #act(message) {
    if (message.do === "show") return null;
    if (message.do === "new") return this.#begin({ title: message.title ?? "Blank", numbers: [] }, [], 0);
    if (message.do === "open") {
      if (this.refuseJournals && message.entries?.length) return undefined;
      return this.#begin(JSON.parse(message.document), message.entries ?? [], message.at ?? 0);
    }
    if (message.do === "command") {
      const entry = { label: `add ${message.number}`, forward: { push: message.number }, backward: { pop: 1 } };
      this.#entries = [...this.#entries.slice(0, this.#at), entry];
      this.#at += 1;
      this.#sketch.numbers.push(message.number);
      return entry;
    }
    if (message.do === "undo" && this.#at > 0) {
      this.#at -= 1;
      this.#sketch.numbers.pop();
      return this.#entries[this.#at];
    }
    if (message.do === "redo" && this.#at < this.#entries.length) {
      this.#sketch.numbers.push(this.#entries[this.#at].forward.push);
      this.#at += 1;
      return this.#entries[this.#at - 1];
    }
    return null;
  }

  #begin(sketch, entries, at) {
    this.#sketch = sketch;
    this.#entries = entries;
    this.#at = at;
    for (const { forward } of entries.slice(0, at)) sketch.numbers.push(forward.push);
    return null;
  }
}
