// The light on the roof as the server worked it out, read by the drawing and
// the panels: values of cells and modules, and the steps of the map.

import { planeFrame, slopeToPlan, toSlope } from './geometry.js';

/** @import {Doc, PlaneSunlight, Point, Sunlight} from './types.js' */
/** @import {PlaneFrame} from './geometry.js' */
/** @import {LightUi, State} from './store.js' */

/** @param {Doc} doc @returns {readonly unknown[]} all that the light on the roof depends on */
export function lightSources(doc) {
  const { lat_deg, lon_deg, elevation_m, utc_offset_h } = doc.site;
  return [doc.planes, doc.keep_outs, lat_deg, lon_deg, elevation_m, utc_offset_h, doc.weather, doc.surroundings, doc.yield];
}

/** @param {Doc|null} a @param {Doc} b @returns {boolean} both have the same light */
export function sameLight(a, b) {
  if (a === b) return true;
  if (!a) return false;
  const other = lightSources(b);
  return lightSources(a).every((x, i) => x === other[i]);
}

/** @param {State} state @returns {boolean} the map is of an earlier drawing */
export function isLightStale({ doc, light }) {
  return light.map.value !== null && !sameLight(light.map.of, doc);
}

/** @param {Sunlight|null} light @param {string} planeId @returns {PlaneSunlight|null} */
export function planeLight(light, planeId) {
  return light?.planes.find((p) => p.plane_id === planeId) ?? null;
}

/** @param {PlaneSunlight} light @returns {PlaneFrame} of the plane as it was when its light was worked out */
export function lightFrame(light) {
  const { right, up, cosPitch } = planeFrame([{ x_m: 0, y_m: 0 }], light.pitch_deg, light.azimuth_deg);
  return { origin: { x_m: light.origin_x_m, y_m: light.origin_y_m }, right, up, cosPitch };
}

/** @param {PlaneSunlight} light @param {number} column @param {number} row @returns {number} kWh/m2 a year; -1 off the plane */
export function cellKWh({ columns, rows, kwh_m2 }, column, row) {
  if (column < 0 || row < 0 || column >= columns || row >= rows) return -1;
  return kwh_m2[row * columns + column];
}

/** @param {PlaneSunlight} light @param {PlaneFrame} frame of it @param {number} column @param {number} row @returns {Point} a corner between cells, in plan */
export function cellCorner({ u_m, v_m, step_m }, frame, column, row) {
  return slopeToPlan(frame, { u_m: u_m + column * step_m, v_m: v_m + row * step_m });
}

/**
 * Mean light on a module, weighted by area.
 * @param {PlaneSunlight} light
 * @param {Point[]} ring in plan, lower left corner first
 * @returns {number|null} kWh/m2 a year; null where nothing is known
 */
export function ringKWh(light, ring) {
  const frame = lightFrame(light);
  const [a, b] = [toSlope(frame, ring[0]), toSlope(frame, ring[2])];
  const { u_m, v_m, step_m } = light;
  /** @param {number} m @param {number} from */
  const cells = (m, from) => (m - from) / step_m;
  const [left, right] = [cells(Math.min(a.u_m, b.u_m), u_m), cells(Math.max(a.u_m, b.u_m), u_m)];
  const [low, high] = [cells(Math.min(a.v_m, b.v_m), v_m), cells(Math.max(a.v_m, b.v_m), v_m)];
  let [sum, area] = [0, 0];
  for (let row = Math.floor(low); row < high; row++) {
    for (let column = Math.floor(left); column < right; column++) {
      const value = cellKWh(light, column, row);
      if (value < 0) continue;
      const part = overlap(column, left, right) * overlap(row, low, high);
      sum += value * part;
      area += part;
    }
  }
  return area > 0 ? sum / area : null;
}

/** @param {number} cell from here to one further @param {number} from @param {number} to @returns {number} */
function overlap(cell, from, to) {
  return Math.max(0, Math.min(cell + 1, to) - Math.max(cell, from));
}

/**
 * The steps of the map, darkest first.
 * @typedef {object} Scale
 * @property {number[]} limits where one step ends and the next begins, one fewer than steps
 * @property {number} steps
 * @property {number} least lowest value there is
 * @property {number} most highest value there is
 * @property {LightUi['by']} by
 */

/** Tones that the style sheet has, darkest first. */
const TONES = 15;
/** Widths of a step in kWh/m2, and as many steps as are wanted at most. */
const STEP_KWH = Object.freeze([25, 50, 100, 150, 200, 250, 400]);
const STEPS_MOST = 8;
/** Limits of the steps of the share of open light, percent: closer where most of a roof lies. */
const OPEN_LIMITS = Object.freeze([50, 60, 70, 80, 85, 90, 95]);
/** The darkest part of the roof, as beside a chimney, shares one step, so that it does not take the others' tones. */
const DARKEST_PART = 0.05;

/** Every move of the view asks for the scale; going through all cells once for each light is enough. @type {WeakMap<Sunlight, Map<LightUi['by'], Scale|null>>} */
const SCALES = new WeakMap();

/** @param {Sunlight} light @param {LightUi['by']} by @returns {Scale|null} null for a roof without light */
export function scaleOf(light, by) {
  const known = SCALES.get(light) ?? new Map();
  SCALES.set(light, known);
  if (!known.has(by)) known.set(by, workedOut(light, by));
  return known.get(by) ?? null;
}

/** @param {Sunlight} light @param {LightUi['by']} by @returns {Scale|null} */
function workedOut(light, by) {
  const values = light.planes.flatMap((plane) => plane.kwh_m2.filter((kwh) => kwh >= 0).map((kwh) => shown(plane, kwh, by))).sort((a, b) => a - b);
  if (values.length === 0) return null;
  const [least, most] = [values[0], values[values.length - 1]];
  if (by === 'open') return { by, least, most, limits: [...OPEN_LIMITS], steps: OPEN_LIMITS.length + 1 };
  const low = values[Math.floor((values.length - 1) * DARKEST_PART)];
  const step = STEP_KWH.find((s) => Math.ceil(most / s) - Math.floor(low / s) <= STEPS_MOST) ?? STEP_KWH[STEP_KWH.length - 1];
  const first = Math.floor(low / step);
  const steps = Math.max(1, Math.ceil(most / step) - first);
  return { by, least, most, steps, limits: Array.from({ length: steps - 1 }, (_, i) => (first + i + 1) * step) };
}

/** @param {PlaneSunlight} plane @param {number} kwh @param {LightUi['by']} by @returns {number} kWh/m2, or percent of the open plane's light */
export function shown(plane, kwh, by) {
  return by === 'kwh' ? kwh : plane.open_kwh_m2 > 0 ? (kwh / plane.open_kwh_m2) * 100 : 0;
}

/** @param {Scale} scale @param {number} value @returns {number} 0 for the darkest step */
export function stepOf({ limits }, value) {
  let step = 0;
  while (step < limits.length && value >= limits[step]) step++;
  return step;
}

/** Places with so little of the most light, and less, have the darkest tone: what is a little less light shall not look black. */
const BLACK_SHARE = 0.5;
/** The first step has whatever is darker than the second, and a tone that tells it apart. */
const FIRST_DARKER = 3;

/** @param {Scale} scale @returns {number[]} tone of each step in the style sheet, all different */
export function tonesOf({ limits, steps, most, by }) {
  const full = by === 'open' ? 100 : most;
  /** @param {number} value */
  const tone = (value) => Math.round(((value / full - BLACK_SHARE) / (1 - BLACK_SHARE)) * (TONES - 1));
  const tones = Array(steps).fill(TONES - 1);
  for (let i = steps - 2; i >= 0; i--) {
    const wanted = i === 0 ? tone(limits[0]) - FIRST_DARKER : tone(limits[i - 1]);
    tones[i] = Math.max(i, Math.min(wanted, tones[i + 1] - 1));
  }
  return tones;
}

/** Months without leap days, for a slider over the year. */
const MONTH_DAYS = Object.freeze([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]);

/** @param {number} day of the year, 1 to 365 @returns {{month: number, day: number}} */
export function dateOf(day) {
  let rest = day;
  let month = 0;
  while (month < 11 && rest > MONTH_DAYS[month]) rest -= MONTH_DAYS[month++];
  return { month: month + 1, day: rest };
}

/** @param {{month: number, day: number}} date @returns {number} day of the year, 1 to 365 */
export function dayOf({ month, day }) {
  return MONTH_DAYS.slice(0, month - 1).reduce((sum, n) => sum + n, 0) + day;
}
