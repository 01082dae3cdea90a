/** Builds elements; text always goes in as text. */

/**
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {Record<string, string>} [attributes]
 * @param {(Node | string)[]} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

/**
 * @template {keyof SVGElementTagNameMap} K
 * @param {K} tag
 * @param {Record<string, string | number>} [attributes]
 * @param {Node[]} children
 * @returns {SVGElementTagNameMap[K]}
 */
export function s(tag, attributes = {}, ...children) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) {
    element.setAttribute(name, String(value));
  }
  element.append(...children);
  return element;
}

/**
 * Sets the text only if it differs, so that nothing is announced or repainted in vain.
 * @param {Element | null | undefined} element
 * @param {string} text
 */
export function setText(element, text) {
  if (element && element.textContent !== text) element.textContent = text;
}

/**
 * Replaces the children only if `stamp` differs from the last one: open details and the focus
 * inside survive a render that changes nothing.
 * @param {HTMLElement} element
 * @param {string} stamp
 * @param {() => Node[]} build
 */
export function rebuild(element, stamp, build) {
  if (element.dataset["stamp"] === stamp) return;
  element.dataset["stamp"] = stamp;
  element.replaceChildren(...build());
}

/**
 * Sends a verb up to `main`.
 * @param {HTMLElement} from
 * @param {string} verb
 * @param {unknown} [detail]
 */
export function send(from, verb, detail) {
  from.dispatchEvent(new CustomEvent(`lab:${verb}`, { detail, bubbles: true }));
}

/**
 * The page's element of a kind.
 * @template {HTMLElement} T
 * @param {string} tag
 * @param {new () => T} kind
 * @returns {T}
 */
export function find(tag, kind) {
  const element = document.querySelector(tag);
  if (!(element instanceof kind)) throw new Error(`the page has no ${tag}`);
  return element;
}
