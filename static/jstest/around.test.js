import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  addBuilding, addShadeAreas, addTree, deleteCorner, deleteItems, duplicateItems, insertCorner, moveCorners, moveItems, resizeTree, setBuilding,
  setHorizon, setLoss, setTree, setWeather, setYield, takeWeatherFile, turnItems,
} from '../js/commands/index.js';
import { horizonAt } from '../js/model/around.js';
import { fittedTo } from '../js/model/camera.js';
import { editFault } from '../js/model/sound.js';
import { toScreen, viewOf } from '../js/model/geometry.js';
import { hit } from '../js/model/hit.js';
import { newIds, newLabel } from '../js/model/ids.js';
import { takeUpOutline } from '../js/modes/take-up.js';
import { withPoint } from '../js/panels/dialog-horizon.js';
import { missing, sourceWords, togetherPct } from '../js/panels/dialog-weather.js';
import { Driver, frozen, gable, points } from './drawing.fakes.js';

/** @param {string} id @param {object} [more] @returns {any} */
const tree = (id, more = {}) => ({ id, label: id, x_m: 3, y_m: -6, radius_m: 2, base_m: 2, top_m: 8, crown: 'round', evergreen: false, leaf_on_pass: 0.2, leaf_off_pass: 0.6, ...more });
/** @param {string} id @param {[number, number][]} xy @returns {any} */
const building = (id, xy) => ({ id, label: id, ring: points(xy), base_m: 0, top_m: 9 });
const SQUARE = /** @type {[number, number][]} */ ([[20, 0], [24, 0], [24, 4], [20, 4]]);

/** A gable with a tree south of it and a house to the east. @returns {any} */
const house = () =>
  frozen(gable({
    surroundings: { trees: [tree('tree-1')], buildings: [building('building-1', SQUARE)], horizon: [] },
    weather: { source: 'station', monthly: null, file: null },
    yield: { sky: 'perez', glass: 'ashrae', albedo: 0.2, losses: [{ id: 'soiling', label: 'Soiling', side: 'dc', monthly_pct: Array(12).fill(2) }], weather_sigma_pct: 5, model_sigma_pct: 5 },
  }));

/** @param {any} doc */
const places = (doc) => [doc.surroundings.trees.map((/** @type {any} */ t) => [t.x_m, t.y_m]), doc.surroundings.buildings.map((/** @type {any} */ b) => b.ring.map((/** @type {any} */ p) => [p.x_m, p.y_m]))];

const BOTH = /** @type {any[]} */ ([{ type: 'tree', id: 'tree-1' }, { type: 'building', id: 'building-1' }]);

test('what stands around moves, turns, is copied and deleted, and the roof stays the same value', () => {
  const doc = house();
  const moved = moveItems({ items: BOTH, by: { x_m: 1, y_m: -0.5 } })(doc);
  assert.deepEqual(places(moved), [[[4, -6.5]], [[[21, -0.5], [25, -0.5], [25, 3.5], [21, 3.5]]]]);
  const turned = turnItems({ items: BOTH, deltaDeg: 90, about: { x_m: 0, y_m: 0 } })(doc);
  assert.deepEqual(places(turned)[0], [[-6, -3]], 'clockwise seen from above: south goes west');
  const copied = duplicateItems({ items: BOTH, ids: ['tree-2', 'building-2'], by: { x_m: 2, y_m: 0 } })(doc);
  assert.deepEqual(places(copied)[0], [[3, -6], [5, -6]]);
  assert.equal(copied.surroundings.buildings[1].label, 'building-1 copy');
  const gone = deleteItems({ items: [BOTH[0]] })(doc);
  assert.deepEqual(places(gone)[0], []);
  for (const next of [moved, turned, copied, gone]) {
    assert.equal(next.planes, doc.planes);
    assert.equal(next.keep_outs, doc.keep_outs);
  }
});

test('an edit of what stands around that changes nothing is no edit', () => {
  const doc = house();
  for (const command of [
    moveItems({ items: [{ type: 'tree', id: 'nothing' }], by: { x_m: 1, y_m: 1 } }),
    setTree({ id: 'tree-1', patch: { top_m: 8 } }),
    setBuilding({ id: 'building-1', patch: { top_m: 9 } }),
    resizeTree({ id: 'nothing', to: { x_m: 0, y_m: 0 } }),
    setHorizon({ horizon: [] }),
    setWeather({ patch: { source: 'station' } }),
    setLoss({ id: 'soiling', pct: 2 }),
    setLoss({ id: 'nothing', pct: 9 }),
    setYield({ patch: { albedo: 0.2 } }),
    addShadeAreas({ areas: [] }),
  ]) assert.equal(command(doc), doc);
});

test('a crown follows its rim within what a document may hold', () => {
  const doc = house();
  assert.equal(resizeTree({ id: 'tree-1', to: { x_m: 3, y_m: -2.5 } })(doc).surroundings.trees[0].radius_m, 3.5);
  assert.equal(resizeTree({ id: 'tree-1', to: { x_m: 3, y_m: -6 } })(doc).surroundings.trees[0].radius_m, 0.1);
  assert.equal(resizeTree({ id: 'tree-1', to: { x_m: 3000, y_m: -6 } })(doc).surroundings.trees[0].radius_m, 50);
});

test('corners of a building come and go, and three stay', () => {
  const doc = house();
  const more = insertCorner({ type: 'building', id: 'building-1', after: 0, at: { x_m: 22, y_m: -1 } })(doc);
  assert.deepEqual(places(more)[1][0][1], [22, -1]);
  const moved = moveCorners({ corners: [{ type: 'building', id: 'building-1', index: 2 }], by: { x_m: 1, y_m: 0 } })(doc);
  assert.deepEqual(places(moved)[1][0][2], [25, 4]);
  const three = deleteCorner({ type: 'building', id: 'building-1', index: 3 })(doc);
  assert.equal(three.surroundings.buildings[0].ring.length, 3);
  assert.equal(deleteCorner({ type: 'building', id: 'building-1', index: 0 })(three), three);
  const crossed = moveCorners({ corners: [{ type: 'building', id: 'building-1', index: 0 }], by: { x_m: 10, y_m: 2 } })(doc);
  assert.match(editFault(doc, crossed), /^building-1: /);
});

test('names and IDs keep clear of trees and buildings', () => {
  const doc = addBuilding({ building: building('building-2', SQUARE) })(addTree({ tree: tree('tree-2', { label: 'Tree 1' }) })(house()));
  assert.deepEqual(newIds(doc, 'tree', 2), ['tree-3', 'tree-4']);
  assert.equal(newLabel(doc, 'Tree'), 'Tree 2');
});

test('a weather file is taken with its source in one step, and a loss holds for every month', () => {
  const doc = house();
  /** @type {any} */
  const file = { hash: 'a'.repeat(64), name: 'x.epw' };
  const taken = takeWeatherFile({ file })(doc);
  assert.deepEqual(taken.weather, { source: 'file', monthly: null, file });
  assert.equal(takeWeatherFile({ file: { ...file } })(taken), taken, 'the same file again is no step');
  assert.deepEqual(setLoss({ id: 'soiling', pct: 3 })(doc).yield.losses[0].monthly_pct, Array(12).fill(3));
});

test('proposed shade becomes shade that is off limits, each with a name of its own', () => {
  const areas = [{ plane_id: 'south', ring: points([[0, 0], [2, 0], [2, 1]]) }, { plane_id: 'south', ring: points([[5, 0], [6, 0], [6, 1]]) }];
  const doc = addShadeAreas({ areas })(house());
  assert.deepEqual(doc.keep_outs.map((/** @type {any} */ k) => [k.id, k.label, k.kind, k.shape, k.shade]), [
    ['keepout-1', 'Shade 1', 'shade', 'polygon', 'off_limits'], ['keepout-2', 'Shade 2', 'shade', 'polygon', 'off_limits'],
  ]);
  assert.deepEqual(doc.keep_outs[1].points, areas[1].ring);
});

test('the horizon runs straight between its points and round through north', () => {
  const horizon = [{ azimuth_deg: 90, elevation_deg: 10 }, { azimuth_deg: 180, elevation_deg: 20 }, { azimuth_deg: 350, elevation_deg: 0 }];
  for (const [bearing, want] of [[90, 10], [135, 15], [180, 20], [265, 10], [350, 0], [40, 5], [0, 1]]) assert.ok(Math.abs(horizonAt(horizon, bearing) - want) < 1e-9, `${bearing}: ${horizonAt(horizon, bearing)}`);
  assert.equal(horizonAt([], 10), 0);
  assert.equal(horizonAt([{ azimuth_deg: 10, elevation_deg: 7 }], 200), 7);
});

// ---- modes ----

test('a click places a tree, a drag from its middle sets the crown, each one undo step', () => {
  const d = new Driver(house()).run('place-tree');
  assert.equal(d.mode, 'draw-tree');
  assert.ok(d.ui.around, 'the surroundings are worked on');
  d.click([-3, -3]);
  assert.deepEqual([d.doc.surroundings.trees[1].x_m, d.doc.surroundings.trees[1].y_m, d.doc.surroundings.trees[1].radius_m], [-3, -3, 2.5]);
  assert.deepEqual(d.ui.selection.items, [{ type: 'tree', id: 'tree-2' }]);
  d.run('place-tree').drag([-6, -6], [-6, -4.5]);
  assert.equal(d.doc.surroundings.trees[2].radius_m, 1.5);
  assert.equal(d.doc.surroundings.trees[2].top_m, 8, 'a new tree takes after the last one');
  assert.equal(d.steps(), 2);
});

test('trees are dragged by the crown and resized by the rim; the roof under them is left alone', () => {
  const d = new Driver(house()).run('surroundings');
  d.store.setUi({ camera: { x_m: 0, y_m: 0, pxPerM: 50 } });
  d.drag([3, -6], [5, -7]);
  assert.deepEqual(places(d.doc)[0], [[5, -7]]);
  d.drag([7, -7], [8, -7]);
  assert.equal(d.doc.surroundings.trees[0].radius_m, 3);
  const before = d.doc.planes;
  d.drag([5, 2], [6, 2]);
  assert.equal(d.doc.planes, before, 'a drag on the roof moves the paper');
  d.run('undo').run('undo');
  assert.deepEqual(places(d.doc)[0], [[3, -6]]);
});

test('from the roof a tree is selected by a click and not dragged by accident', () => {
  const d = new Driver(house());
  d.drag([3, -6], [5, -7]);
  assert.deepEqual(places(d.doc)[0], [[3, -6]]);
  d.store.setUi({ camera: { x_m: 0, y_m: 0, pxPerM: 50 } });
  d.click([3, -6]);
  assert.deepEqual(d.ui.selection.items, [{ type: 'tree', id: 'tree-1' }]);
});

test('a crown over the roof does not hide it while the roof is worked on', () => {
  const over = { ...house(), surroundings: { trees: [tree('tree-1', { x_m: 5, y_m: 1, radius_m: 3 })], buildings: [], horizon: [] } };
  const d = new Driver(over);
  /** @param {any} at */
  const under = (at) => hit(d.store.state, toScreen(viewOf(d.ui), at), 'mouse');
  assert.deepEqual(under({ x_m: 5, y_m: 2 }), { kind: 'item', item: { type: 'plane', id: 'south' } });
  d.run('surroundings');
  assert.deepEqual(under({ x_m: 5, y_m: 2 }), { kind: 'item', item: { type: 'tree', id: 'tree-1' } });
  assert.deepEqual(under({ x_m: 9.5, y_m: 3.9 }), { kind: 'none' });
});

test('a building as rectangle in line with the eave, and as outline; its corners move', () => {
  const d = new Driver(house()).run('draw-block');
  d.drag([-8, -6], [-4, -3]);
  const ring = places(d.doc)[1][1];
  assert.deepEqual([...ring].sort(), [[-4, -3], [-4, -6], [-8, -3], [-8, -6]]);
  d.run('draw-building').click([-8, 3]).click([-5, 3]).click([-5, 6]).key('Enter');
  assert.equal(d.doc.surroundings.buildings[2].ring.length, 3);
  d.drag([-5, 6], [-5, 7]);
  assert.deepEqual(places(d.doc)[1][2][2], [-5, 7]);
  d.key('Delete');
  assert.equal(d.doc.surroundings.buildings[2].ring.length, 3, 'three corners stay');
  d.key('Escape', 'Delete');
  assert.equal(d.doc.surroundings.buildings.length, 2);
});

test('surroundings: keys step through them alone, arrows move by a tenth of a metre, Escape leads back', () => {
  const d = new Driver(house()).run('surroundings').key(']');
  assert.deepEqual(d.ui.selection.items, [{ type: 'tree', id: 'tree-1' }]);
  d.key('ArrowRight');
  assert.deepEqual(places(d.doc)[0], [[3.1, -6]]);
  d.key(']');
  assert.deepEqual(d.ui.selection.items, [{ type: 'building', id: 'building-1' }]);
  d.key('Ctrl+A');
  assert.equal(d.ui.selection.items.length, 2);
  d.key('Escape', 'Escape');
  assert.equal(d.ui.around, false);
  d.key(']');
  assert.equal(d.ui.selection.items[0].type, 'plane');
});

test('the view takes in the garden, and things far off once they are drawn', () => {
  const d = new Driver(house());
  const near = fittedTo(d.ui, d.doc);
  d.run('surroundings');
  assert.ok(d.ui.camera.pxPerM < near.pxPerM / 1.5);
  const far = addTree({ tree: tree('tree-2', { x_m: -40, y_m: -30 }) })(d.doc);
  const camera = fittedTo(d.ui, far);
  const at = toScreen({ ...viewOf(d.ui), camera }, { x_m: -42, y_m: -30 });
  assert.ok(at.x > 0 && at.y < 800, JSON.stringify(at));
  d.run('surroundings');
  assert.deepEqual(d.ui.camera, near, 'back to the whole roof');
});

test('a tree by numbers stands where it was measured, and its crown begins below its top', async () => {
  const d = new Driver(house());
  d.answers.push({ bearing: 'S', distance: '5', across: '3', base: '1.5', top: '6' });
  d.run('tree-by-numbers');
  await new Promise((r) => setImmediate(r));
  const placed = d.doc.surroundings.trees[1];
  assert.deepEqual([placed.x_m, placed.y_m, placed.radius_m, placed.base_m, placed.top_m], [0, -5, 1.5, 1.5, 6]);
  d.answers.push({ bearing: 'S', distance: '5', across: '3', base: '6', top: '6' });
  d.run('tree-by-numbers');
  await new Promise((r) => setImmediate(r));
  assert.equal(d.doc.surroundings.trees.length, 2);
  assert.match(d.ui.status, /below its top/);
});

// ---- panels ----

test('horizon points stand in rising bearing, one in a direction, at most 72', () => {
  const two = withPoint(withPoint([], { azimuth_deg: 200, elevation_deg: 5 }), { azimuth_deg: 90, elevation_deg: 10 });
  assert.deepEqual(two.map((p) => p.azimuth_deg), [90, 200]);
  assert.deepEqual(withPoint(two, { azimuth_deg: 200, elevation_deg: 7 })[1], { azimuth_deg: 200, elevation_deg: 7 });
  const full = Array.from({ length: 72 }, (_, i) => ({ azimuth_deg: i * 5, elevation_deg: 1 }));
  assert.throws(() => withPoint(full, { azimuth_deg: 2, elevation_deg: 1 }), /72 points/);
  assert.equal(withPoint(full, { azimuth_deg: 5, elevation_deg: 3 }).length, 72, 'one in the same direction takes its place');
});

test('the weather says in words what it is, and what a source lacks', () => {
  const doc = house();
  assert.match(missing(doc, 'file'), /No file/);
  assert.match(missing(doc, 'monthly'), /weather page/);
  assert.equal(missing(doc, 'station'), '');
  const d = new Driver({ ...doc, site: { ...doc.site, lat_deg: 43, lon_deg: -89 } });
  assert.equal(sourceWords(d.store.state), 'Being looked up.');
  d.store.setLight('map', { value: { key: 'k', words: 'Lone Rock, 28 km away', warnings: [], planes: [] }, of: d.doc });
  assert.equal(sourceWords(d.store.state), 'Lone Rock, 28 km away');
  d.store.run('Units', (now) => ({ ...now, site: { ...now.site, units: 'imperial' } }));
  assert.equal(sourceWords(d.store.state), 'Lone Rock, 28 km (17 mi) away');
  d.store.run('Site', (now) => ({ ...now, site: { ...now.site, lat_deg: 20 } }));
  assert.equal(sourceWords(d.store.state), 'Being looked up.', 'words of another place are not shown');
  assert.match(sourceWords(new Driver(doc).store.state), /not known yet/);
});

test('losses together are taken one after the other', () => {
  /** @param {number} pct @returns {any} */
  const line = (pct) => ({ id: `l${pct}`, label: '', side: 'dc', monthly_pct: Array(12).fill(pct) });
  assert.equal(Math.round(togetherPct([line(10), line(50)]) * 1e6) / 1e6, 55);
  assert.equal(togetherPct([]), 0);
});

test('an outline begun before goes on where it was', () => {
  const d = new Driver(house());
  takeUpOutline(d.app, { mode: 'draw-building', points: points([[-8, -6], [-4, -6]]) });
  assert.equal(d.mode, 'draw-building');
  assert.match(d.ui.status, /still here.*corner 3/);
  d.click([-4, -3]).key('Enter');
  assert.equal(d.doc.surroundings.buildings[1].ring.length, 3);
  const e = new Driver(house());
  takeUpOutline(e.app, { mode: 'draw-nothing', points: points([[0, 0]]) });
  assert.equal(e.mode, 'select');
});
