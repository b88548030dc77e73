// Rows of modules that share their rails.

/** @import {Rules} from './types.js' */
/** @import {Box} from './hand.js' */

/** Modules whose lower edges lie this near stand in one row: below what a clamp forgives. */
const LEVEL_M = 0.002;
/** A gap this much wider than the rule's still carries a rail through, as over a roof hook that was missed. */
const RAIL_GAP_M = 0.05;

/** @param {Box} a @param {Box} b @returns {boolean} on the same level, the same way up */
function level(a, b) {
  return Math.abs(a.v_m - b.v_m) <= LEVEL_M && Math.abs(a.h_m - b.h_m) <= LEVEL_M;
}

/**
 * @param {Box[]} boxes
 * @param {number} index
 * @param {Rules} rules
 * @returns {number[]} indices of the rail run that holds a module, left to right
 */
export function railRun(boxes, index, rules) {
  const row = boxes.map((_, i) => i).filter((i) => level(boxes[i], boxes[index])).sort((a, b) => boxes[a].u_m - boxes[b].u_m);
  const reach = rules.gap_eave_m + RAIL_GAP_M;
  /** @param {number} i @param {number} j neighbours in the row */
  const apart = (i, j) => boxes[j].u_m - boxes[i].u_m - boxes[i].w_m > reach;
  const at = row.indexOf(index);
  let [from, to] = [at, at];
  while (from > 0 && !apart(row[from - 1], row[from])) from--;
  while (to + 1 < row.length && !apart(row[to], row[to + 1])) to++;
  return row.slice(from, to + 1);
}

/** @param {Box[]} boxes @param {Rules} rules @returns {number[][]} every rail run, lowest first, then from the left */
export function railRuns(boxes, rules) {
  const open = new Set(boxes.keys());
  const runs = [];
  for (const i of inReadingOrder(boxes)) {
    if (!open.has(i)) continue;
    const run = railRun(boxes, i, rules).filter((j) => open.has(j));
    for (const j of run) open.delete(j);
    runs.push(run);
  }
  return runs;
}

/** @param {Box[]} boxes @returns {number[]} indices row by row from the eave up, each from the left */
export function inReadingOrder(boxes) {
  return boxes.map((_, i) => i).sort((a, b) => (Math.abs(boxes[a].v_m - boxes[b].v_m) > LEVEL_M ? boxes[a].v_m - boxes[b].v_m : boxes[a].u_m - boxes[b].u_m));
}
