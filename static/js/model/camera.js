// Moves of the view: each gives the new camera, and nothing else changes.

import { aroundPoints, gardenPoints } from './around.js';
import { allPoints, alongBearing, boundsOf, dot, minus, plus, sinCos, toPlan, viewOf } from './geometry.js';

/** @import {Camera, Doc, Point} from './types.js' */
/** @import {Px, ViewFrame} from './geometry.js' */
/** @import {Ui} from './store.js' */

/** A house fills the board at about 50; these are a town and a screw head. */
const MIN_PX_PER_M = 0.5;
const MAX_PX_PER_M = 4000;
/** Room around a fitted roof for handles and labels: a part of the board's shorter side, within limits. */
const FIT_MARGIN = Object.freeze({ part: 0.09, minPx: 28, maxPx: 64 });
/** More room above, for the north arrow and the bar of buttons: a part of the board's height, within limits, and on a low board no more than the second part. */
const FIT_HEAD = Object.freeze({ part: 0.16, mostPart: 0.25, minPx: 62, maxPx: 70 });
/** Fitting a tiny shape does not blow it up past this. */
const FIT_MAX_PX_PER_M = 160;
/** Metres across a board with nothing on it. */
const EMPTY_ACROSS_M = 24;

/** @param {ViewFrame} view @param {Px} by how far the paper moves @returns {Camera} */
export function panned(view, by) {
  const from = toPlan(view, { x: 0, y: 0 });
  const to = toPlan(view, by);
  return { ...view.camera, ...minus(view.camera, minus(to, from)) };
}

/** @param {ViewFrame} view @param {number} factor @param {Px} about stays where it is on the screen @returns {Camera} */
export function zoomed(view, factor, about) {
  const pxPerM = Math.min(MAX_PX_PER_M, Math.max(MIN_PX_PER_M, view.camera.pxPerM * factor));
  const before = toPlan(view, about);
  const after = toPlan({ ...view, camera: { ...view.camera, pxPerM } }, about);
  return { ...plus(view.camera, minus(before, after)), pxPerM };
}

/** @param {ViewFrame} view @returns {Px} */
export function middleOf(view) {
  return { x: view.board.widthPx / 2, y: view.board.heightPx / 2 };
}

/** @param {Ui} ui @param {Doc} doc @returns {Camera} shows what is worked on: the roof, or the house with what stands around it */
export function fittedTo(ui, doc) {
  return fitted(viewOf(ui), doc, ui.around);
}

/** @param {ViewFrame} view @param {Doc} doc @param {boolean} [around] with garden and surroundings @returns {Camera} shows the whole drawing, or an empty site around the origin */
export function fitted(view, doc, around = false) {
  const roof = allPoints(doc);
  const points = around ? [...roof, ...gardenPoints(roof), ...aroundPoints(doc)] : roof;
  const { widthPx, heightPx } = view.board;
  const marginPx = Math.min(FIT_MARGIN.maxPx, Math.max(FIT_MARGIN.minPx, FIT_MARGIN.part * Math.min(widthPx, heightPx)));
  const wide = Math.max(1, widthPx - 2 * marginPx);
  const headPx = Math.max(marginPx, Math.min(FIT_HEAD.minPx, FIT_HEAD.mostPart * heightPx), Math.min(FIT_HEAD.maxPx, FIT_HEAD.part * heightPx));
  const high = Math.max(1, heightPx - marginPx - headPx);
  if (points.length === 0) return { x_m: 0, y_m: 0, pxPerM: view.board.widthPx / EMPTY_ACROSS_M || view.camera.pxPerM };
  const up = alongBearing(view.bearingDeg);
  const right = alongBearing(view.bearingDeg + 90);
  const { min, max } = boundsOf(points.map((p) => ({ x_m: dot(p, right), y_m: dot(p, up) })));
  const fitting = Math.min(wide / Math.max(0.01, max.x_m - min.x_m), high / Math.max(0.01, max.y_m - min.y_m), FIT_MAX_PX_PER_M);
  const pxPerM = Math.max(MIN_PX_PER_M, fitting);
  /** @type {Point} */
  const mid = { x_m: (min.x_m + max.x_m) / 2, y_m: (min.y_m + max.y_m) / 2 + (headPx - marginPx) / 2 / pxPerM };
  const { sin, cos } = sinCos(view.bearingDeg);
  return { x_m: mid.x_m * cos + mid.y_m * sin, y_m: mid.y_m * cos - mid.x_m * sin, pxPerM };
}

/** @param {Camera} a @param {Camera} b @returns {boolean} */
export function sameCamera(a, b) {
  return a.x_m === b.x_m && a.y_m === b.y_m && a.pxPerM === b.pxPerM;
}
