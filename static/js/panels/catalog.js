// Catalog entries and the copies of them in a document.

/** @import {Candidate, Product} from '../model/types.js' */

import { lengthText } from '../model/units.js';

/** @typedef {{id: string, label: string, pmax_w: number, length_m: number, width_m: number, invented: boolean, datasheet: Product}} CatalogModule */

/**
 * @param {CatalogModule|undefined} module undefined gives a plain start to type over
 * @param {string} id of the candidate
 * @returns {Candidate} with a copy of the whole datasheet
 */
export function candidateFrom(module, id) {
  if (!module) return { id, catalog_id: '', label: 'Typed module', pmax_w: 400, length_m: 1.7, width_m: 1.1, invented: false, datasheet: null };
  const { label, pmax_w, length_m, width_m, invented, datasheet } = module;
  return { id, catalog_id: module.id, label, pmax_w, length_m, width_m, invented, datasheet };
}

/** @param {Candidate} candidate @returns {Omit<Candidate, 'id'>} the same as a module that was typed, without datasheet */
export function typedFrom({ label, pmax_w, length_m, width_m }) {
  return { catalog_id: '', label, pmax_w, length_m, width_m, invented: false, datasheet: null };
}

/**
 * @param {CatalogModule} module
 * @returns {string} its label, with what the label does not say already
 */
export function catalogWords({ label, pmax_w, invented }) {
  const watts = label.includes(`${pmax_w} W`) ? '' : `${pmax_w} W`;
  const mark = invented && !/invented/i.test(label) ? 'invented' : '';
  return [label, watts, mark].filter(Boolean).join(', ');
}

/**
 * Whether a candidate was edited after it was copied, or the catalog changed
 * since. An entry that is gone counts as changed.
 * @param {Candidate} candidate
 * @param {readonly CatalogModule[]} catalog
 */
export function differsFromCatalog(candidate, catalog) {
  const module = catalog.find((m) => m.id === candidate.catalog_id);
  return !module || !sameFigures(candidateFrom(module, candidate.id), candidate);
}

/**
 * Whether two copies of a product have the same figures.
 * @param {unknown} a JSON value
 * @param {unknown} b JSON value
 * @returns {boolean}
 */
export function sameFigures(a, b) {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const names = new Set([...Object.keys(a), ...Object.keys(b)]);
  const [left, right] = [/** @type {Record<string, unknown>} */ (a), /** @type {Record<string, unknown>} */ (b)];
  return [...names].every((name) => sameFigures(left[name], right[name]));
}

/** What makes a module another one: the figures that a datasheet is tied to. */
const TIED = /** @type {const} */ (['pmax_w', 'length_m', 'width_m']);

/** @typedef {Partial<Pick<Candidate, 'label'|'pmax_w'|'length_m'|'width_m'>>} Retyped */

/**
 * @param {Candidate} candidate
 * @param {Retyped} patch
 * @returns {boolean} whether its datasheet is of another module after the change
 */
export function losesDatasheet(candidate, patch) {
  return candidate.datasheet !== null && TIED.some((name) => patch[name] !== undefined && patch[name] !== candidate[name]);
}

/**
 * The change with what it does to the datasheet: a name goes over to it, other
 * power or sides take it away.
 * @param {Candidate} candidate
 * @param {Retyped} patch
 * @returns {Partial<Omit<Candidate, 'id'>>}
 */
export function withDatasheet(candidate, patch) {
  if (candidate.datasheet === null) return patch;
  if (losesDatasheet(candidate, patch)) return { ...patch, datasheet: null };
  if (patch.label === undefined || patch.label === candidate.label) return patch;
  return { ...patch, datasheet: { ...candidate.datasheet, label: patch.label } };
}

/**
 * @param {Pick<Candidate, 'length_m'|'width_m'>} candidate
 * @param {'metric'|'imperial'} units
 * @returns {string} '' when the long side is not the shorter one
 */
export function sizeFault({ length_m, width_m }, units) {
  if (length_m >= width_m) return '';
  return `The long side (${lengthText(length_m, units)}) must not be shorter than the short side (${lengthText(width_m, units)}).`;
}

/**
 * The catalog that came with the page.
 * @param {Document} page
 * @returns {readonly CatalogModule[]} empty when there is none
 */
export function catalogOf(page) {
  const boot = page.getElementById('boot')?.textContent;
  return boot ? (JSON.parse(boot).catalog ?? []) : [];
}
