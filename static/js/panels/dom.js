// Small functions that build page parts. Nothing here knows what it shows.

const SVG = 'http://www.w3.org/2000/svg';

/** @typedef {Node|string|null|undefined|false} Child */
/** @typedef {string|number|boolean|null|undefined|((event: any) => void)} Attribute functions are listeners named onEvent */

/**
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, Attribute>} [attributes] false, null and undefined leave one out, true sets it bare
 * @param {...Child} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  dress(element, attributes);
  element.append(...present(children));
  return element;
}

/**
 * @template {keyof SVGElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, Attribute>} [attributes]
 * @param {...Child} children
 * @returns {SVGElementTagNameMap[T]}
 */
export function svg(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  dress(element, attributes);
  element.append(...present(children));
  return element;
}

/**
 * @param {Element} element
 * @param {Record<string, Attribute>} attributes
 */
function dress(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    if (typeof value === 'function') element.addEventListener(name.slice(2).toLowerCase(), value);
    else element.setAttribute(name, value === true ? '' : String(value));
  }
}

/**
 * @param {Child[]} children
 * @returns {(Node|string)[]}
 */
function present(children) {
  return /** @type {(Node|string)[]} */ (children.filter((child) => child !== null && child !== undefined && child !== false));
}

/**
 * Replaces the text only when it differs, so that a screen reader's place and
 * a text selection survive a redraw.
 * @param {Element} element
 * @param {string} text
 */
export function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/**
 * @param {Element} element
 * @param {string} name
 * @param {string|null} value null takes it away
 */
export function setAttribute(element, name, value) {
  if (value === null) element.removeAttribute(name);
  else if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

/**
 * @param {string} label
 * @param {(event: MouseEvent) => void} run
 * @param {Record<string, Attribute>} [attributes]
 */
export function button(label, run, attributes = {}) {
  return h('button', { type: 'button', onClick: run, ...attributes }, label);
}
