/** What the engine is doing while it starts, in named steps, and why it did not when it fails. */

import { make, put, say } from "../dom.js";

/** @param {HTMLElement} root lies over the foot of the board */
export function createWaking(root) {
  const bar = make("div", { class: "waking-bar", role: "progressbar", "aria-label": "Waking up", "aria-valuemin": "0", "aria-valuemax": "100" });
  const heading = make("strong");
  const text = make("p");
  const retry = make("button", { type: "button", class: "outline-button", text: "Try again", hidden: true });
  const element = make("div", { class: "waking", hidden: true }, bar, heading, text, retry);
  root.append(element);
  return {
    /** @param {{step: string, index: number, count: number, done: number}} step */
    step({ step, index, count, done }) {
      element.hidden = false;
      element.classList.remove("failed");
      retry.hidden = true;
      while (bar.childElementCount < count) bar.append(make("span", {}, make("span")));
      while (bar.childElementCount > count) bar.lastElementChild?.remove();
      [...bar.children].forEach((segment, at) => {
        const filled = at < index ? 1 : at === index ? done : 0;
        /** @type {HTMLElement} */ (segment.firstElementChild).style.width = `${Math.round(filled * 100)}%`;
      });
      put(bar, "aria-valuenow", Math.round(((index + done) / count) * 100));
      put(bar, "aria-valuetext", step);
      say(heading, `Waking up: ${step.charAt(0).toLowerCase()}${step.slice(1)}`.replace("python", "Python"));
      say(text, "Press, and it will catch up.");
    },
    done() {
      element.hidden = true;
    },
    /** @param {{message: string, hint: string}} why @param {() => void} again */
    failed({ message, hint }, again) {
      element.hidden = false;
      element.classList.add("failed");
      bar.replaceChildren();
      say(heading, "The engine did not start");
      say(text, `${message} ${hint}`.trim());
      retry.hidden = false;
      retry.onclick = again;
    },
  };
}
