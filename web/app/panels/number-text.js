/** Typed numbers as text: stepping the last digit and turning the sign, without ever re-reading the value as a float. */

const NUMBER = /^(\s*[-\u2212+]?)(\d*)(?:([.,])(\d*))?/;

/**
 * @param {string} text
 * @returns {number|null} the leading number, for the accessible value only
 */
export function numberIn(text) {
  const plain = text.trim().replace(/[\u2009\u202f\u00a0]/g, "").replace("\u2212", "-").replace(",", ".");
  const value = Number.parseFloat(plain);
  return Number.isFinite(value) ? value : null;
}

/**
 * The text with its last digit stepped: "5.2" and 1 give "5.3".
 * @param {string} text
 * @param {number} steps
 * @returns {string} the same text when it does not begin with a number
 */
export function stepLastDigit(text, steps) {
  const value = numberIn(text);
  const found = NUMBER.exec(text);
  if (value === null || !found) return text;
  const decimals = found[4]?.length ?? 0;
  const stepped = (value + steps * 10 ** -decimals).toFixed(decimals);
  const rest = text.slice(found[0].length);
  return stepped.replace("-", "\u2212").replace(".", found[3] ?? ".") + rest;
}

/**
 * The text with the other sign, for keyboards without a minus key.
 * @param {string} text
 */
export function turnSign(text) {
  const bare = text.trimStart();
  return /^[-\u2212]/.test(bare) ? bare.slice(1) : `\u2212${bare.replace(/^\+/, "")}`;
}
