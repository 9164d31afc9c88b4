// The named steps of starting the engine, as they are shown.

/** @typedef {{step: string, index: number, count: number, done: number}} Step `done` is 0 to 1 within the step. */

export const FETCHING = 0;
export const STARTING = 1;
export const LOADING = 2;

const NAMES = ["Fetching Python", "Starting Python", "Loading the engine"];
const NAMES_FROM_SNAPSHOT = ["Fetching what was kept", "Waking Python", "Putting the engine back"];

/**
 * @param {number} index
 * @param {number} done
 * @param {boolean} fromSnapshot
 * @returns {Step}
 */
export function step(index, done, fromSnapshot) {
  const names = fromSnapshot ? NAMES_FROM_SNAPSHOT : NAMES;
  return { step: names[index], index, count: names.length, done };
}
