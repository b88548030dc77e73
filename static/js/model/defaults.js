// What a new shape starts with. A new plane takes after the last one, since
// the planes of one house mostly share pitch, height and covering. The other
// figures are common practice, no source, and all can be changed.

import { aroundOf } from './around.js';
import { corner, normDeg, outwardBearingDeg, planeUnder, roundM, roundPoint } from './geometry.js';
import { newIds, newLabel } from './ids.js';

/** @import {Building, Doc, KeepOut, KeepOutKind, Plane, Point, Tree} from './types.js' */

const FIRST_PLANE = Object.freeze({
  use: true, pitch_deg: 30, eave_height_m: 3, covering: 'asphalt_shingle', rafter_spacing_m: 0.6,
});

/** @type {Record<KeepOutKind, {word: string, clearance_m: number, height_m: number}>} */
export const KEEP_OUT_KINDS = {
  chimney: { word: 'Chimney', clearance_m: 0.3, height_m: 1 },
  vent: { word: 'Vent', clearance_m: 0.15, height_m: 0.3 },
  pipe: { word: 'Pipe', clearance_m: 0.1, height_m: 0.4 },
  roof_window: { word: 'Roof window', clearance_m: 0.2, height_m: 0.1 },
  shade: { word: 'Shade', clearance_m: 0, height_m: 0 },
  other: { word: 'Obstruction', clearance_m: 0.15, height_m: 0.3 },
};

/** @param {Doc} doc @returns {number} pitch a new plane starts with */
export function nextPitchDeg(doc) {
  return doc.planes.at(-1)?.pitch_deg ?? FIRST_PLANE.pitch_deg;
}

/**
 * @param {Doc} doc
 * @param {Point[]} ring its first edge is the eave
 * @returns {Plane} module limit open
 */
export function newPlane(doc, ring) {
  const like = doc.planes.at(-1) ?? FIRST_PLANE;
  return {
    id: newIds(doc, 'plane')[0],
    label: newLabel(doc, 'Plane'),
    use: true,
    ring: ring.map((p) => corner(roundPoint(p))),
    pitch_deg: like.pitch_deg,
    azimuth_deg: roundM(outwardBearingDeg(ring, 0)) % 360,
    eave_height_m: like.eave_height_m,
    module_limit: null,
    // Whether portrait or landscape holds more depends on the outline.
    turn: 'either',
    covering: like.covering,
    rafter_spacing_m: like.rafter_spacing_m,
  };
}

/**
 * A keep-out without its shape's own fields.
 * @param {Doc} doc
 * @param {KeepOutKind} kind
 * @param {KeepOut['shape']} shape
 * @returns {KeepOut}
 */
export function newKeepOut(doc, kind, shape) {
  const { word, clearance_m, height_m } = KEEP_OUT_KINDS[kind];
  const shade = kind === 'shade' ? 'last_resort' : '';
  return { id: newIds(doc, 'keepout')[0], label: newLabel(doc, word), kind, shape, clearance_m, height_m, shade };
}

/** A tree of a front garden, and the light through its crown with leaves and without, the defaults of package energy. */
const FIRST_TREE = Object.freeze({
  base_m: 2, top_m: 8, crown: /** @type {const} */ ('round'), evergreen: false, leaf_on_pass: 0.2, leaf_off_pass: 0.6,
});
/** Radius of a crown that is placed by one click. */
export const FIRST_CROWN_M = 2.5;

/**
 * A new tree takes after the last one, which is often of the same row.
 * @param {Doc} doc
 * @param {Point} at middle of its crown
 * @param {number} radius_m
 * @returns {Tree}
 */
export function newTree(doc, at, radius_m) {
  const { base_m, top_m, crown, evergreen, leaf_on_pass, leaf_off_pass } = aroundOf(doc).trees.at(-1) ?? FIRST_TREE;
  const { x_m, y_m } = roundPoint(at);
  return { id: newIds(doc, 'tree')[0], label: newLabel(doc, 'Tree'), x_m, y_m, radius_m, base_m, top_m, crown, evergreen, leaf_on_pass, leaf_off_pass };
}

/** Height of a new building: two storeys and a roof. */
const FIRST_BUILDING_TOP_M = 8;

/** @param {Doc} doc @param {Point[]} ring @returns {Building} from the ground up */
export function newBuilding(doc, ring) {
  return {
    id: newIds(doc, 'building')[0], label: newLabel(doc, 'Building'),
    ring: ring.map(({ x_m, y_m }) => roundPoint({ x_m, y_m })), base_m: 0, top_m: aroundOf(doc).buildings.at(-1)?.top_m ?? FIRST_BUILDING_TOP_M,
  };
}

/**
 * The turn that sets a rectangle square to the plane under it.
 * @param {Doc} doc
 * @param {KeepOutKind} kind
 * @param {Point} at
 * @returns {number} degrees as `turn_deg` counts them for the kind
 */
export function squareTurnDeg(doc, kind, at) {
  if (kind === 'roof_window' || kind === 'shade') return 0;
  const plane = planeUnder(doc, at);
  return plane ? normDeg(plane.azimuth_deg + 180) : 0;
}
