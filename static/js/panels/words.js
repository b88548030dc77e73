// Words and numbers as the panels say them. Pure: values in, text out.

/** @import {Doc, Plane, KeepOut, OfferResult, PlaneLayoutResult, Rules, Site, SizeResult, Tidiness} from '../model/types.js' */

import { compassPoint, degToRiseIn12 } from '../model/units.js';

/** @typedef {[value: string, label: string]} Choice */

/** Edge kinds with what they mean. */
export const EDGE_KINDS = Object.freeze({
  eave: 'low edge, where the gutter hangs',
  ridge: 'level top line',
  rake: 'sloping end of a gable',
  hip: 'sloping outer corner',
  valley: 'sloping inner corner',
  break: 'same fall, other pitch',
  wall: 'meets a wall',
  party_wall: 'meets the neighbour’s wall',
});

/** @type {readonly Choice[]} */
export const TURNS = Object.freeze([
  ['either', 'Either way: whichever holds more'],
  ['portrait', 'Portrait: long side up the slope'],
  ['landscape', 'Landscape: long side along the eave'],
  ['mixed', 'Each row either way'],
]);

/** @type {readonly Choice[]} */
export const STYLES = Object.freeze([
  ['rows', 'Rows: each row where it fits best'],
  ['columns', 'Columns: each column where it fits best'],
  ['grid', 'One grid: all in line both ways'],
  ['best', 'Most modules: rows, columns and blocks side by side'],
]);

/** @param {Rules['style']} style @returns {string} what the style is called within a sentence */
export function styleWord(style) {
  return labelOf(STYLES, style).split(':')[0].toLowerCase();
}

/** @type {readonly Choice[]} */
export const COVERINGS = Object.freeze([
  ['asphalt_shingle', 'Asphalt shingle'],
  ['tile', 'Tile'],
  ['slate', 'Slate'],
  ['metal_seam', 'Standing-seam metal'],
  ['membrane', 'Membrane'],
]);

/** @type {readonly Choice[]} */
export const KEEP_OUT_KINDS = Object.freeze([
  ['chimney', 'Chimney'],
  ['vent', 'Vent'],
  ['pipe', 'Pipe'],
  ['roof_window', 'Roof window'],
  ['shade', 'Shade area'],
  ['other', 'Something else'],
]);

/** @type {readonly Choice[]} */
export const SHAPES = Object.freeze([
  ['rect', 'Rectangle'],
  ['circle', 'Circle'],
  ['polygon', 'Polygon'],
]);

/**
 * @param {readonly Choice[]} choices
 * @param {string} value
 * @returns {string} the value itself when it is none of them
 */
export function labelOf(choices, value) {
  return choices.find(([v]) => v === value)?.[1] ?? value;
}

/** @param {string} kind */
export function edgeWord(kind) {
  return kind.replace('_', ' ');
}

/**
 * @param {Doc} doc
 * @param {Plane} plane
 */
export function planeName(doc, plane) {
  return plane.label || `Plane ${doc.planes.indexOf(plane) + 1}`;
}

/**
 * @param {Doc} doc
 * @param {KeepOut} keepOut
 */
export function keepOutName(doc, keepOut) {
  return keepOut.label || `${labelOf(KEEP_OUT_KINDS, keepOut.kind)} ${doc.keep_outs.indexOf(keepOut) + 1}`;
}

/** Under this pitch a plane faces nowhere. */
export const FLAT_UNDER_DEG = 2;

/**
 * @param {number} azimuthDeg
 * @param {number} pitchDeg
 * @returns {string}
 */
export function facing(azimuthDeg, pitchDeg) {
  const degrees = `${Math.round(azimuthDeg) % 360}°`;
  return pitchDeg < FLAT_UNDER_DEG ? `nearly flat, rows turned to ${degrees}` : `faces ${compassPoint(azimuthDeg)} ${degrees}`;
}

/** @param {number} pitchDeg */
export function pitchBoth(pitchDeg) {
  return `${trim(pitchDeg, 1)}°, ${trim(degToRiseIn12(pitchDeg), 1)} in 12`;
}

/**
 * @param {number} value
 * @param {number} digits most decimals
 * @returns {string} without trailing zeros
 */
export function trim(value, digits) {
  return String(Number(value.toFixed(digits)));
}

/**
 * @param {number} count
 * @param {string} one
 * @param {string} [many]
 */
export function plural(count, one, many = `${one}s`) {
  return `${count} ${count === 1 ? one : many}`;
}

/**
 * @param {number} inShade of the count
 * @returns {string} what follows the count: '4 of them in shade', '' for none
 */
export function shadeWords(inShade) {
  return inShade > 0 ? `${inShade} of them in shade` : '';
}

/**
 * Kilowatts from whole watts, exact: at least two decimals and as many as it
 * takes.
 * @param {number} watts whole
 */
export function kilowatts(watts) {
  const text = (watts / 1000).toFixed(3);
  return text.endsWith('0') ? text.slice(0, -1) : text;
}

/**
 * @param {Site} site
 * @returns {string} the unit of a module field's rated power in the site's rule family
 */
export function powerUnit(site) {
  return site.rule_family === 'iec' ? 'kWp' : 'kWdc';
}

/**
 * @param {number} index of the candidate
 * @returns {string} A to E
 */
export function letterOf(index) {
  return 'ABCDE'[index] ?? '?';
}

/**
 * How even a layout is.
 * @param {Tidiness} tidiness
 * @returns {string} '' for a layout without modules
 */
export function tidyWords({ rail_runs: runs, blocks, turns }) {
  return runs === 0 ? '' : `${plural(runs, 'rail run')}, ${plural(blocks, 'block')}, ${turnsWord(turns)}`;
}

/** @param {number} turns in use */
export function turnsWord(turns) {
  return turns === 1 ? 'one orientation' : 'two orientations';
}

/**
 * What most modules would add, and what for.
 * @param {OfferResult} offer
 * @param {number} turns in use now
 * @returns {string} '2 more modules, 3 more rail runs'
 */
export function offerWords(offer, turns) {
  const both = turns === 1 && offer.turns === 2 ? ', two orientations' : '';
  return `${plural(offer.more, 'more module')}, ${changeWords(offer.rail_runs, 'rail run')}${both}`;
}

/** @param {number} change @param {string} one @returns {string} '3 more rail runs', 'same rail runs' */
export function changeWords(change, one) {
  if (change === 0) return `same ${one}s`;
  return `${Math.abs(change)} ${change > 0 ? 'more' : 'fewer'} ${one}${Math.abs(change) === 1 ? '' : 's'}`;
}

/**
 * Who placed the modules of a plane.
 * @param {PlaneLayoutResult} part
 * @returns {string} '' for the engine
 */
export function handWords({ hand, modules }) {
  if (hand === '') return '';
  if (hand === 'by_hand') return 'placed by hand';
  return `around ${plural(modules.filter((m) => m.locked).length, 'locked module')}`;
}

/**
 * How the value of the places chosen for a size stands to that of others, and
 * in points for who asks for them.
 * @param {SizeResult} size
 * @param {boolean} facingCounts whether the value tells the sunny planes from the others
 * @returns {{known: string, points: string}|null} known is '' where the facing, which is part of the value, is unknown; null where value says nothing
 */
export function valueOf({ value, value_bound: bound, value_proved: proved, value_words: words, layout }, facingCounts) {
  if (words === '' || layout.count === 0) return null;
  const known = proved ? 'highest value for these layouts, proved' : 'other places might be of more value';
  const limit = proved ? '' : `, at most ${grouped(bound)}`;
  return { known: facingCounts ? known : '', points: `${grouped(value)}${limit} ${words}` };
}

/** @param {number} value @returns {string} to a tenth, in groups of three digits */
function grouped(value) {
  return trim(value, 1).replace('-', '−').replace(/\B(?=(\d{3})+(?!\d))/g, '\u202f');
}
