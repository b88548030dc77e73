// Fields for lengths and plain numbers, with their ranges.

/** @import {Store, State} from '../model/store.js' */
/** @import {Field, FieldParts} from './field.js' */

import { formatLength, lengthText, parseLength, parseLengthIn } from '../model/units.js';
import { textField } from './field.js';
import { trim } from './words.js';

/**
 * @param {Store} store
 * @param {FieldParts & { minM: number, maxM: number, read: (state: State) => number|undefined, commit: (m: number) => void }} parts
 * @returns {Field} in the units of the site
 */
export function lengthField(store, { minM, maxM, read, commit, ...parts }) {
  return textField({
    ...parts,
    read: (state) => lengthOrBlank(read(state), state),
    commit: (text) => commit(parseLengthIn(text, store.state.doc.site.units, minM, maxM)),
  });
}

/**
 * A coordinate: a length that may be negative.
 * @param {Store} store
 * @param {FieldParts & { maxM: number, read: (state: State) => number|undefined, commit: (m: number) => void }} parts the range is symmetric
 * @returns {Field}
 */
export function coordinateField(store, { maxM, read, commit, ...parts }) {
  return textField({
    ...parts,
    read: (state) => lengthOrBlank(read(state), state),
    commit: (text) => commit(parseSignedLength(text, store.state.doc.site.units, maxM)),
  });
}

/**
 * @param {string} text
 * @param {'metric'|'imperial'} units
 * @param {number} maxM
 * @returns {number} metres
 */
export function parseSignedLength(text, units, maxM) {
  const match = /^\s*([-−–]?)(.*)$/.exec(text);
  const size = parseLength(match?.[2] ?? '', units);
  if (size > maxM) {
    throw new Error(`${formatLength(size, units)} is out of range: -${lengthText(maxM, units)} to ${lengthText(maxM, units)}.`);
  }
  return match?.[1] && size !== 0 ? -size : size;
}

/**
 * @param {FieldParts & {
 *   min: number, max: number, whole?: boolean, digits?: number, unit?: string,
 *   read: (state: State) => number|undefined, commit: (value: number) => void }} parts
 * @returns {Field}
 */
export function numberField({ min, max, whole = false, digits = 6, read, commit, ...parts }) {
  return textField({
    ...parts,
    inputmode: whole && min >= 0 ? 'numeric' : 'text',
    read: (state) => {
      const value = read(state);
      return value === undefined ? '' : trim(value, digits);
    },
    commit: (text) => commit(parseNumberIn(text, { min, max, whole })),
  });
}

/**
 * @param {string} text a decimal point or comma
 * @param {{min: number, max: number, whole?: boolean}} range
 * @returns {number} throws an Error that names the range
 */
export function parseNumberIn(text, { min, max, whole = false }) {
  const typed = text.trim();
  const plain = typed.replace(',', '.').replace(/^[−–]/, '-');
  const allowed = `${whole ? 'a whole number' : 'a number'} from ${min} to ${max}`;
  if (!/^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(plain)) throw new Error(`“${typed}” is not ${whole ? 'a whole number' : 'a number'}. Type ${allowed}.`);
  const value = Number(plain);
  if (value < min || value > max) throw new Error(`${typed} is out of range. Type ${allowed}.`);
  if (whole && !Number.isInteger(value)) throw new Error(`${typed} is not whole. Type ${allowed}.`);
  return value;
}

/**
 * @param {number|undefined} m
 * @param {State} state
 */
function lengthOrBlank(m, state) {
  return m === undefined ? '' : lengthText(m, state.doc.site.units);
}

/**
 * @param {string} text
 * @param {number} most characters
 * @param {boolean} needed
 * @returns {string}
 */
export function parseLabel(text, most, needed = false) {
  const label = text.trim();
  const length = [...label].length;
  if (needed && length === 0) throw new Error(`Type a name of 1 to ${most} characters.`);
  if (length > most) throw new Error(`This name has ${length} characters; at most ${most} are allowed.`);
  return label;
}
