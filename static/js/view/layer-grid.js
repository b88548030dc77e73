// The paper's grid: metres or feet, each step fading in as its lines come
// apart.

import { toPlan, toScreen, viewOf } from '../model/geometry.js';
import { M_PER_FT } from '../model/units.js';
import { n, svg } from './svg.js';

/** @import {State} from '../model/store.js' */
/** @import {Px, ViewFrame} from '../model/geometry.js' */

const STEPS_M = { metric: [0.1, 1, 10, 100], imperial: [1, 10, 100].map((f) => f * M_PER_FT) };
/** Lines closer than the first are not drawn, further than the second are drawn in full. */
const FADE_PX = Object.freeze([10, 90]);

/** @param {State} state @returns {unknown[]} */
export function gridInputs({ doc, ui }) {
  return [ui.camera, ui.board, ui.viewBearingDeg, doc.site.units];
}

/** @param {State} state @returns {Node[]} */
export function drawGrid({ doc, ui }) {
  const view = viewOf(ui);
  return STEPS_M[doc.site.units].flatMap((stepM) => {
    const apart = stepM * view.camera.pxPerM;
    if (apart < FADE_PX[0]) return [];
    const strength = Math.min(1, (apart - FADE_PX[0]) / (FADE_PX[1] - FADE_PX[0]));
    return [svg('path', { class: 'grid-line', d: gridPath(view, stepM), opacity: n(strength) })];
  });
}

/** @param {ViewFrame} view @param {number} stepM @returns {string} lines through the whole board */
function gridPath(view, stepM) {
  const { widthPx, heightPx } = view.board;
  const corners = [[0, 0], [widthPx, 0], [widthPx, heightPx], [0, heightPx]].map(([x, y]) => toPlan(view, { x, y }));
  const [west, east] = span(corners.map((c) => c.x_m), stepM);
  const [south, north] = span(corners.map((c) => c.y_m), stepM);
  const parts = [];
  for (let i = west; i <= east; i++) parts.push(line(view, i * stepM, south * stepM, i * stepM, north * stepM));
  for (let j = south; j <= north; j++) parts.push(line(view, west * stepM, j * stepM, east * stepM, j * stepM));
  return parts.join('');
}

/** @param {number[]} values @param {number} step @returns {[number, number]} whole steps around them */
function span(values, step) {
  return [Math.floor(Math.min(...values) / step), Math.ceil(Math.max(...values) / step)];
}

/** @param {ViewFrame} view @param {number} x1 @param {number} y1 @param {number} x2 @param {number} y2 plan metres @returns {string} */
function line(view, x1, y1, x2, y2) {
  const a = toScreen(view, { x_m: x1, y_m: y1 });
  const b = toScreen(view, { x_m: x2, y_m: y2 });
  return `M${crisp(a, view)}L${crisp(b, view)}`;
}

/** @param {Px} p @param {ViewFrame} view @returns {string} on a pixel's middle where the grid is square to the screen */
function crisp(p, view) {
  if (view.bearingDeg % 90 !== 0) return `${n(p.x)} ${n(p.y)}`;
  return `${Math.floor(p.x) + 0.5} ${Math.floor(p.y) + 0.5}`;
}
