// What the light view says. Pure: values in, text out.

/** @import {State} from '../model/store.js' */
/** @import {CandidateYield, Moment, ModuleYield, Point, Shadows, Worth} from '../model/types.js' */
/** @import {Scale} from '../model/light.js' */

import { modulesOn, samePlace, shownCandidate, shownLayout } from '../model/hand.js';
import { isLightStale, planeLight, ringKWh, shown, tonesOf } from '../model/light.js';
import { formatBearing, lengthText } from '../model/units.js';
import { planeName, plural, trim } from './words.js';

export const MONTHS = Object.freeze(['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']);

/** @typedef {{tone: number|null, from: string, share: string}} LegendStep where a step begins; tone null ends the last one. share: of the sunniest spot, '' where the steps are shares themselves */

/** @param {Scale} scale @returns {LegendStep[]} darkest first, from the lowest value there is to the highest */
export function legendSteps(scale) {
  // A step that nothing on the roof reaches has no place on the ruler.
  const first = scale.limits.findIndex((limit) => limit > scale.least);
  const begins = first < 0 ? [] : scale.limits.slice(first).filter((limit) => limit < scale.most);
  const lowest = first < 0 ? scale.steps - 1 : first;
  const tones = tonesOf(scale);
  /** @param {number} value @param {number|null} tone @returns {LegendStep} */
  const step = (value, tone) => ({ tone, from: whole(value), share: scale.by === 'kwh' ? `${Math.round((value / scale.most) * 100)} %` : '' });
  return [step(scale.least, tones[lowest]), ...begins.map((limit, i) => step(limit, tones[lowest + i + 1])), step(scale.most, null)];
}

/** @param {number} value @returns {string} whole, in groups of three digits */
export function whole(value) {
  return String(Math.round(value)).replace(/\B(?=(\d{3})+(?!\d))/g, '\u202f');
}

/** @param {Scale['by']} by @returns {string} what the steps are steps of */
export function legendTitle(by) {
  return by === 'kwh' ? 'kWh per m² and year; share of the sunniest spot' : '% of the light with nothing around';
}

/** @param {Moment} moment @returns {string} '21 Jun, 12:00' */
export function momentWords({ month, day, clock_h }) {
  return `${day} ${MONTHS[month - 1]}, ${clockWords(clock_h)}`;
}

/** @param {number} hours of standard time @returns {string} '09:15' */
export function clockWords(hours) {
  const minutes = Math.round(hours * 60);
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}

/** @param {Shadows} shadows @returns {string} where the sun stands, and its day */
export function sunWords({ sun, day, rises_h, sets_h, dark }) {
  const hours = day === 'ordinary' ? ` It rises ${clockWords(rises_h)}, sets ${clockWords(sets_h)}.` : '';
  if (sun.elevation_deg <= 0) return `The sun is down.${hours}`;
  return `Sun from ${formatBearing(sun.azimuth_deg)}, ${Math.round(sun.elevation_deg)}° high${dark ? ', behind the horizon' : ''}.${hours}`;
}

/**
 * How the light stands.
 * @param {State} state
 * @returns {string} '' when there is nothing to say
 */
export function lightNote(state) {
  const { map } = state.light;
  if (state.doc.planes.length === 0) return 'Draw a plane first.';
  if (map.step === 'failed') return map.value ? `The light is not up to date: ${map.message}` : map.message;
  if (map.step === 'stopped') return map.value ? 'The light is that of an earlier drawing.' : 'The light was not worked out.';
  if (isLightStale(state) && !state.inGesture) return 'Updating the light.';
  return map.value ? '' : 'Working out the light.';
}

/**
 * The module whose light is told.
 * @typedef {object} Lit
 * @property {string} title 'South, module 3'
 * @property {number|null} openPct share of open light, from the map
 * @property {number|null} kwhM2 a year
 * @property {ModuleYield|null} found its months and energy; null while they are not known
 */

/** @param {State} state @returns {Lit|null} null where none is picked, or it is gone */
export function litOf(state) {
  const lit = state.ui.light.module;
  const plane = lit && state.doc.planes.find((p) => p.id === lit.plane);
  if (!lit || !plane) return null;
  const modules = modulesOn(state, plane.id);
  const index = modules.findIndex((m) => samePlace(m.module, lit.place));
  if (index < 0) return null;
  const light = planeLight(state.light.map.value, plane.id);
  const kwhM2 = light ? ringKWh(light, modules[index].ring) : null;
  return {
    title: `${planeName(state.doc, plane)}, module ${index + 1}`,
    openPct: light && kwhM2 !== null ? shown(light, kwhM2, 'open') : null,
    kwhM2,
    found: yieldOf(state, plane.id, modules[index].ring[0]),
  };
}

/** A module's corner in one answer and in another. */
const SAME_CORNER_M = 0.01;

/** @param {State} state @param {string} planeId @param {Point} at its lower left corner @returns {ModuleYield|null} */
function yieldOf(state, planeId, at) {
  const candidate = shownYield(state);
  const layout = shownLayout(state)?.layout;
  // Counted another time, quick or deep, the modules may lie otherwise.
  if (candidate?.count !== layout?.count) return null;
  const part = layout?.by_plane.find((p) => p.plane_id === planeId);
  const index = part?.modules.findIndex(({ plan }) => Math.hypot(plan[0][0] - at.x_m, plan[0][1] - at.y_m) < SAME_CORNER_M) ?? -1;
  return candidate?.modules.find((m) => m.plane_id === planeId && m.index === index) ?? null;
}

/** @param {State} state @returns {CandidateYield|null} of the modules that are drawn */
export function shownYield(state) {
  const id = shownCandidate(state)?.id;
  return state.light.yields.value?.candidates.find((c) => c.id === id) ?? null;
}

/** @param {State} state @returns {string} why there are no months, '' where there are */
export function monthsNote(state) {
  const { yields } = state.light;
  if (yields.step === 'asking') return 'Working out the months.';
  if (yields.step === 'failed') return `The months are not known: ${yields.message}`;
  return yields.value?.why || shownYield(state)?.why || (yields.value && yields.of !== state.doc ? 'The drawing has changed since.' : '');
}

/** @param {Worth} worth @param {number} totalKWh a year now, 0 where it is not known @param {'metric'|'imperial'} units @returns {string} */
export function worthWords({ label, removed_kwh, trimmed_to_m, trimmed_kwh }, totalKWh, units) {
  /** @param {number} kwh */
  const gain = (kwh) => `+${whole(kwh)} kWh a year${totalKWh > 0 ? ` (${trim((kwh / totalKWh) * 100, 1)} %)` : ''}`;
  const trimmed = trimmed_kwh > 0 ? `; cut to ${lengthText(trimmed_to_m, units)} ${gain(trimmed_kwh)}` : '';
  return `${label} removed: ${gain(removed_kwh)}${trimmed}`;
}

/** @param {number} count @returns {string} */
export function proposalWords(count) {
  return count === 0 ? 'No part of the roof is under this limit.' : `${plural(count, 'area')} drawn on the roof, dashed.`;
}
