// Whether an edit leaves every outline it touched simple.

import { aroundOf } from './around.js';
import { ringFault } from './geometry.js';

/** @import {Doc} from './types.js' */

/** @param {Doc} before @param {Doc} after @returns {string} '' or what is wrong with the first broken outline */
export function editFault(before, after) {
  const old = new Set([...before.planes, ...before.keep_outs, ...aroundOf(before).buildings]);
  for (const p of after.planes) {
    const fault = old.has(p) ? '' : ringFault(p.ring);
    if (fault) return `${p.label || 'Plane'}: ${fault}`;
  }
  for (const k of after.keep_outs) {
    const fault = old.has(k) || !k.points ? '' : ringFault(k.points);
    if (fault) return `${k.label || 'Keep-out'}: ${fault}`;
  }
  for (const b of aroundOf(after).buildings) {
    const fault = old.has(b) ? '' : ringFault(b.ring);
    if (fault) return `${b.label || 'Building'}: ${fault}`;
  }
  return '';
}
