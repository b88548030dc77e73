// Pressure coefficients by roof zone in the dialog of loads: typed ones, or
// those of the table, which are shown as they are used.

/** @import {State} from '../model/store.js' */
/** @import {Choice} from './words.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { setFlushWind } from '../commands/index.js';
import { h } from './dom.js';
import { textField } from './field.js';
import { folded, notes, pairs } from './parts.js';
import { named } from './quantities.js';
import { planeName, trim } from './words.js';

/** @typedef {{up: number, down: number}} GCp suction and pressure, without signs */

/** @type {readonly Choice[]} */
const ZONES = Object.freeze([
  ['1', '1, inside'],
  ['2', '2, edge, to 7°'],
  ['3', '3, corner, to 7°'],
  ['2e', '2e, eave'],
  ['2n', '2n, gable end'],
  ['2r', '2r, ridge'],
  ['3e', '3e, corner at eave'],
  ['3r', '3r, corner at ridge'],
]);
const ZONE_ORDER = ZONES.map(([zone]) => zone);

/**
 * The table of package structural, from memory of ASCE 7-16 Fig. 30.3-2; a test
 * holds that the two are the same.
 * @type {readonly {upToDeg: number, inner: number, edge: number, eaveCorner: number, ridgeCorner: number, down: number}[]}
 */
const ROWS = Object.freeze([
  { upToDeg: 7, inner: 1.7, edge: 2.3, eaveCorner: 3.2, ridgeCorner: 3.2, down: 0.3 },
  { upToDeg: 20, inner: 2, edge: 3, eaveCorner: 3, ridgeCorner: 3.6, down: 0.7 },
  { upToDeg: 27, inner: 1.5, edge: 2.5, eaveCorner: 2.5, ridgeCorner: 3.6, down: 0.7 },
  { upToDeg: 45, inner: 1.8, edge: 2.5, eaveCorner: 3.2, ridgeCorner: 3.2, down: 0.9 },
]);

/**
 * @param {string} zone
 * @param {number} pitchDeg
 * @param {boolean} hips whether the plane has a hip: its eave then takes the edge figure
 * @returns {GCp|null} null where the table has none: above 45°, or for a zone that does not go with the pitch
 */
export function tableGCp(zone, pitchDeg, hips) {
  const row = ROWS.find(({ upToDeg }) => pitchDeg <= upToDeg);
  const flat = zone === '2' || zone === '3';
  if (!row || (zone !== '1' && flat !== pitchDeg <= ROWS[0].upToDeg)) return null;
  const up = { 1: row.inner, '2e': hips ? row.edge : row.inner, 2: row.edge, '2n': row.edge, '2r': row.edge, '3e': row.eaveCorner, 3: row.ridgeCorner, '3r': row.ridgeCorner }[zone];
  return up === undefined ? null : { up, down: row.down };
}

/**
 * @param {State} state
 * @returns {string[]} the coefficients that are used: those typed, else those of the table for each pitch in use
 */
export function usedWords({ doc, result }) {
  const wind = doc.loads.flush_wind;
  if (!wind) return [];
  if (wind.gcp.length > 0) return [`Used: the typed ones, ${wind.gcp.map(pairWords).join('; ')}. A module in another zone is not judged.`];
  return doc.planes.filter((p) => p.use).map((p) => {
    const hips = result?.planes.find((r) => r.id === p.id)?.edges.some((e) => e.kind === 'hip') ?? false;
    const known = ZONE_ORDER.flatMap((zone) => {
      const g = tableGCp(zone, p.pitch_deg, hips);
      return g ? [{ zone, ...g }] : [];
    });
    const where = `${planeName(doc, p)}, ${trim(p.pitch_deg, 1)}°`;
    return known.length > 0 ? `Used on ${where}: ${known.map(pairWords).join('; ')}.` : `${where}: the table ends at 45°. Type them, or an engineer’s pressures.`;
  });
}

/** @param {{zone: string, up: number, down: number}} g @returns {string} '2e 1.5 / 0.7' */
function pairWords({ zone, up, down }) {
  return `${zone} ${trim(up, 2)} / ${trim(down, 2)}`;
}

/** @param {Context} context @returns {Field} */
export function coefficients({ store }) {
  const fields = ZONES.map(([zone, word]) => textField({
    name: `loads-gcp-${zone}`, label: word, path: `loads.flush_wind.gcp.${zone}`, placeholder: 'suction / pressure',
    read: ({ doc }) => {
      const own = doc.loads.flush_wind?.gcp.find((g) => g.zone === zone);
      return own ? `${own.up} / ${own.down}` : '';
    },
    commit: named(`Zone ${word}`, (text) => {
      const typed = parseGCp(text);
      const others = (store.state.doc.loads.flush_wind?.gcp ?? []).filter((g) => g.zone !== zone);
      const gcp = typed ? [...others, { zone, ...typed }].sort((a, b) => ZONE_ORDER.indexOf(a.zone) - ZONE_ORDER.indexOf(b.zone)) : others;
      store.run('Change pressure coefficients', setFlushWind({ patch: { gcp } }));
    }),
  }));
  return folded('loads-gcp', 'Pressure coefficients GCp by roof zone', [
    h('p', { class: 'p-hint' }, 'All blank: the table of this program for gable roofs to 45°, from memory of ASCE 7-16 Fig. 30.3-2 at the smallest area; check it against the standard. As soon as one is typed, the others count only as typed too, and a zone without any is outside the rule. Suction 0 to 6 and pressure 0 to 3, without signs.'),
    notes('loads-gcp-used', usedWords, 'p-hint d-used'),
    pairs(fields),
  ]);
}

const PAIR = /^[-−–]?\s*(\d+(?:\.\d*)?|\.\d+)\s*(?:\/|\s)\s*\+?(\d+(?:\.\d*)?|\.\d+)$/;

/**
 * @param {string} text '1.8 / 0.9', suction first
 * @returns {{up: number, down: number}|null} null for nothing typed
 */
export function parseGCp(text) {
  const typed = text.trim();
  if (typed === '') return null;
  const allowed = 'Type suction from 0 to 6 and pressure from 0 to 3, such as 1.8 / 0.9.';
  const match = PAIR.exec(typed.replace(/(\d),(\d)/g, '$1.$2'));
  if (!match) throw new Error(`“${typed}” is not a pair of coefficients. ${allowed}`);
  const [up, down] = [Number(match[1]), Number(match[2])];
  if (up > 6 || down > 3) throw new Error(`${typed} is out of range. ${allowed}`);
  return { up, down };
}
