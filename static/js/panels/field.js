// Form fields. A field reads its value from the state and commits it as one
// step on change or Enter; Escape puts back what was there. A value that
// cannot be taken stays in the field, with the reason under it, and changes
// nothing.

/** @import {State} from '../model/store.js' */
/** @import {Choice} from './words.js' */

import { h, setAttribute, setText } from './dom.js';

/**
 * @typedef {object} Field
 * @property {HTMLElement} element
 * @property {(state: State) => void} update draws the state; leaves alone what is being typed
 */
/**
 * @typedef {object} FieldParts
 * @property {string} name for tests, unique on the page
 * @property {string} label
 * @property {string} [path] document field it edits, such as planes.pitch_deg; a problem's list jumps to it
 * @property {string} [hint] plain words under the field
 */

/**
 * @param {FieldParts & {
 *   unit?: string|((state: State) => string),
 *   read: (state: State) => string,
 *   commit: (text: string) => void,
 *   inputmode?: string, wide?: boolean, placeholder?: string }} parts commit throws an Error whose message is shown
 * @returns {Field}
 */
export function textField({ name, label, path, hint = '', unit = '', read, commit, inputmode = 'text', wide = false, placeholder }) {
  const id = `field-${name}`;
  let shown = '';
  const unitText = h('span', { class: 'p-unit unit', id: `${id}-unit` });
  const error = h('p', { class: 'p-error problem', id: `${id}-error`, 'aria-live': 'polite' });
  const input = h('input', {
    id, type: 'text', inputmode, placeholder, autocomplete: 'off', spellcheck: 'false',
    'data-testid': name, 'data-path': path,
    'aria-describedby': [`${id}-unit`, hint && `${id}-hint`, `${id}-error`].filter(Boolean).join(' '),
    onChange: take,
    onKeydown: keyed,
  });

  /** @param {string} message */
  function blame(message) {
    setText(error, message);
    setAttribute(input, 'aria-invalid', message ? 'true' : null);
  }

  function revert() {
    input.value = shown;
    blame('');
  }

  function take() {
    const typed = input.value;
    // An untouched value is not committed: what is shown may be rounded.
    if (typed.trim() === shown.trim()) return revert();
    try {
      commit(typed);
      // The commit has drawn the new state, but not over what was typed.
      revert();
    } catch (fault) {
      blame(fault instanceof Error ? fault.message : String(fault));
    }
  }

  /** @param {KeyboardEvent} event */
  function keyed(event) {
    if (event.key === 'Enter') {
      take();
      input.select();
    } else if (event.key === 'Escape' && (input.value !== shown || error.textContent)) {
      event.preventDefault();
      event.stopPropagation();
      revert();
    }
  }

  return {
    element: h(
      'div',
      { class: wide ? 'field p-wide' : 'field' },
      h('label', { for: id }, label),
      h('span', { class: 'p-input' }, input, unitText),
      hint && h('p', { class: 'p-hint', id: `${id}-hint` }, hint),
      error,
    ),
    update(state) {
      setText(unitText, typeof unit === 'function' ? unit(state) : unit);
      const untouched = input.value === shown;
      shown = read(state);
      if (untouched && input.value !== shown) revert();
    },
  };
}

/**
 * @param {FieldParts & {
 *   choices: readonly Choice[]|((state: State) => readonly Choice[]),
 *   read: (state: State) => string,
 *   commit: (value: string) => void, bare?: boolean, wide?: boolean }} parts bare keeps the label for screen readers only
 * @returns {Field}
 */
export function selectField({ name, label, path, hint = '', choices, read, commit, bare = false, wide = false }) {
  const id = `field-${name}`;
  const select = h('select', {
    id, 'data-testid': name, 'data-path': path,
    'aria-describedby': hint ? `${id}-hint` : null,
    onChange: () => commit(select.value),
  });
  let drawn = '';
  return {
    element: h(
      'div',
      { class: bare ? 'p-bare' : wide ? 'field p-wide' : 'field' },
      h('label', { for: id, class: bare ? 'visually-hidden' : null }, label),
      h('span', { class: 'p-input' }, select),
      hint && h('p', { class: 'p-hint', id: `${id}-hint` }, hint),
    ),
    update(state) {
      const list = typeof choices === 'function' ? choices(state) : choices;
      const key = JSON.stringify(list);
      if (key !== drawn) {
        drawn = key;
        select.replaceChildren(...list.map(([value, text]) => h('option', { value }, text)));
      }
      select.value = read(state);
    },
  };
}

/**
 * @param {FieldParts & { read: (state: State) => boolean, commit: (on: boolean) => void, bare?: boolean }} parts
 * @returns {Field}
 */
export function checkField({ name, label, path, hint = '', read, commit, bare = false }) {
  const id = `field-${name}`;
  const input = h('input', {
    id, type: 'checkbox', 'data-testid': name, 'data-path': path,
    'aria-describedby': hint ? `${id}-hint` : null,
    onChange: () => commit(input.checked),
  });
  return {
    element: h(
      'div',
      { class: bare ? 'check p-bare' : 'check' },
      h('label', { for: id }, input, h('span', {}, label)),
      hint && h('p', { class: 'p-hint', id: `${id}-hint` }, hint),
    ),
    update(state) {
      input.checked = read(state);
    },
  };
}

/**
 * @param {FieldParts & { choices: readonly Choice[], read: (state: State) => string, commit: (value: string) => void }} parts
 * @returns {Field}
 */
export function radioField({ name, label, path, hint = '', choices, read, commit }) {
  const inputs = choices.map(([value]) =>
    h('input', { type: 'radio', name: `field-${name}`, value, 'data-testid': `${name}-${value}`, 'data-path': path, onChange: () => commit(value) }),
  );
  return {
    element: h(
      'fieldset',
      { class: 'p-radios' },
      h('legend', {}, label),
      ...choices.map(([, text], i) => h('label', {}, inputs[i], h('span', {}, text))),
      hint && h('p', { class: 'p-hint' }, hint),
    ),
    update(state) {
      const value = read(state);
      for (const input of inputs) input.checked = input.value === value;
    },
  };
}

/**
 * Words that follow the state, such as an area.
 * @param {string} name for tests
 * @param {string} label
 * @param {(state: State) => string} read
 * @returns {Field}
 */
export function fact(name, label, read) {
  const value = h('dd', { 'data-testid': name });
  return {
    element: h('div', { class: 'p-fact' }, h('dt', {}, label), value),
    update: (state) => setText(value, read(state)),
  };
}

/**
 * @param {Field[]} fields
 * @returns {(state: State) => void}
 */
export function updateAll(fields) {
  return (state) => fields.forEach((field) => field.update(state));
}
