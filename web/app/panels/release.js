/** What happens when the body is let go: in words, and as a motion to play, to stop and to look through. */

import { make, put, reconcile, say, sayWords } from "../dom.js";

/** @typedef {import("../protocol.js").LetGo} LetGo */

// What is over in a blink is shown slower.
const SHORTEST_S = 1;

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 * @param {{toBoard: () => void, say: (words: string) => void, show: (outlines: {path: string, transform: string}[]) => void, clear: () => void}} calls
 */
export function createRelease(root, state, calls) {
  const play = make("button", { type: "button", class: "release-play quiet-button", text: "Play", onclick: () => (frame ? pause() : start()) });
  const handle = make("input", { class: "release-handle", type: "range", min: 0, step: 1, "aria-label": "Time since it was let go" });
  const stamp = make("span", { class: "release-stamp", "aria-hidden": "true" });
  const close = make("button", { type: "button", class: "release-close quiet-button", text: "Close", "aria-label": "Close: put it back", onclick: () => shut() });
  const line = make("div", { class: "release-line" }, play, make("div", { class: "release-room" }, handle), stamp);
  const words = make("ul", { class: "release-words", id: "release-words" });
  const ending = make("p", { class: "release-more" });
  const more = make("p", { class: "release-more" });
  put(handle, "aria-describedby", words.id);
  root.append(make("div", { class: "release-head" }, line, close), make("div", { class: "release-said", tabindex: 0, role: "group", "aria-label": "What happens" }, words, ending, more));
  root.hidden = true;

  const calm = matchMedia("(prefers-reduced-motion: reduce)");
  /** @type {LetGo|null} */
  let shown = null;
  let frame = 0;

  function shut() {
    pause();
    calls.toBoard();
    void state.ask({ do: "show", let_go: false });
  }

  function pause() {
    cancelAnimationFrame(frame);
    frame = 0;
    say(play, "Play");
  }

  function start() {
    const motion = shown?.motion;
    if (!motion || calm.matches) return;
    const { times } = motion;
    const last = times.length - 1;
    if (Number(handle.value) >= last) handle.value = "0";
    const rate = Math.min(1, times[last] / SHORTEST_S);
    const from = times[Number(handle.value)];
    const began = performance.now();
    say(play, "Pause");
    const step = () => {
      const time = from + ((performance.now() - began) / 1000) * rate;
      const next = times.findIndex((each) => each > time);
      handle.value = String(next < 0 ? last : Math.max(0, next - 1));
      pose();
      if (next < 0) pause();
      else frame = requestAnimationFrame(step);
    };
    frame = requestAnimationFrame(step);
  }

  function pose() {
    const motion = shown?.motion;
    if (!motion) return;
    const at = Number(handle.value);
    calls.show(motion.outlines.map(({ path, transforms }) => ({ path, transform: transforms[at] })));
    say(stamp, motion.stamps[at].text);
    put(handle, "aria-valuetext", motion.stamps[at].text);
  }

  handle.addEventListener("input", () => {
    pause();
    pose();
  });
  root.addEventListener("keydown", (event) => {
    if (event.key === "Escape") shut();
    else if (event.key === " " && event.target === handle) {
      if (frame) pause();
      else start();
    } else return;
    event.preventDefault();
    event.stopPropagation();
  });

  return {
    /** End it where it is open. @returns {boolean} whether it was */
    end() {
      if (!shown) return false;
      shut();
      return true;
    },
    /** @param {import("../protocol.js").Release|null|undefined} release */
    update(release) {
      const before = shown;
      shown = release?.shown ?? null;
      root.hidden = !shown;
      if (!shown) {
        if (before) {
          pause();
          calls.clear();
        }
        return;
      }
      const { motion } = shown;
      reconcile(words, shown.words, (each) => shown?.words.indexOf(each).toString() ?? "", () => make("li"), (element, each) => sayWords(element, each));
      say(ending, motion ? `${motion.ending.text} ${motion.energy.text}` : "");
      say(more, shown.assumed.text);
      line.hidden = !motion;
      play.hidden = calm.matches;
      if (!motion) calls.clear();
      else put(handle, "max", motion.times.length - 1);
      if (before) pose();
      else {
        handle.value = "0";
        pose();
        calls.say(shown.words.map((runs) => runs.map((run) => run.text).join("")).join(" "));
        (motion ? handle : close).focus({ preventScroll: true });
        start();
      }
    },
  };
}
