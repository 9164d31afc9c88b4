/**
 * One field: shows a quantity, text, choice, switch, answer or action, previews what is typed, and makes
 * it permanent as one change.
 */

import { make, put, say } from "../dom.js";
import { MeterView } from "./meter.js";
import { numberIn, stepLastDigit, turnSign } from "./number-text.js";

/** @typedef {import("../protocol.js").Field} FieldData */

/**
 * What a field does with what is typed; it differs between things and settings.
 * @typedef {object} Writer
 * @property {(key: string, text: string) => Promise<any>} preview
 * @property {(key: string, text: string) => Promise<any>} write
 * @property {() => Promise<any>} restore
 * @property {(field: FieldData) => void} act
 * @property {() => void} leave the focus goes back to the board
 * @property {(message: string) => void} complain empty takes the complaint away
 */

export class FieldView {
  /** @param {FieldData} data @param {Writer} writer @param {string} id */
  constructor(data, writer, id) {
    this.writer = writer;
    this.data = data;
    this.kind = data.kind;
    this.original = data.text;
    this.tried = false;
    this.trying = false;
    this.wrong = false;
    /** @type {string|null} */
    this.newest = null;
    this.label = make("label", { class: "field-label", for: id });
    this.unit = make("span", { class: "field-unit" });
    /** @type {HTMLInputElement|HTMLSelectElement|HTMLOutputElement|HTMLButtonElement} */
    this.control = this.makeControl(id);
    this.element = make("span", { class: `field field-${data.kind}` });
    if (data.meter) {
      this.meter = new MeterView(data.meter);
      this.element.append(this.meter.element);
    } else if (this.isButton) this.element.append(this.control);
    else if (data.kind === "switch") this.element.append(this.control, this.label);
    else this.element.append(this.label, this.control, this.unit);
    if (data.kind === "quantity") this.addSignKey();
    if (data.options && data.kind === "quantity") this.offer(id, data.options);
    this.update(data);
  }

  /** Whether it is pressed: it changes the sketch, or only what is shown. */
  get isButton() {
    return this.kind === "action" || this.kind === "show";
  }

  /** @param {string} id */
  makeControl(id) {
    if (this.kind === "answer") return make("output", { id });
    if (this.isButton) {
      return make("button", { id, type: "button", class: "outline-button", onclick: () => this.writer.act(this.data) });
    }
    if (this.kind === "choice") {
      return make("select", { id, onchange: () => void this.commit() });
    }
    if (this.kind === "switch") {
      return make("input", { id, type: "checkbox", role: "switch", onchange: () => void this.commit() });
    }
    const number = this.kind === "quantity";
    const input = make("input", {
      id,
      type: "text",
      autocomplete: "off",
      spellcheck: "false",
      // With values on offer it is a combobox already, which may not be called a spin button.
      role: number && !this.data.options ? "spinbutton" : null,
      inputmode: number ? "decimal" : "text",
      oninput: () => this.typed(),
      onblur: () => void this.commit().then(() => this.update(this.data)),
      onfocus: () => this.opened(),
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.key(event),
    });
    return input;
  }

  /** @param {string} id @param {import("../protocol.js").Option[]} options */
  offer(id, options) {
    const list = make("datalist", { id: `${id}-list` }, ...options.map(({ value, text }) => make("option", { value, text })));
    put(this.control, "list", list.id);
    this.element.append(list);
  }

  addSignKey() {
    const key = make("button", { type: "button", class: "sign-key", text: "±", tabindex: "-1", "aria-label": "Change the sign" });
    key.addEventListener("pointerdown", (event) => event.preventDefault());
    key.addEventListener("click", () => {
      this.text = turnSign(this.text);
      this.typed();
    });
    this.element.append(key);
  }

  get text() {
    if (this.control instanceof HTMLInputElement && this.kind === "switch") return String(this.control.checked);
    return /** @type {HTMLInputElement} */ (this.control).value;
  }

  set text(text) {
    if (this.control instanceof HTMLInputElement && this.kind === "switch") this.control.checked = text === "true";
    else if (/** @type {HTMLInputElement} */ (this.control).value !== text) {
      /** @type {HTMLInputElement} */ (this.control).value = text;
    }
  }

  get editing() {
    return document.activeElement === this.control && (this.kind === "quantity" || this.kind === "text");
  }

  /** @param {FieldData} data */
  update(data) {
    this.data = data;
    if (data.meter) {
      this.meter?.update(data.meter);
      return;
    }
    say(this.label, data.label);
    say(this.unit, data.unit);
    this.element.classList.toggle("wide", data.kind === "text");
    if (this.kind === "answer") {
      say(this.control, data.text);
      put(this.control, "aria-label", data.spoken);
      put(this.control, "title", data.locked || null);
      return;
    }
    if (this.isButton) {
      say(this.control, data.label);
      // A name must hold the words that are seen.
      const said = data.spoken.toLowerCase().includes(data.label.toLowerCase()) ? data.spoken : `${data.label}: ${data.spoken}`;
      put(this.control, "aria-label", data.spoken === data.label ? null : said);
      return;
    }
    put(this.control, "aria-label", data.unit ? `${data.spoken}, ${data.unit}` : data.spoken);
    put(this.control, "title", data.locked || null);
    if (this.control instanceof HTMLInputElement && this.kind !== "switch") this.control.readOnly = Boolean(data.locked);
    else /** @type {HTMLSelectElement} */ (this.control).disabled = Boolean(data.locked);
    if (this.control instanceof HTMLSelectElement) this.fillChoices(data.options ?? []);
    if (!this.editing && !this.wrong) {
      this.text = data.text;
      this.original = data.text;
      this.fit();
    }
    this.sayValue();
  }

  /** @param {import("../protocol.js").Option[]} options */
  fillChoices(options) {
    const select = /** @type {HTMLSelectElement} */ (this.control);
    const wanted = JSON.stringify(options);
    if (select.dataset.options === wanted) return;
    select.dataset.options = wanted;
    select.replaceChildren(...options.map(({ value, text }) => make("option", { value, text })));
  }

  sayValue() {
    if (this.kind !== "quantity") return;
    if (this.data.options) return;
    put(this.control, "aria-valuenow", numberIn(this.text) ?? 0);
    put(this.control, "aria-valuetext", this.text ? `${this.text} ${this.data.unit}` : "not given");
  }

  /** As wide as what it holds, so that lines of fields stay short. */
  fit() {
    if (this.control instanceof HTMLInputElement && this.kind !== "switch") {
      this.control.size = Math.max(this.kind === "text" ? 6 : 4, Math.min(24, this.text.length + 1));
    }
  }

  opened() {
    this.original = this.data.text;
    if (!this.wrong) /** @type {HTMLInputElement} */ (this.control).select();
  }

  /** Take the focus with what was typed elsewhere as its first character. @param {string} character */
  openWith(character) {
    this.control.focus();
    this.text = character;
    /** @type {HTMLInputElement} */ (this.control).setSelectionRange(character.length, character.length);
    this.typed();
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.key === "Enter") {
      event.preventDefault();
      void this.commit().then((done) => done && this.writer.leave());
    } else if (event.key === "Escape") {
      event.preventDefault();
      event.stopPropagation();
      this.giveUp();
      this.writer.leave();
    } else if (this.kind === "quantity" && (event.key === "ArrowUp" || event.key === "ArrowDown") && !event.altKey) {
      event.preventDefault();
      const steps = (event.key === "ArrowUp" ? 1 : -1) * (event.shiftKey ? 10 : 1);
      this.text = stepLastDigit(this.text, steps);
      this.typed();
    }
  }

  typed() {
    this.fit();
    this.sayValue();
    this.newest = this.text;
    if (!this.trying) void this.tryNewest();
  }

  /** One preview in flight; of what is typed meanwhile only the newest is kept. */
  async tryNewest() {
    while (this.newest !== null) {
      const text = this.newest;
      this.newest = null;
      this.trying = true;
      this.tried = true;
      const reply = await this.writer.preview(this.data.key, text);
      this.trying = false;
      if (this.newest === null && this.editing) this.judge(reply);
    }
  }

  /** @param {any} reply */
  judge(reply) {
    this.wrong = !reply.ok && !reply.stopped;
    put(this.control, "aria-invalid", this.wrong ? "true" : null);
    this.writer.complain(this.wrong ? `${reply.error.message} ${reply.error.hint}`.trim() : "");
  }

  /** @returns {Promise<boolean>} whether the text stands */
  async commit() {
    this.newest = null;
    const { text } = this;
    if (text === this.original) {
      this.judge({ ok: true });
      if (this.tried) await this.stopTrying();
      return true;
    }
    this.tried = false;
    this.original = text;
    const reply = await this.writer.write(this.data.key, text);
    this.judge(reply);
    if (!reply.ok) {
      this.original = this.data.text;
      await this.writer.restore();
    }
    return reply.ok;
  }

  giveUp() {
    this.newest = null;
    this.text = this.original;
    this.judge({ ok: true });
    this.fit();
    if (this.tried) void this.stopTrying();
  }

  stopTrying() {
    this.tried = false;
    return this.writer.restore();
  }
}
