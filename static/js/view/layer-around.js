// What stands around the house. A tree is a scalloped crown with its trunk, an
// evergreen a jagged one; a building is a plain outline with its diagonals.

import { aroundOf } from '../model/around.js';
import { toScreen, viewOf } from '../model/geometry.js';
import { liveSelection } from '../model/selection.js';
import { n, pathOf, svg } from './svg.js';

/** @import {State} from '../model/store.js' */
/** @import {Building, Tree} from '../model/types.js' */
/** @import {Px, ViewFrame} from '../model/geometry.js' */

/** Width of one scallop of a crown on the screen, and least number of them. */
const SCALLOP = Object.freeze({ px: 15, least: 9, most: 40 });
/** Jags reach this far into an evergreen's crown. */
const JAG = 0.84;
const TRUNK_PX = 3.5;

/** @param {State} state @returns {unknown[]} */
export function aroundInputs({ doc, ui }) {
  return [doc.surroundings, ui.around, ui.camera, ui.board, ui.viewBearingDeg, ui.selection];
}

/** @param {State} state @returns {Node[]} buildings below trees */
export function drawAround(state) {
  const { doc, ui } = state;
  const view = viewOf(ui);
  const { trees, buildings } = aroundOf(doc);
  const chosen = new Set(liveSelection(state).items.map((i) => `${i.type} ${i.id}`));
  /** @param {string} type @param {string} id */
  const look = (type, id) => `around ${type}${ui.around ? '' : ' resting'}${chosen.has(`${type} ${id}`) ? ' selected' : ''}`;
  return [
    ...buildings.map((b) => svg('g', { class: look('building', b.id), 'data-testid': 'building', 'data-id': b.id }, buildingMarks(view, b))),
    ...trees.map((t) => svg('g', { class: look('tree', t.id), 'data-testid': 'tree', 'data-id': t.id }, treeMarks(view, t))),
  ];
}

/** @param {ViewFrame} view @param {Building} building @returns {Node[]} */
function buildingMarks(view, { ring }) {
  const at = ring.map((p) => toScreen(view, p));
  const cross = at.length === 4 ? pathOf([at[0], at[2]], false) + pathOf([at[1], at[3]], false) : '';
  return [svg('path', { class: 'around-ground', d: pathOf(at) }), ...(cross ? [svg('path', { class: 'around-inner', d: cross })] : []), svg('path', { class: 'around-line', d: pathOf(at) })];
}

/** @param {ViewFrame} view @param {Tree} tree @returns {Node[]} */
function treeMarks(view, tree) {
  const mid = toScreen(view, tree);
  const r = tree.radius_m * view.camera.pxPerM;
  const d = tree.evergreen ? jagged(mid, r) : scalloped(mid, r);
  return [
    svg('path', { class: 'around-ground', d }),
    svg('path', { class: 'around-line', d }),
    ...(r > TRUNK_PX * 3 ? [svg('circle', { class: 'around-trunk', cx: n(mid.x), cy: n(mid.y), r: TRUNK_PX })] : []),
  ];
}

/** @param {number} r @returns {number} pieces round a crown */
function pieces(r) {
  return Math.min(SCALLOP.most, Math.max(SCALLOP.least, Math.round((2 * Math.PI * r) / SCALLOP.px)));
}

/** @param {Px} mid @param {number} r @returns {string} bulges outward, within the radius */
function scalloped(mid, r) {
  const count = pieces(r);
  const half = Math.PI / count;
  // Foot points lie inside, so that the bulges end at the radius.
  const bulge = r * Math.sin(half) * 0.95;
  const inner = r - bulge * 0.55;
  const feet = Array.from({ length: count }, (_, i) => around(mid, inner, i * 2 * half));
  return `M${spot(feet[0])}${feet.map((_, i) => `A${n(bulge)} ${n(bulge)} 0 0 1 ${spot(feet[(i + 1) % count])}`).join('')}Z`;
}

/** @param {Px} mid @param {number} r @returns {string} */
function jagged(mid, r) {
  const count = pieces(r) * 2;
  return pathOf(Array.from({ length: count }, (_, i) => around(mid, i % 2 ? r * JAG : r, (i * 2 * Math.PI) / count)));
}

/** @param {Px} mid @param {number} r @param {number} angle @returns {Px} */
function around(mid, r, angle) {
  return { x: mid.x + r * Math.sin(angle), y: mid.y - r * Math.cos(angle) };
}

/** @param {Px} p @returns {string} */
function spot(p) {
  return `${n(p.x)} ${n(p.y)}`;
}
