/** The one highlighter: what is lit is lit in the board, the strips, the table and the outline at once. */

/** @param {string} id the force or thing to light; empty lights nothing */
export function light(id) {
  // The browser finds what must change; after most replies that is nothing.
  const own = id === "" ? "" : `[data-of="${CSS.escape(id)}"]`;
  const others = document.querySelectorAll(own ? `.lit[data-of]:not(${own})` : ".lit[data-of]");
  for (const element of others) element.classList.remove("lit");
  if (own) for (const element of document.querySelectorAll(`${own}:not(.lit)`)) element.classList.add("lit");
}

/**
 * Light on hover and focus anything inside `root` that says whose it is.
 * @param {HTMLElement} root
 * @param {(id: string) => void} hover
 * @param {(id: string) => void} focus
 */
export function watchLight(root, hover, focus) {
  /** @param {Event} event */
  const owner = (event) =>
    event.target instanceof Element ? event.target.closest("[data-of]")?.getAttribute("data-of") ?? "" : "";
  root.addEventListener("pointerover", (event) => {
    // On the board itself what lies under the hand is picked by distance, not by element.
    const onBoard = event.target instanceof Element && event.target.closest(".desk") !== null;
    if (event.pointerType !== "touch" && !onBoard) hover(owner(event));
  });
  root.addEventListener("pointerleave", () => hover(""));
  root.addEventListener("focusin", (event) => focus(owner(event)));
  root.addEventListener("focusout", () => focus(""));
}
