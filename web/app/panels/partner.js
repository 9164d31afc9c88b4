/** The third-law partner of a force, on a card of its own: another body, another picture. */

import { draw, make, put, say, sayWords } from "../dom.js";
import { icon } from "./icons.js";

/**
 * @param {HTMLElement} root
 * @param {(svg: SVGSVGElement) => {paint: (picture: import("../protocol.js").Picture) => void}} paintOn
 * @param {import("../state.js").State} state
 * @param {{toBoard: () => void}} calls
 */
export function createPartner(root, paintOn, state, calls) {
  const svg = draw("svg", { class: "partner-picture", role: "graphics-document document" });
  const heading = make("h2", { class: "partner-title", id: "partner-title" });
  const close = make("button", { type: "button", class: "plain-button partner-close" }, icon("close"), make("span", { class: "unseen", text: "Close the partner" }));
  const name = make("p", { class: "partner-name" });
  const sentence = make("p", { class: "partner-sentence" });
  const card = make("section", { class: "partner", "aria-labelledby": "partner-title", hidden: true }, make("div", { class: "partner-head" }, heading, close), svg, make("div", { class: "partner-words" }, name, sentence));
  root.append(card);
  const painter = paintOn(svg);
  let of = "";

  function shut() {
    void state.ask({ do: "show", partner: null });
    calls.toBoard();
  }
  close.addEventListener("click", shut);
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || event.defaultPrevented || card.hidden || document.querySelector("dialog[open]")) return;
    event.preventDefault();
    event.stopPropagation();
    shut();
  }, { capture: true });

  return {
    /** @param {import("../protocol.js").Partner|null|undefined} partner */
    update(partner) {
      const opened = Boolean(partner) && (card.hidden || partner?.of !== of);
      card.hidden = !partner;
      of = partner?.of ?? "";
      if (!partner) return;
      sayWords(heading, [{ text: "Partner of ", role: "plain" }, ...partner.symbol]);
      put(svg, "aria-label", `${partner.title}, with ${partner.name}`);
      painter.paint(partner.picture);
      say(name, partner.name.charAt(0).toUpperCase() + partner.name.slice(1));
      say(sentence, partner.sentence);
      if (opened) close.focus({ preventScroll: true });
    },
  };
}
