// The light on the roof: cells in steps of lightness of one hue, with values
// where there is room for them. Cells are drawn in plan metres inside one
// transformed group, runs of one step as one piece.

import { centroid, toScreen, viewOf } from '../model/geometry.js';
import { modulesOn } from '../model/hand.js';
import { cellCorner, cellKWh, isLightStale, lightFrame, planeLight, ringKWh, scaleOf, shown, stepOf, tonesOf } from '../model/light.js';
import { LabelRoom, boxAround, textWidthPx } from './label-room.js';
import { originOf } from './layer-modules.js';
import { n, svg } from './svg.js';

/** @import {State} from '../model/store.js' */
/** @import {Plane, PlaneSunlight, Point} from '../model/types.js' */
/** @import {Scale} from '../model/light.js' */
/** @import {ViewFrame} from '../model/geometry.js' */

/** @param {State} state @returns {unknown[]} */
export function lightInputs(state) {
  const { doc, ui, light } = state;
  if (!ui.light.on) return [false];
  const { x_m, y_m } = originOf(state);
  return [light.map.value, ui.light.by, doc.planes, isLightStale(state), x_m, y_m];
}

/** @param {State} state @returns {Node[]} */
export function drawLight(state) {
  const { doc, ui, light } = state;
  const map = ui.light.on ? light.map.value : null;
  const scale = map && scaleOf(map, ui.light.by);
  if (!map || !scale) return [];
  const o = originOf(state);
  const planes = doc.planes.flatMap((plane) => {
    const found = planeLight(map, plane.id);
    return found ? [planeCells(plane, found, scale, o)] : [];
  });
  return [svg('g', { class: `light-map${isLightStale(state) ? ' stale' : ''}`, 'data-testid': 'light-map', 'data-key': map.key }, planes)];
}

/** @param {Plane} plane @param {PlaneSunlight} light @param {Scale} scale @param {Point} o @returns {SVGGElement} */
function planeCells(plane, light, scale, o) {
  const frame = lightFrame(light);
  /** @type {string[][]} */
  const paths = Array.from({ length: scale.steps }, () => []);
  for (let row = 0; row < light.rows; row++) {
    for (let from = 0; from < light.columns; ) {
      const step = cellStep(light, scale, from, row);
      let to = from + 1;
      while (to < light.columns && cellStep(light, scale, to, row) === step) to++;
      if (step >= 0) {
        const corners = [[from, row], [to, row], [to, row + 1], [from, row + 1]].map(([c, r]) => metres(cellCorner(light, frame, c, r), o));
        paths[step].push(`M${corners.join('L')}Z`);
      }
      from = to;
    }
  }
  const tones = tonesOf(scale);
  const clipId = `light-clip-${plane.id}`;
  return svg('g', { 'data-testid': 'light-plane', 'data-plane': plane.id }, [
    svg('clipPath', { id: clipId }, [svg('path', { d: `M${plane.ring.map((p) => metres(p, o)).join('L')}Z` })]),
    svg('g', { 'clip-path': `url(#${clipId})` }, paths.flatMap((d, step) =>
      d.length > 0 ? [svg('path', { class: `light-${tones[step]}`, d: d.join(''), 'data-testid': 'light-step', 'data-step': step })] : [])),
  ]);
}

/** @param {PlaneSunlight} light @param {Scale} scale @param {number} column @param {number} row @returns {number} -1 off the plane */
function cellStep(light, scale, column, row) {
  const kwh = cellKWh(light, column, row);
  return kwh < 0 ? -1 : stepOf(scale, shown(light, kwh, scale.by));
}

/** @param {Point} p @param {Point} o @returns {string} */
function metres(p, o) {
  return `${Math.round((p.x_m - o.x_m) * 1000) / 1000} ${Math.round((p.y_m - o.y_m) * 1000) / 1000}`;
}

// ---- values ----

const SIZE_PX = 12;
const LINE_PX = 14;
/** A module narrower than this bears no value, a cell neither. */
const MODULE_MIN_PX = 24;
const CELL_MIN_PX = 36;
/** More values than this are no help, and slow. */
const VALUES_MOST = 900;

/** @param {State} state @returns {unknown[]} */
export function lightValueInputs(state) {
  const { doc, ui, light, result, resultOf } = state;
  if (!ui.light.on) return [false];
  return [light.map.value, ui.light, doc.planes, doc.hand, doc.candidates, doc.target.mode, result, resultOf, ui.shown, ui.camera, ui.board, ui.viewBearingDeg];
}

/** @param {State} state @returns {Node[]} share of open light on modules, and the cells' values between where they are large */
export function drawLightValues(state) {
  const { doc, ui, light } = state;
  const map = ui.light.on ? light.map.value : null;
  const scale = map && scaleOf(map, ui.light.by);
  if (!map || !scale) return [];
  const view = viewOf(ui);
  const room = new LabelRoom();
  return doc.planes.flatMap((plane) => {
    const found = planeLight(map, plane.id);
    if (!found) return [];
    const cells = found.step_m * view.camera.pxPerM >= CELL_MIN_PX ? cellValues(view, room, found, scale) : [];
    return [...moduleValues(state, view, room, plane, found), ...cells];
  });
}

/** @param {State} state @param {ViewFrame} view @param {LabelRoom} room @param {Plane} plane @param {PlaneSunlight} light @returns {Node[]} */
function moduleValues(state, view, room, plane, light) {
  return modulesOn(state, plane.id).flatMap(({ ring, refused, spare, box }) => {
    const kwh = refused || spare ? null : ringKWh(light, ring);
    const mid = toScreen(view, centroid(ring));
    if (kwh === null || Math.min(box.w_m, box.h_m) * view.camera.pxPerM < MODULE_MIN_PX || isOff(view, mid)) return [];
    const text = `${Math.round(shown(light, kwh, 'open'))}\u202f%`;
    if (!room.take(boxAround(mid, textWidthPx(text, SIZE_PX) + 2, LINE_PX))) return [];
    return [svg('text', { class: 'label light-module', x: n(mid.x), y: n(mid.y), 'data-testid': 'light-module' }, [text])];
  });
}

/** @param {ViewFrame} view @param {LabelRoom} room @param {PlaneSunlight} light @param {Scale} scale @returns {Node[]} */
function cellValues(view, room, light, scale) {
  const frame = lightFrame(light);
  const tones = tonesOf(scale);
  /** @type {Node[]} */
  const nodes = [];
  for (let row = 0; row < light.rows; row++) {
    for (let column = 0; column < light.columns && nodes.length < VALUES_MOST; column++) {
      const kwh = cellKWh(light, column, row);
      const mid = toScreen(view, cellCorner(light, frame, column + 0.5, row + 0.5));
      if (kwh < 0 || isOff(view, mid)) continue;
      const value = shown(light, kwh, scale.by);
      const text = String(Math.round(value));
      if (!room.take(boxAround(mid, textWidthPx(text, SIZE_PX - 1) + 2, LINE_PX))) continue;
      const tone = tones[stepOf(scale, value)];
      nodes.push(svg('text', { class: `light-cell light-${tone}`, x: n(mid.x), y: n(mid.y), 'data-testid': 'light-cell' }, [text]));
    }
  }
  return nodes;
}

/** @param {ViewFrame} view @param {{x: number, y: number}} at @returns {boolean} */
function isOff({ board }, { x, y }) {
  return x < 0 || y < 0 || x > board.widthPx || y > board.heightPx;
}
