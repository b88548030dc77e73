// Fields for pressures, speeds, weights and temperatures, and for values that
// may be left blank. What cannot be taken says which field, what was typed and
// what is allowed.

/** @import {Store, State} from '../model/store.js' */
/** @import {Quantity} from '../model/quantities.js' */
/** @import {Field, FieldParts} from './field.js' */

import { besideText, parseQuantity, quantityText, signOf } from '../model/quantities.js';
import { h, setText } from './dom.js';
import { textField } from './field.js';
import { parseNumberIn } from './measures.js';
import { parseLengthIn, lengthText } from '../model/units.js';
import { trim } from './words.js';

/**
 * @typedef {object} Optional
 * @property {(state: State) => string} [placeholder] shown where the field is blank: what holds then
 * @property {boolean} [blank] nothing typed is null; without it nothing typed is a fault
 */

/**
 * @param {Store} store
 * @param {FieldParts & Optional & { quantity: Quantity, min: number, max: number,
 *   read: (state: State) => number|null|undefined, commit: (si: number|null) => void }} parts
 * @returns {Field} in US units where lengths are in feet, with the SI value below
 */
export function quantityField(store, { quantity, min, max, read, commit, blank = false, placeholder, ...parts }) {
  const units = () => store.state.doc.site.units;
  const beside = h('p', { class: 'p-hint d-beside', 'data-testid': `${parts.name}-beside` });
  const field = optional(textField({
    ...parts,
    unit: ({ doc }) => signOf(quantity, doc.site.units),
    read: (state) => textOr(read(state), (si) => quantityText(quantity, si, state.doc.site.units)),
    commit: named(parts.label, (text) => commit(blank && text.trim() === '' ? null : parseQuantity(quantity, text, units(), { min, max }))),
  }), placeholder);
  field.element.querySelector('.p-input')?.after(beside);
  return {
    element: field.element,
    update(state) {
      field.update(state);
      setText(beside, textOr(read(state), (si) => besideText(quantity, si, state.doc.site.units)));
    },
  };
}

/**
 * @param {FieldParts & Optional & { min: number, max: number, unit?: string, digits?: number, scale?: number,
 *   read: (state: State) => number|null|undefined, commit: (value: number|null) => void }} parts scale: how many times the stored value is shown, 100 for a percentage
 * @returns {Field}
 */
export function plainField({ min, max, digits = 4, scale = 1, read, commit, blank = false, placeholder, ...parts }) {
  return optional(textField({
    ...parts,
    read: (state) => textOr(read(state), (value) => trim(value * scale, digits)),
    commit: named(parts.label, (text) =>
      commit(blank && text.trim() === '' ? null : Number((parseNumberIn(text, { min: shown(min, scale), max: shown(max, scale) }) / scale).toPrecision(12)))),
  }), placeholder);
}

/** @param {number} value @param {number} scale */
const shown = (value, scale) => Number((value * scale).toPrecision(12));

/**
 * @param {Store} store
 * @param {FieldParts & Optional & { minM: number, maxM: number, read: (state: State) => number|null|undefined, commit: (m: number|null) => void }} parts
 * @returns {Field} in the units of the site
 */
export function maybeLengthField(store, { minM, maxM, read, commit, blank = false, placeholder, ...parts }) {
  return optional(textField({
    ...parts,
    read: (state) => textOr(read(state), (m) => lengthText(m, state.doc.site.units)),
    commit: named(parts.label, (text) => commit(blank && text.trim() === '' ? null : parseLengthIn(text, store.state.doc.site.units, minM, maxM))),
  }), placeholder);
}

/**
 * Puts the field's name before what is wrong with the text.
 * @param {string} label
 * @param {(text: string) => void} take
 * @returns {(text: string) => void}
 */
export function named(label, take) {
  return (text) => {
    try {
      take(text);
    } catch (fault) {
      throw new Error(`${label}: ${fault instanceof Error ? fault.message : String(fault)}`);
    }
  };
}

/** @param {number|null|undefined} value @param {(value: number) => string} words @returns {string} '' for no value */
function textOr(value, words) {
  return value === null || value === undefined ? '' : words(value);
}

/** @param {Field} field @param {((state: State) => string)|undefined} placeholder @returns {Field} */
function optional(field, placeholder) {
  const input = field.element.querySelector('input');
  if (!placeholder || !input) return field;
  return {
    element: field.element,
    update(state) {
      field.update(state);
      input.placeholder = placeholder(state);
    },
  };
}
