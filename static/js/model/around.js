// What stands around the house and shades it: trees, neighbouring buildings,
// the horizon. Heights are above the ground that eave heights are measured from.

import { boundsOf, distanceM, roundM, sinCos } from './geometry.js';

/** @import {Building, Doc, HorizonPoint, Item, Point, Surroundings, Tree} from './types.js' */

/** @type {Surroundings} */
const NOTHING_AROUND = Object.freeze({ trees: [], buildings: [], horizon: [] });

/** As many of each as a document may hold. */
export const AROUND_MAX = Object.freeze({ tree: 50, building: 50, horizon: 72 });

/** Radius of a crown that a document may hold. */
export const CROWN_M = Object.freeze({ min: 0.1, max: 50 });

/** Sides of the outline drawn for a crown. */
const CROWN_SIDES = 48;

/** @param {Doc} doc @returns {Surroundings} none in a draft that an earlier version kept in the browser */
export function aroundOf(doc) {
  return doc.surroundings ?? NOTHING_AROUND;
}

/** @param {Doc} doc @param {string} id @returns {Tree|undefined} */
export function treeOf(doc, id) {
  return aroundOf(doc).trees.find((t) => t.id === id);
}

/** @param {Doc} doc @param {string} id @returns {Building|undefined} */
export function buildingOf(doc, id) {
  return aroundOf(doc).buildings.find((b) => b.id === id);
}

/** @param {Item} item @returns {boolean} a tree or a building */
export function isAround({ type }) {
  return type === 'tree' || type === 'building';
}

/** @param {Doc} doc @returns {Item[]} every tree, then every building */
export function aroundItems(doc) {
  const { trees, buildings } = aroundOf(doc);
  return [
    ...trees.map((t) => /** @type {Item} */ ({ type: 'tree', id: t.id })),
    ...buildings.map((b) => /** @type {Item} */ ({ type: 'building', id: b.id })),
  ];
}

/** @param {Tree} tree @returns {Point[]} the crown seen from above */
export function crownRing({ x_m, y_m, radius_m }) {
  return Array.from({ length: CROWN_SIDES }, (_, i) => {
    const { sin, cos } = sinCos((i * 360) / CROWN_SIDES);
    return { x_m: x_m + radius_m * cos, y_m: y_m + radius_m * sin };
  });
}

/** @param {Point} middle @param {Point} rim @returns {number} within what a document may hold */
export function crownRadiusM(middle, rim) {
  return Math.min(CROWN_M.max, Math.max(CROWN_M.min, roundM(distanceM(middle, rim))));
}

/** @param {Doc} doc @returns {Point[]} of trees and buildings */
export function aroundPoints(doc) {
  const { trees, buildings } = aroundOf(doc);
  return [...trees.flatMap(crownRing), ...buildings.flatMap((b) => b.ring)];
}

/** Room shown beyond the roof while its surroundings are worked on. */
const GARDEN_M = 8;

/** @param {Point[]} roof corners of what is drawn @returns {Point[]} corners of the house with its garden; none for none */
export function gardenPoints(roof) {
  if (roof.length === 0) return [];
  const { min, max } = boundsOf(roof);
  return [{ x_m: min.x_m - GARDEN_M, y_m: min.y_m - GARDEN_M }, { x_m: max.x_m + GARDEN_M, y_m: max.y_m + GARDEN_M }];
}

/**
 * @param {HorizonPoint[]} horizon rising bearings
 * @param {number} bearingDeg
 * @returns {number} elevation of the horizon, in a straight line between its points and round through north; 0 for none
 */
export function horizonAt(horizon, bearingDeg) {
  if (horizon.length === 0) return 0;
  const after = horizon.findIndex((p) => p.azimuth_deg >= bearingDeg);
  const b = after < 0 ? horizon[0] : horizon[after];
  const a = after < 0 ? horizon[horizon.length - 1] : horizon[(after + horizon.length - 1) % horizon.length];
  const span = (b.azimuth_deg - a.azimuth_deg + 360) % 360;
  const part = span === 0 ? 0 : ((bearingDeg - a.azimuth_deg + 360) % 360) / span;
  return a.elevation_deg + (b.elevation_deg - a.elevation_deg) * part;
}
