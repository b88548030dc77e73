// Where a problem or remark is: its path in the document, in words and in
// parts.

/** @import {Doc} from '../model/types.js' */

import { keepOutName, letterOf, planeName } from './words.js';

/**
 * @typedef {object} Place
 * @property {'planes'|'keep_outs'|'candidates'|'site'|'rules'|'target'|'wiring'|'loads'|'cost'|'weather'|'surroundings'|'yield'} part
 * @property {number} index in a list, -1 otherwise
 * @property {number} corner ring or outline index, -1 for none
 * @property {string} field member name, '' for the whole
 */

const PATH = /^(planes|keep_outs|candidates|site|rules|target|wiring|loads|cost|weather|surroundings|yield)(?:\[(\d+)\])?(?:\.(.+))?$/;
const CORNER = /^(?:ring|points)\[(\d+)\](?:\.(.+))?$/;

/**
 * @param {string} path such as planes[2].ring[5].x_m
 * @returns {Place|null} null for a path this page has no place for
 */
export function parsePath(path) {
  const match = PATH.exec(path);
  if (!match) return null;
  const corner = CORNER.exec(match[3] ?? '');
  return {
    part: /** @type {Place['part']} */ (match[1]),
    index: match[2] === undefined ? -1 : Number(match[2]),
    corner: corner ? Number(corner[1]) : -1,
    field: (corner ? corner[2] : match[3]) ?? '',
  };
}

/** @type {Record<string, string>} */
const FIELDS = {
  pitch_deg: 'pitch',
  max_blocks: 'limit of blocks',
  min_access_pct: 'least light',
  azimuth_deg: 'direction',
  eave_height_m: 'eave height',
  rafter_spacing_m: 'rafter spacing',
  lat_deg: 'latitude',
  lon_deg: 'longitude',
  pmax_w: 'rated power',
  x_m: 'east',
  y_m: 'north',
  'asce_snow.ground_pa': 'ground snow',
  'en_snow.ground_pa': 'ground snow',
};

/**
 * @param {string} field
 * @returns {string} 'eave height' for eave_height_m
 */
export function fieldWord(field) {
  return FIELDS[field] ?? field.replace(/^(distances|asce_snow|en_snow|flush_wind|typed_wind)\./, '').replace(/_(m|w|h|deg|c|k|a|pa|mps)$/, '').replaceAll('_', ' ');
}

/**
 * @param {Doc} doc
 * @param {string} path
 * @returns {string} 'South, corner 3, east'; '' when the path leads nowhere
 */
export function placeOf(doc, path) {
  const place = parsePath(path);
  const owner = place && ownerOf(doc, place);
  if (!place || !owner) return '';
  const corner = place.corner < 0 ? '' : `corner ${place.corner + 1}`;
  const field = place.field === 'ring' || place.field === 'points' ? 'outline' : fieldWord(place.field);
  return [owner, corner, field].filter(Boolean).join(', ');
}

/**
 * A problem or remark in one line; its place is said once.
 * @param {string} place as placeOf gives it
 * @param {string} message
 */
export function placedMessage(place, message) {
  return message.startsWith(place) ? message : `${place}: ${message}`;
}

/**
 * @param {Doc} doc
 * @param {Place} place
 * @returns {string}
 */
function ownerOf(doc, { part, index }) {
  switch (part) {
    case 'planes':
      return doc.planes[index] ? planeName(doc, doc.planes[index]) : '';
    case 'keep_outs':
      return doc.keep_outs[index] ? keepOutName(doc, doc.keep_outs[index]) : '';
    case 'candidates':
      return doc.candidates[index] ? `Module ${letterOf(index)}` : '';
    case 'site':
      return 'Site';
    case 'rules':
      return 'Rules';
    case 'target':
      return 'Size';
    case 'wiring':
      return 'Wiring';
    case 'loads':
      return 'Loads';
    case 'cost':
      return 'Cost';
    case 'weather':
      return 'Weather';
    case 'surroundings':
      return 'Surroundings';
    case 'yield':
      return 'Yield';
  }
}
