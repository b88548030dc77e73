// Making SVG and HTML elements in one expression.

/** @typedef {Record<string, string|number|boolean|null|undefined>} Attrs null, undefined and false are left out */
/** @typedef {Node|string|null|undefined|false} Child */

/**
 * @template {keyof SVGElementTagNameMap} N
 * @param {N} name
 * @param {Attrs} [attrs]
 * @param {Child[]} [children]
 * @returns {SVGElementTagNameMap[N]}
 */
export function svg(name, attrs = {}, children = []) {
  return fill(document.createElementNS('http://www.w3.org/2000/svg', name), attrs, children);
}

/**
 * @template {keyof HTMLElementTagNameMap} N
 * @param {N} name
 * @param {Attrs} [attrs]
 * @param {Child[]} [children]
 * @returns {HTMLElementTagNameMap[N]}
 */
export function html(name, attrs = {}, children = []) {
  return fill(document.createElement(name), attrs, children);
}

/**
 * @template {Element} E
 * @param {E} element
 * @param {Attrs} attrs
 * @param {Child[]} children
 * @returns {E}
 */
function fill(element, attrs, children) {
  for (const [name, value] of Object.entries(attrs)) {
    if (value !== null && value !== undefined && value !== false) element.setAttribute(name, value === true ? '' : String(value));
  }
  for (const child of children) if (child) element.append(child);
  return element;
}

/** @param {number} px @returns {string} short, to a hundredth of a pixel */
export function n(px) {
  return String(Math.round(px * 100) / 100);
}

/** @param {{x: number, y: number}[]} points @param {boolean} [closed] @returns {string} path data */
export function pathOf(points, closed = true) {
  if (points.length === 0) return '';
  return `M${points.map((p) => `${n(p.x)} ${n(p.y)}`).join('L')}${closed ? 'Z' : ''}`;
}
