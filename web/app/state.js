/**
 * What the page knows: the last reply, and what belongs to the hands only (tool, hover, focus).
 *
 * Every request goes through `ask`, so every reply is painted in the task that receives it.
 */

/** @typedef {import("./protocol.js").StateReply} StateReply */
/** @typedef {import("./protocol.js").Message} Message */
/** @typedef {import("./protocol.js").Complaint} Complaint */
/** @typedef {import("./protocol.js").Tool} Tool */

const STOPPED = { ok: false, stopped: true, error: { code: "engine.stopped", where: "", message: "", hint: "" } };

/** What changes a sketch: refused here while the sketch may only be looked at. */
const CHANGES = new Set(["begin", "preview", "nudge", "commit", "try", "command", "undo", "redo"]);

/** What begins another sketch. */
const OPENS = new Set(["open", "new", "scenario"]);

/** What takes something in hand or goes on with it: refused while an engine is started again, which would know only half of it. */
const HELD = new Set(["begin", "preview", "nudge", "commit", "cancel"]);

/**
 * Events: "reply" (detail: {reply: StateReply, did: string}), "complaint" (detail: Complaint), "lit", "tool".
 */
export class State extends EventTarget {
  /** @param {import("./protocol.js").Door} engine */
  constructor(engine) {
    super();
    this.engine = engine;
    /** @type {StateReply|null} */
    this.reply = null;
    /** @type {Tool|null} */
    this.tool = null;
    this.keepTool = false;
    this.hovered = "";
    this.focused = "";
    /** @type {string|null} */
    this.selected = null;
    /** @type {import("./protocol.js").Study} */
    this.study = { side: "", revealed: 1, numbers: true, way: "sums", order: [] };
    this.live = false;
    this.readOnly = false;
    this.restarting = false;
    /** @type {() => void} */
    this.open = () => {};
    /** @type {Promise<void>} requests wait here until the engine has its first sketch */
    this.gate = new Promise((resolve) => {
      this.open = () => {
        this.live = true;
        resolve();
      };
    });
  }

  /**
   * Hold every request back until this settles: a new engine has no sketch yet.
   * @param {Promise<unknown>} ready
   */
  holdUntil(ready) {
    const gate = ready.then(() => {}, () => {}).then(() => {
      if (this.gate === gate) this.restarting = false;
    });
    this.restarting = true;
    this.gate = gate;
  }

  /** What is lit everywhere: hovered, else focused, else selected. */
  get lit() {
    return this.hovered || this.focused || this.selected || "";
  }

  /** @param {string} type @param {unknown} [detail] */
  tell(type, detail) {
    this.dispatchEvent(new CustomEvent(type, { detail }));
  }

  /**
   * Send one request; a state reply is painted before this promise is seen by anyone else.
   * @param {Message} message
   * @param {{quiet?: boolean}} [options] quiet: the caller shows a complaint itself
   * @returns {Promise<any>}
   */
  async ask(message, options = {}) {
    // What the hand held ended with the engine that held it.
    if (this.restarting && HELD.has(message.do)) return STOPPED;
    await this.gate;
    return this.send(message, options);
  }

  /**
   * The same without waiting for the first sketch: for the boot itself.
   * @param {Message} message
   * @param {{quiet?: boolean}} [options]
   * @returns {Promise<any>}
   */
  async send(message, options = {}) {
    if (this.readOnly && CHANGES.has(message.do)) return STOPPED;
    let reply;
    try {
      reply = await this.engine.request(message);
    } catch {
      // The engine stopped before it answered: what it had not answered never happened.
      return STOPPED;
    }
    if (!reply.ok && !options.quiet) this.tell("complaint", reply.error);
    if (reply.ok && reply.picture) this.receive(reply, message.do);
    return reply;
  }

  /**
   * Paint a state. A preview carries only what follows the hand; the rest stands as it was.
   * @param {any} reply
   * @param {string} did the request it answers
   */
  receive(reply, did) {
    this.reply = { ...reply, panels: { ...this.reply?.panels, ...reply.panels } };
    this.selected = reply.selected ?? null;
    // Which tab is open is the page's own; with another sketch the engine has begun the rest anew.
    if (reply.study && OPENS.has(did)) this.study = { ...reply.study, side: this.study.side };
    this.tell("reply", { reply: this.reply, did });
  }

  /** @param {string|null} id */
  select(id) {
    if (id === this.selected) return Promise.resolve(this.reply);
    this.selected = id;
    this.tell("lit");
    return this.ask({ do: "show", selected: id });
  }

  /**
   * Read the working in another way: another tab, more steps, symbols only.
   * @param {Partial<import("./protocol.js").Study>} change
   */
  read(change) {
    this.study = { ...this.study, ...change };
    return this.ask({ do: "show", ...change });
  }

  /** Whether a tool can be used in a view: where forces stand alone, there is no body to put anything else on. @param {Tool} tool @param {string} [view] */
  serves(tool, view = this.reply?.view) {
    return Boolean(tool.alone || (view !== "point" && view !== "polygon") || this.reply?.panels.empty);
  }

  /** @param {Tool} tool @returns {string} how it is used in this view */
  helpOf(tool) {
    return (this.reply?.panels.chain && tool.alone) || (tool.help ?? "");
  }

  /** Look at the sketch in another view; a tool that cannot be used there is put down. @param {string} view */
  show(view) {
    if (this.tool && !this.serves(this.tool, view)) this.take(null);
    return this.ask({ do: "show", view });
  }

  /** @param {Tool|null} tool @param {boolean} [keep] */
  take(tool, keep = false) {
    if (this.readOnly || (tool === this.tool && keep === this.keepTool)) return;
    this.tool = tool;
    this.keepTool = Boolean(tool) && keep;
    this.tell("tool");
    void this.ask({ do: "show", tool: tool ? tool.name : null, selected: tool ? null : this.selected });
  }

  /** @param {string} id */
  hover(id) {
    if (id === this.hovered) return;
    this.hovered = id;
    this.tell("lit");
  }

  /** @param {string} id */
  focus(id) {
    if (id === this.focused) return;
    this.focused = id;
    this.tell("lit");
  }

  /**
   * One undo entry.
   * @param {string} name
   * @param {Record<string, unknown>} args
   * @param {{quiet?: boolean}} [options]
   */
  command(name, args, options = {}) {
    return this.ask({ do: "command", name, args }, options);
  }
}
