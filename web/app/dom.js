/** Element helpers anyone may use. They never parse markup: words reach the page as text only. */

const SVG = "http://www.w3.org/2000/svg";

/**
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {Record<string, string|number|boolean|null|undefined|((event: any) => void)>} [options]
 *   attributes; "class" and "text" are understood, and "on…" adds a listener
 * @param {...(Node|string|null|undefined|false)} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function make(tag, options = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(options)) {
    if (typeof value === "function") element.addEventListener(name.slice(2), value);
    else if (name === "text") element.textContent = String(value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, String(value));
  }
  for (const child of children) if (child) element.append(child);
  return element;
}

/**
 * @template {keyof SVGElementTagNameMap} K
 * @param {K} tag
 * @param {Record<string, string|number>} [attributes]
 * @param {...Node} children
 * @returns {SVGElementTagNameMap[K]}
 */
export function draw(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  element.append(...children);
  return element;
}

/**
 * Write an attribute only when it changes; null takes it away.
 * @param {Element} element
 * @param {string} name
 * @param {string|number|boolean|null|undefined} value
 */
export function put(element, name, value) {
  if (value === null || value === undefined || value === false) {
    if (element.hasAttribute(name)) element.removeAttribute(name);
  } else {
    const text = value === true ? "" : String(value);
    if (element.getAttribute(name) !== text) element.setAttribute(name, text);
  }
}

/**
 * Write text only when it changes.
 * @param {Element} element
 * @param {string} text
 */
export function say(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/**
 * Write words: a string, or runs in which symbols are italic and subscripts are low.
 * @param {Element} element
 * @param {import("./protocol.js").Words|null|undefined} words
 */
export function sayWords(element, words) {
  if (!Array.isArray(words)) {
    say(element, words ?? "");
    return;
  }
  const wanted = words.map((run) => `${run.role}\u0000${run.text}`).join("\u0001");
  if (element.getAttribute("data-words") === wanted) return;
  element.setAttribute("data-words", wanted);
  element.replaceChildren(...words.map((run) => make("span", { class: `run-${run.role}`, text: run.text })));
}

/**
 * Bring the children of a list in step with its data, keeping elements (and so the focus) by key.
 * @template T
 * @param {Element} parent
 * @param {T[]} items
 * @param {(item: T) => string} keyOf
 * @param {(item: T) => Element} create
 * @param {(element: any, item: T) => void} update
 */
export function reconcile(parent, items, keyOf, create, update) {
  /** @type {Map<string, Element>} */
  const known = new Map();
  for (const child of parent.children) known.set(child.getAttribute("data-key") ?? "", child);
  const wanted = new Set(items.map(keyOf));
  for (const [key, child] of known) if (!wanted.has(key)) child.remove();
  let cursor = parent.firstElementChild;
  for (const item of items) {
    const key = keyOf(item);
    let child = known.get(key);
    if (!child) {
      child = create(item);
      child.setAttribute("data-key", key);
    }
    if (child === cursor) cursor = cursor.nextElementSibling;
    else parent.insertBefore(child, cursor);
    update(child, item);
  }
}

/**
 * @param {EventTarget|null} target
 * @returns {boolean} whether typing belongs to this element
 */
export function takesText(target) {
  if (!(target instanceof HTMLElement)) return false;
  if (target instanceof HTMLInputElement) return !["checkbox", "radio", "button", "range"].includes(target.type);
  return target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement || target.isContentEditable;
}
