// What the keeper tells the user, in words. A notice stands until one with the same key replaces or clears it.

/**
 * @typedef {object} NoticeAction
 * @property {string} label
 * @property {() => void | Promise<void>} run
 */

/**
 * @typedef {object} Notice
 * @property {"storage" | "tabs" | "engine"} key
 * @property {"info" | "warning"} tone
 * @property {string | null} text  null clears the notice with this key
 * @property {NoticeAction[]} actions
 */

/** @type {Record<import("./database.js").StoreReason, string>} */
const NOT_KEPT = {
  full: "Not kept: the browser’s storage is full. Save this sketch as a file before you leave.",
  slow: "Not kept: the browser’s storage does not answer. Save this sketch as a file before you leave.",
  unavailable: "Not kept: the browser does not let this page store anything. Save this sketch as a file before you leave.",
  conflict: "",
};

/** @param {Notice["key"]} key @returns {Notice} */
export const cleared = (key) => ({ key, tone: "info", text: null, actions: [] });

/** @param {import("./database.js").StoreReason} reason @param {NoticeAction[]} actions @returns {Notice} */
export const notKept = (reason, actions) => ({ key: "storage", tone: "warning", text: NOT_KEPT[reason], actions });

/** @param {NoticeAction[]} actions @returns {Notice} */
export const keptShort = (actions) => ({
  key: "storage",
  tone: "warning",
  text: "The browser’s storage is nearly full. The sketch is kept, but after closing the page undo will not reach back before now.",
  actions,
});

/** @param {NoticeAction[]} actions @returns {Notice} */
export const openElsewhere = (actions) => ({
  key: "tabs",
  tone: "info",
  text: "This sketch is open in another window. Here it can only be looked at.",
  actions,
});

/** @param {NoticeAction[]} actions @returns {Notice} */
export const takenElsewhere = (actions) => ({
  key: "tabs",
  tone: "warning",
  text: "Another window has taken this sketch over. Here it can only be looked at.",
  actions,
});

/** @returns {Notice} */
export const restarting = () => ({
  key: "engine",
  tone: "info",
  text: "The engine stopped and is starting again. Nothing that was done is lost.",
  actions: [],
});

/** @returns {Notice} */
export const historyLost = () => ({
  key: "engine",
  tone: "warning",
  text: "The sketch is back as it stood, but its undo history could not be brought back.",
  actions: [],
});

/** @param {NoticeAction[]} actions @returns {Notice} */
export const stopped = (actions) => ({
  key: "engine",
  tone: "warning",
  text: "The engine stopped more than once on this sketch and was not started again. Save the sketch as a file; nothing of it is lost.",
  actions,
});

/** @param {NoticeAction[]} actions @returns {Notice} */
export const unreadable = (actions) => ({
  key: "engine",
  tone: "warning",
  text: "The kept sketch could not be opened. Save it as a file, so that nothing of it is lost, and start another.",
  actions,
});
