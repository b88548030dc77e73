// Catalog entries and the copies of them in a document.

/** @import {Candidate, Product} from '../model/types.js' */

import { lengthText } from '../model/units.js';

/** @typedef {{id: string, label: string, pmax_w: number, length_m: number, width_m: number, invented: boolean, datasheet?: Product}} CatalogModule */

/**
 * @param {CatalogModule|undefined} module undefined gives a plain start to type over
 * @param {string} id of the candidate
 * @returns {Candidate}
 */
export function candidateFrom(module, id) {
  if (!module) return { id, catalog_id: '', label: 'Typed module', pmax_w: 400, length_m: 1.7, width_m: 1.1, invented: false, datasheet: null };
  const { label, pmax_w, length_m, width_m, invented, datasheet = null } = module;
  return { id, catalog_id: module.id, label, pmax_w, length_m, width_m, invented, datasheet };
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
  if (!module) return true;
  return (
    module.label !== candidate.label ||
    module.pmax_w !== candidate.pmax_w ||
    module.length_m !== candidate.length_m ||
    module.width_m !== candidate.width_m
  );
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
