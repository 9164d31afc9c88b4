// The page's side of the engine: starts the worker, asks it, and notices when it does not answer.

import { diagnose } from "./diagnose.js";
import { wantsSnapshot } from "./snapshot.js";
import { VisibleClock } from "./visible-clock.js";
import { Whole } from "./whole.js";

/** @typedef {"off" | "starting" | "ready" | "failed" | "crashed"} State */
/** @typedef {{epoch: number, seq: number, resolve: (reply: any) => void, reject: (error: Error) => void, disarm: () => void}} Pending */

/** The engine that was asked is not there any more; what it had not answered never happened. */
export class EngineStopped extends Error {
  constructor() {
    super("the engine was stopped before it answered");
    this.name = "EngineStopped";
  }
}

/**
 * Events, each a CustomEvent with a `detail`:
 * `step` {step, index, count, done}; `ready` {ms, way: "snapshot" | "plain"}; `failed` {message, hint} (it did not start);
 * `crashed` {reason: "no-answer" | "error" | "killed", message} (it ran and is gone: call `restart`);
 * `traffic` {asked, waiting} (how many requests were made so far, and how many of them wait for their answer);
 * `snapshot` {kept: boolean, message} (after the idle second worker has ended).
 */
export class Engine extends EventTarget {
  /**
   * @param {object} [options]
   * @param {number} [options.silence_ms] longest visible time without a sign of progress while starting
   * @param {number} [options.answer_ms] longest visible time for one answer
   * @param {number} [options.snapshot_ms] quiet time after the start before memory is kept for later visits
   * @param {boolean} [options.plainOnly] neither use nor take a snapshot
   */
  constructor({ silence_ms = 45_000, answer_ms = 8_000, snapshot_ms = 4_000, plainOnly = false } = {}) {
    super();
    this.options = { silence_ms, answer_ms, snapshot_ms, plainOnly };
    /** @type {State} */
    this.state = "off";
    /** Counts starts; every reply carries the one it belongs to. */
    this.epoch = 0;
    this.seq = 0;
    /** @type {Map<number, Pending>} */
    this.pending = new Map();
    /** @type {string[]} */
    this.waiting = [];
    this.clock = new VisibleClock();
    this.whole = new Whole();
    /** @type {Worker | null} */
    this.worker = null;
    /** @type {() => void} */
    /** @type {() => void} */
    this.disarm = () => undefined;
    this.startedAt_ms = 0;
  }

  /**
   * Starts the worker. Requests may be made at once; they wait until it is ready.
   * @returns {Promise<{ms: number, way: string}>} rejects with an Error after `failed`
   */
  start() {
    this.stop();
    this.whole = new Whole();
    this.epoch += 1;
    this.state = "starting";
    this.startedAt_ms = performance.now();
    performance.mark("engine-start");
    const done = new Promise((resolve, reject) => {
      this.settle = { resolve, reject };
    });
    done.catch(() => undefined); // the event says it too
    try {
      const worker = new Worker(new URL("./worker.js", import.meta.url), { type: "module", name: "engine" });
      this.worker = worker;
      worker.addEventListener("message", (event) => this.worker === worker && this.hear(event.data));
      worker.addEventListener("error", (event) => {
        event.preventDefault();
        if (this.worker === worker) this.workerError(event.message ?? "");
      });
      worker.postMessage({ does: "serve", plainOnly: this.options.plainOnly });
      this.armSilence();
    } catch (error) {
      this.fail({ code: "no-worker", message: String(error) });
    }
    return done;
  }

  /**
   * Asks the engine one thing.
   * @param {object} message `{do: …}`; the number of the request is added
   * @returns {Promise<any>} the reply with its `epoch`, errors of the engine included; rejects with EngineStopped
   */
  request(message) {
    return new Promise((resolve, reject) => {
      if (this.state !== "ready" && this.state !== "starting") {
        reject(new EngineStopped());
        return;
      }
      const seq = ++this.seq;
      const pending = { epoch: this.epoch, seq, resolve, reject, disarm: () => undefined };
      this.pending.set(seq, pending);
      const text = JSON.stringify({ ...message, seq, base: this.whole.base });
      if (this.state === "starting") this.waiting.push(text);
      else this.post(pending, text);
      this.tellTraffic();
    });
  }

  /** Stops the worker and starts a new one, which knows nothing of the old one's sketch. */
  restart() {
    return this.start();
  }

  /** Stops the worker for good. */
  terminate() {
    this.stop();
    this.state = "off";
  }

  /** Ends the worker as a crash would: for tests. */
  kill() {
    this.crash("killed", "the worker was killed");
  }

  stop() {
    this.disarm();
    this.worker?.terminate();
    this.worker = null;
    this.keeper?.terminate();
    this.waiting = [];
    const unanswered = [...this.pending.values()];
    this.pending.clear();
    for (const { reject, disarm } of unanswered) {
      disarm();
      reject(new EngineStopped());
    }
    this.tellTraffic();
    this.settle?.reject(new EngineStopped());
  }

  /** @param {string | import("./worker.js").Word} word */
  hear(word) {
    if (typeof word === "string") this.reply(JSON.parse(word));
    else if (word.says === "step") {
      this.armSilence();
      this.tell("step", word.step);
    } else if (word.says === "ready") this.ready(word.way);
    else if (word.says === "failed") this.fail(word);
    else if (word.says === "crashed") this.crash("error", word.message);
  }

  /** @param {string} way */
  ready(way) {
    this.disarm();
    this.state = "ready";
    performance.mark("engine-ready", { detail: { way } });
    const detail = { ms: performance.now() - this.startedAt_ms, way };
    this.settle?.resolve(detail);
    const texts = this.waiting;
    this.waiting = [];
    const pending = [...this.pending.values()];
    texts.forEach((text, index) => this.post(pending[index], text));
    this.tell("ready", detail);
    if (way === "plain" && !this.options.plainOnly) this.keepLater();
  }

  /**
   * @param {Pending} pending
   * @param {string} text
   */
  post(pending, text) {
    pending.disarm = this.clock.alarm(this.options.answer_ms, () =>
      this.crash("no-answer", `no answer within ${this.options.answer_ms / 1000} s`),
    );
    this.worker?.postMessage(text);
  }

  /** @param {any} reply */
  reply(reply) {
    const whole = this.whole.restore(reply);
    const pending = this.pending.get(reply.seq);
    if (!pending) return;
    this.pending.delete(reply.seq);
    pending.disarm();
    if (pending.seq === 1) performance.mark("engine-first-answer");
    pending.resolve({ ...whole, epoch: pending.epoch });
    this.tellTraffic();
  }

  /** @param {string} message */
  workerError(message) {
    if (this.state === "starting") this.fail({ code: "", message: message || "its worker could not be loaded" });
    else this.crash("error", message);
  }

  /**
   * @param {"no-answer" | "error" | "killed"} reason
   * @param {string} message
   */
  crash(reason, message) {
    if (this.state !== "ready" && this.state !== "starting") return;
    this.stop();
    this.state = "crashed";
    this.tell("crashed", { reason, message });
  }

  /** @param {{code: string, message: string}} failure */
  async fail(failure) {
    this.stop();
    this.state = "failed";
    const epoch = this.epoch;
    const diagnosis = await diagnose(failure);
    if (this.epoch === epoch && this.state === "failed") this.tell("failed", diagnosis);
  }

  armSilence() {
    this.disarm();
    this.disarm = this.clock.alarm(this.options.silence_ms, () =>
      this.fail({
        code: "silent",
        message: `Python showed no sign of starting for ${Math.round(this.options.silence_ms / 1000)} s.`,
      }),
    );
  }

  /** When nothing has been asked for a while, a second worker, which has opened nothing, keeps memory for later visits. */
  keepLater() {
    const epoch = this.epoch;
    const seq = this.seq;
    this.clock.alarm(this.options.snapshot_ms, async () => {
      if (this.epoch !== epoch || this.state !== "ready") return;
      if (this.seq !== seq) this.keepLater();
      else if (await wantsSnapshot()) this.keep();
    });
  }

  keep() {
    const keeper = new Worker(new URL("./worker.js", import.meta.url), { type: "module", name: "engine-keeper" });
    this.keeper = keeper;
    /** @param {boolean} kept @param {string} message */
    const end = (kept, message) => {
      keeper.terminate();
      this.tell("snapshot", { kept, message });
    };
    keeper.addEventListener("error", (event) => {
      event.preventDefault();
      end(false, event.message ?? "");
    });
    keeper.addEventListener("message", ({ data }) => end(data.says === "kept", data.message ?? ""));
    keeper.postMessage({ does: "keep-snapshot" });
  }

  tellTraffic() {
    this.tell("traffic", { asked: this.seq, waiting: this.pending.size });
  }

  /**
   * @param {string} type
   * @param {object} detail
   */
  tell(type, detail) {
    this.dispatchEvent(new CustomEvent(type, { detail }));
  }
}
