// IDs of new shapes.

import { aroundOf } from './around.js';

/** @import {Doc, Item} from './types.js' */

/**
 * @param {Doc} doc
 * @param {'plane'|'keepout'|'module'|'tree'|'building'} prefix
 * @param {number} [count] how many are wanted
 * @returns {string[]} IDs that nothing in the document has, such as 'plane-3'
 */
export function newIds(doc, prefix, count = 1) {
  const { trees, buildings } = aroundOf(doc);
  const taken = new Set([...doc.planes, ...doc.keep_outs, ...doc.candidates, ...trees, ...buildings].map((x) => x.id));
  const ids = [];
  for (let n = 1; ids.length < count; n++) {
    const id = `${prefix}-${n}`;
    if (!taken.has(id)) ids.push(id);
  }
  return ids;
}

/** @param {Doc} doc @returns {Item[]} every plane, then every keep-out */
export function allItems(doc) {
  return [
    ...doc.planes.map((p) => /** @type {Item} */ ({ type: 'plane', id: p.id })),
    ...doc.keep_outs.map((k) => /** @type {Item} */ ({ type: 'keepout', id: k.id })),
  ];
}

/** @param {Doc} doc @param {string} word such as 'Plane' @returns {string} 'Plane 3', a label nothing has yet */
export function newLabel(doc, word) {
  const { trees, buildings } = aroundOf(doc);
  const taken = new Set([...doc.planes, ...doc.keep_outs, ...trees, ...buildings].map((x) => x.label));
  let n = 1;
  while (taken.has(`${word} ${n}`)) n++;
  return `${word} ${n}`;
}
