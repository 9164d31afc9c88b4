/** The shelf: scenarios that come with the program, and the sketches this browser keeps. */

import { make } from "../dom.js";
import { createDialog } from "./dialog.js";

/** @typedef {import("../protocol.js").Scenario} Scenario */

/**
 * @param {object} calls
 * @param {(slug: string) => void} calls.scenario
 * @param {(id: string) => void} calls.reopen
 * @param {() => Promise<Array<{id: string, title: string, changed: number, touched: boolean}>>} calls.kept
 * @param {() => string|null} calls.current id of the open sketch
 * @param {(id: string) => Promise<boolean>} calls.forget false when another window has it open
 */
export function createShelf({ scenario, reopen, kept, current, forget }) {
  const scenarios = make("ul", { class: "shelf" });
  const own = make("ul", { class: "shelf" });
  const ownPart = make("section", { hidden: true }, make("h3", { text: "Kept in this browser" }), own);
  const intro = make("p", { text: "All in one small working harbour; each asks one question." });
  const shelf = createDialog("Shelf", "shelf-dialog", intro, scenarios, ownPart);

  /** @param {string} title @param {string} below @param {() => void} run */
  function entry(title, below, run) {
    const button = make("button", { type: "button", class: "shelf-entry" }, make("strong", { text: title }), make("span", { class: "question", text: below }));
    button.addEventListener("click", () => {
      shelf.dialog.close();
      run();
    });
    return make("li", {}, button);
  }

  async function fillOwn() {
    const sketches = (await kept()).filter(({ id, touched }) => touched && id !== current());
    ownPart.hidden = sketches.length === 0;
    own.replaceChildren(
      ...sketches.map(({ id, title, changed }) => {
        const item = entry(title, `changed ${new Date(changed).toLocaleString()}`, () => reopen(id));
        item.append(forgetButton(id, title, item));
        return item;
      }),
    );
  }

  /**
   * Forgetting cannot be undone, so the first press only asks.
   * @param {string} id @param {string} title @param {HTMLElement} item
   */
  function forgetButton(id, title, item) {
    const button = make("button", { type: "button", class: "shelf-forget", "aria-label": `Forget ${title}`, text: "Forget" });
    let sure = false;
    button.addEventListener("click", async () => {
      if (!sure) {
        sure = true;
        button.textContent = "Forget for good?";
        button.setAttribute("aria-label", `Forget ${title} for good?`);
        return;
      }
      button.disabled = true;
      if (await forget(id).catch(() => false)) {
        item.remove();
        ownPart.hidden = own.childElementCount === 0;
        shelf.dialog.querySelector("button")?.focus();
      } else button.textContent = "Open in another window";
    });
    button.addEventListener("blur", () => {
      if (button.disabled) return;
      sure = false;
      button.textContent = "Forget";
      button.setAttribute("aria-label", `Forget ${title}`);
    });
    return button;
  }

  return {
    async open() {
      await fillOwn().catch(() => {
        ownPart.hidden = true; // storage that does not answer keeps nobody from the scenarios
      });
      shelf.open();
    },
    /** @param {Scenario[]} list */
    fill(list) {
      scenarios.replaceChildren(...list.map(({ slug, title, question }) => entry(title, question, () => scenario(slug))));
    },
  };
}
