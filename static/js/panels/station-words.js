// Sentences on the weather station and the design temperatures. Pure.

/** @import {State} from '../model/store.js' */
/** @import {Doc, Site, StationCopy, Wiring} from '../model/types.js' */
/** @import {Facts} from './parts.js' */

import { KM_PER_MI, formatQuantity } from '../model/quantities.js';
import { hasMoved } from '../model/station.js';
import { M_PER_FT, formatArea, formatLength } from '../model/units.js';
import { trim } from './words.js';

/** @typedef {Site['units']} Units */

/** @param {number} km @param {Units} units */
function farWords(km, units) {
  return units === 'imperial' ? `${trim(km / KM_PER_MI, 0)} mi (${trim(km, 0)} km)` : `${trim(km, 0)} km`;
}

/** @param {number} m above the site @param {Units} units */
function heightWords(m, units) {
  const size = Math.round(Math.abs(m));
  if (size === 0) return 'as high as the site';
  return `${units === 'imperial' ? `${Math.round(size / M_PER_FT)} ft (${size} m)` : `${size} m`} ${m > 0 ? 'higher' : 'lower'} than the site`;
}

/** @param {Wiring} wiring @param {Units} units @returns {Facts} */
export function stationFacts({ station }, units) {
  if (!station) return [];
  return [
    ['Nearest station', station.label],
    ['Distance', farWords(station.distance_km, units)],
    ['Height', heightWords(station.height_m, units)],
  ];
}

/** @param {Doc} doc @returns {string[]} none where both temperatures are typed: the station is then only shown */
export function stationWarnings({ site, wiring: { station, cold_c: cold, hot_air_c: hot } }) {
  if (!station || (cold !== null && hot !== null)) return [];
  const moved = hasMoved(site, station) ? ['The site has moved since this station was asked for. Ask again.'] : [];
  return [...moved, ...station.warnings.map((words) => bothUnits(words, site.units))];
}

/** @type {Record<string, (v: number, isRough: boolean) => string>} by metric unit; a whole number of 20 or more is rough */
const CUSTOMARY = {
  km: (v, isRough) => `${trim(v / KM_PER_MI, isRough ? 0 : 1)} mi`,
  m: (v, isRough) => (isRough ? `${trim(v / M_PER_FT, 0)} ft` : formatLength(v, 'imperial')),
  m2: (v) => formatArea(v, 'imperial'),
  C: (v) => `${String(Math.round(v * 1.8 + 32)).replace('-', '−')} °F`,
};

/** A figure, or two sides of something, that is no part of a name and has no customary figure beside it. */
const FIGURE = /(?<![\w.])(-?\d+(?:\.\d+)?)(?: x (\d+(?:\.\d+)?))? (km|m2|m|C)\b(?!\/| \()/g;

/** @param {string} words of the server, in km, m, m2 and C @param {Units} units @returns {string} with mi, feet and inches, ft² and °F beside them in customary units */
export function bothUnits(words, units) {
  if (units !== 'imperial') return words;
  return words.replace(FIGURE, (all, first, second, unit) => {
    const said = [first, second].filter(Boolean).map((v) => CUSTOMARY[unit](Number(v), !v.includes('.') && Math.abs(Number(v)) >= 20));
    return `${all} (${said.join(' x ')})`;
  });
}

/** @param {State} state @returns {string[]} what there is to say against the year that the light is of */
export function yearWarnings({ doc, light }) {
  return (light.map.value?.warnings ?? []).map((words) => bothUnits(words, doc.site.units));
}

/**
 * Where a design temperature comes from.
 * @param {number|null} typed
 * @param {StationCopy|null} station
 * @param {'cold'|'hot'} which
 * @param {Units} units
 * @returns {string}
 */
export function temperatureWords(typed, station, which, units) {
  const own = station?.usable ? station[`${which}_c`] : null;
  if (typed !== null) return own === null ? 'Typed.' : `Typed. The station has ${formatQuantity('temperature', own, units)}.`;
  if (own !== null && station) return bothUnits(station[`${which}_basis`], units);
  return 'Not known. Without it no string is called valid.';
}
