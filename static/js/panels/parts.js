// Pieces that the longer dialogs are built of: headed parts that come and go,
// folded groups, notes that follow the state, lists of figures.

/** @import {State} from '../model/store.js' */
/** @import {Child} from './dom.js' */
/** @import {Field} from './field.js' */

import { h, setText } from './dom.js';

/** @typedef {readonly (readonly [label: string, value: string])[]} Facts */

/**
 * @param {string} title
 * @param {(Field|Child)[]} parts
 * @param {(state: State) => boolean} [when] it is shown; always without
 * @returns {Field}
 */
export function part(title, parts, when) {
  return group(h('section', { class: 'd-part' }, h('h3', {}, title)), parts, when);
}

/**
 * Two fields side by side.
 * @param {(Field|Child)[]} parts
 * @param {(state: State) => boolean} [when]
 * @returns {Field}
 */
export function pairs(parts, when) {
  return group(h('div', { class: 'p-pairs d-pairs' }), parts, when);
}

/**
 * Parts behind a line that opens them.
 * @param {string} name for tests
 * @param {string|((state: State) => string)} line
 * @param {(Field|Child)[]} parts
 * @param {(state: State) => boolean} [when]
 * @returns {Field}
 */
export function folded(name, line, parts, when) {
  const summary = h('summary', { 'data-testid': `${name}-fold` });
  const inner = group(h('div', { class: 'p-group' }), parts);
  return {
    element: h('details', { class: 'd-fold' }, summary, inner.element),
    update(state) {
      this.element.hidden = when ? !when(state) : false;
      setText(summary, typeof line === 'function' ? line(state) : line);
      inner.update(state);
    },
  };
}

/**
 * @param {HTMLElement} element
 * @param {(Field|Child)[]} parts
 * @param {(state: State) => boolean} [when]
 * @returns {Field}
 */
export function group(element, parts, when) {
  const fields = parts.filter(isField);
  element.append(...parts.map((p) => (isField(p) ? p.element : p)).filter((p) => p !== null && p !== undefined && p !== false));
  return {
    element,
    update(state) {
      element.hidden = when ? !when(state) : false;
      if (!element.hidden) for (const field of fields) field.update(state);
    },
  };
}

/** @param {Field|Child} value @returns {value is Field} */
function isField(value) {
  return typeof value === 'object' && value !== null && 'update' in value;
}

/**
 * A sentence that follows the state; hidden where it says nothing.
 * @param {string} name for tests
 * @param {(state: State) => string} words
 * @param {string} [cls]
 * @returns {Field}
 */
export function note(name, words, cls = 'p-hint') {
  const element = h('p', { class: cls, 'data-testid': name, hidden: true });
  return {
    element,
    update(state) {
      const text = words(state);
      setText(element, text);
      element.hidden = text === '';
    },
  };
}

/**
 * Sentences that follow the state, one below the other.
 * @param {string} name for tests
 * @param {(state: State) => readonly string[]} words
 * @param {string} cls
 * @returns {Field}
 */
export function notes(name, words, cls) {
  const element = h('ul', { class: cls, 'data-testid': name, hidden: true });
  let drawn = '';
  return {
    element,
    update(state) {
      const texts = words(state);
      const key = texts.join('\n');
      element.hidden = texts.length === 0;
      if (key === drawn) return;
      drawn = key;
      element.replaceChildren(...texts.map((text) => h('li', {}, text)));
    },
  };
}

/**
 * Figures with their names, as a datasheet lists them.
 * @param {string} name for tests
 * @param {(state: State) => Facts} read
 * @param {string} [cls] '' sets the values at the right, for numbers
 * @returns {Field}
 */
export function facts(name, read, cls = 'd-facts') {
  const element = h('dl', { class: `p-facts ${cls}`, 'data-testid': name });
  let drawn = '';
  return {
    element,
    update(state) {
      const list = read(state);
      const key = JSON.stringify(list);
      element.hidden = list.length === 0;
      if (key === drawn) return;
      drawn = key;
      element.replaceChildren(...list.map(([label, value]) => h('div', { class: 'p-fact' }, h('dt', {}, label), h('dd', {}, value))));
    },
  };
}
