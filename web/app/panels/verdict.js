/** The verdict in one sentence, its reason, and the switch that shows answers or keeps them back. */

import { make, put, say } from "../dom.js";

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 */
export function createVerdict(root, state) {
  const headline = make("strong", { class: "verdict-headline" });
  const sentence = make("span");
  const near = make("span", { class: "verdict-near" });
  const detail = make("span", { class: "verdict-detail" });
  const words = make("p", { class: "verdict", id: "verdict", onclick: () => words.classList.toggle("whole") }, headline, " ", sentence, " ", near, " ", detail);
  const answers = make("button", { type: "button", class: "answers-button" });
  answers.addEventListener("click", () => {
    const kept = state.reply?.panels.answers === "kept";
    void state.command("answers", { answers: kept ? "shown" : "kept" });
  });
  const letGo = make("button", { type: "button", class: "let-go-button", text: "Let go", title: "See how it starts to move", onclick: () => void state.ask({ do: "show", let_go: true }) });
  const line = make("div", { class: "verdict-line" }, words, make("div", { class: "verdict-buttons" }, letGo, answers));
  root.append(line);

  return {
    /** Where the system that this is the verdict on can be chosen. */
    line,
    /** @param {boolean} readOnly */
    lock(readOnly) {
      answers.disabled = readOnly;
    },
    /** @param {import("../protocol.js").Panels} panels */
    update({ verdict, answers: shown, empty, release }) {
      say(headline, verdict.headline);
      say(sentence, verdict.sentence);
      say(near, verdict.near);
      say(detail, verdict.detail === verdict.sentence ? "" : verdict.detail);
      put(words, "data-kind", verdict.kind);
      put(words, "title", [verdict.headline, verdict.sentence, verdict.near, verdict.detail].filter(Boolean).join(" "));
      say(answers, shown === "kept" ? "Show the answers" : "Keep them back");
      put(answers, "title", shown === "kept" ? "Show what the engine has found" : "Keep the answers back, to find them yourself");
      answers.hidden = empty;
      letGo.hidden = !release?.offered || release.shown !== null;
    },
  };
}
