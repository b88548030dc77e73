// Placing trees and drawing neighbouring buildings.

import { addBuilding, addTree } from '../commands/index.js';
import { AROUND_MAX, aroundOf, crownRadiusM, crownRing } from '../model/around.js';
import { FIRST_CROWN_M, newBuilding, newTree } from '../model/defaults.js';
import { alongBearing, cross, dot, minus, plus } from '../model/geometry.js';
import { formatLength } from '../model/units.js';
import { drawRing } from './draw-ring.js';
import { drawTwoPoints } from './draw-two-points.js';
import { crownLines } from './readings.js';
import { select } from './select.js';

/** @import {App, Mode} from './machine.js' */
/** @import {Doc, Item, Point} from '../model/types.js' */

/** @param {App} app @param {Item} item */
function choose({ store }, item) {
  store.setUi({ selection: { items: [item], corner: null, edge: null } });
}

/** @param {App} app @param {Point} at @param {number} radiusM */
export function placeTree(app, at, radiusM) {
  const tree = newTree(app.store.state.doc, at, radiusM);
  app.store.run('Place tree', addTree({ tree }));
  choose(app, { type: 'tree', id: tree.id });
}

/** @param {App} app @returns {Mode} a click places a tree, a drag from its middle sets its crown */
export function drawTree(app) {
  return drawTwoPoints(app, {
    mode: 'draw-tree',
    what: 'tree',
    noun: 'the tree',
    hints: ['the middle of the tree', 'the rim of its crown'],
    show(a, b) {
      const radius_m = crownRadiusM(a, b);
      const { doc } = app.store.state;
      const tree = newTree(doc, a, radius_m);
      return { ring: crownRing(tree), lines: crownLines(doc, tree), sizeM: radius_m };
    },
    finish: (a, b) => placeTree(app, a, crownRadiusM(a, b)),
    click: (a) => placeTree(app, a, FIRST_CROWN_M),
  });
}

/** @param {App} app @param {Point[]} ring */
function placeBuilding(app, ring) {
  const building = newBuilding(app.store.state.doc, ring);
  app.store.run('Draw building', addBuilding({ building }));
  choose(app, { type: 'building', id: building.id });
}

/** @param {App} app @returns {Mode} a rectangle square to the house */
export function drawBlock(app) {
  return drawTwoPoints(app, {
    mode: 'draw-block',
    what: 'building',
    noun: 'the building',
    hints: ['one corner', 'the opposite corner'],
    show(a, b) {
      const { doc } = app.store.state;
      const { ring, widthM, depthM } = blockBetween(doc, a, b);
      const { units } = doc.site;
      return { ring, lines: [`${formatLength(widthM, units)} × ${formatLength(depthM, units)}`], sizeM: Math.min(widthM, depthM) };
    },
    finish: (a, b) => placeBuilding(app, blockBetween(app.store.state.doc, a, b).ring),
  });
}

/** @param {Doc} doc @param {Point} a @param {Point} b opposite corners @returns {{ring: Point[], widthM: number, depthM: number}} in line with the eave of the first plane, or with north */
function blockBetween(doc, a, b) {
  const up = alongBearing(doc.planes[0]?.azimuth_deg ?? 0);
  const right = alongBearing((doc.planes[0]?.azimuth_deg ?? 0) + 90);
  const d = minus(b, a);
  const [w, h] = [dot(d, right), dot(d, up)];
  const corners = [a, plus(a, right, w), b, plus(a, up, h)];
  const turned = cross(minus(corners[1], a), minus(corners[3], a)) < 0;
  return { ring: turned ? corners.reverse() : corners, widthM: Math.abs(w), depthM: Math.abs(h) };
}

/** @param {App} app @param {Point[]} [points] corners placed before @returns {Mode} */
export function drawBuilding(app, points) {
  return drawRing(app, {
    mode: 'draw-building',
    what: 'building',
    noun: 'building',
    firstHint: 'Click a corner of the building',
    pitchDeg: null,
    points,
    finish(ring) {
      placeBuilding(app, ring);
      app.modes.go(select(app));
    },
  });
}

/** @param {Doc} doc @param {'tree'|'building'} type @returns {string} '' or why there can be no more */
export function aroundFull(doc, type) {
  const most = AROUND_MAX[type];
  const count = type === 'tree' ? aroundOf(doc).trees.length : aroundOf(doc).buildings.length;
  return count < most ? '' : `There are ${most} ${type}s already, which is the most.`;
}
