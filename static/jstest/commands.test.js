import assert from 'node:assert/strict';
import { test } from 'node:test';
import * as c from '../js/commands/index.js';
import { footprint, normDeg, slopeAreaM2 } from '../js/model/geometry.js';
import { newIds, newLabel } from '../js/model/ids.js';
import { editFault } from '../js/model/sound.js';
import { candidate, frozen, gable, keepOut, plane, points } from './drawing.fakes.js';

const doc = frozen(gable({
  keep_outs: [
    keepOut('box', { center: { x_m: 5, y_m: 2 }, width_m: 1, depth_m: 0.5, turn_deg: 0 }),
    keepOut('disc', { kind: 'vent', shape: 'circle', center: { x_m: 2, y_m: 2 }, radius_m: 0.2 }),
    keepOut('area', { kind: 'shade', shape: 'polygon', points: points([[6, 1], [8, 1], [8, 3]]), shade: 'last_resort' }),
  ],
}));
/** @param {any} ring */
const xy = (ring) => ring.map((/** @type {any} */ p) => [p.x_m, p.y_m]);

test('commands leave their input alone and the rest of the document shared', () => {
  const next = c.setPlane({ id: 'south', patch: { pitch_deg: 40 } })(doc);
  assert.equal(next.planes[0].pitch_deg, 40);
  assert.equal(next.planes[1], doc.planes[1]);
  assert.equal(next.keep_outs, doc.keep_outs);
});

test('a command with nothing to do returns the very same document', () => {
  const by = { x_m: 1, y_m: 0 };
  const none = [
    c.setPlane({ id: 'south', patch: { pitch_deg: 30 } }), c.setPlane({ id: 'gone', patch: { pitch_deg: 3 } }),
    c.setKeepOut({ id: 'box', patch: { kind: 'chimney' } }), c.setSite({ patch: { label: 'Test' } }), c.setRules({ patch: { set: 'distances' }, distances: { eave_m: 0.3 } }),
    c.setTarget({ patch: { mode: 'fill' } }), c.setCandidate({ id: 'a', patch: { pmax_w: 330 } }), c.replaceCandidate({ id: 'a', candidate: doc.candidates[0] }),
    c.removeCandidate({ id: 'gone' }), c.reorderCandidate({ id: 'a', to: 0 }), c.reorderCandidate({ id: 'a', to: -4 }), c.reorderCandidate({ id: 'gone', to: 1 }),
    c.setEdge({ id: 'south', index: 0, patch: { street: false } }), c.setEdge({ id: 'south', index: 9, patch: { street: true } }),
    c.faceEdge({ id: 'south', index: 0 }), c.faceEdge({ id: 'south', index: 7 }),
    c.moveItems({ items: [{ type: 'plane', id: 'south' }], by: { x_m: 0, y_m: 0 } }), c.moveItems({ items: [], by }), c.moveItems({ items: [{ type: 'keepout', id: 'south' }], by }),
    c.moveCorner({ type: 'plane', id: 'south', index: 0, to: { x_m: 0, y_m: 0 } }), c.moveCorner({ type: 'plane', id: 'south', index: 9, to: by }),
    c.moveCorners({ corners: [], by }), c.insertCorner({ type: 'plane', id: 'south', after: 8, at: by }), c.deleteCorner({ type: 'plane', id: 'south', index: 8 }),
    c.deleteCorner({ type: 'keepout', id: 'area', index: 0 }), c.deleteItems({ items: [{ type: 'plane', id: 'box' }] }),
    c.duplicateItems({ items: [{ type: 'plane', id: 'gone' }], ids: ['x'], by }), c.turnItems({ items: [{ type: 'plane', id: 'south' }], deltaDeg: 360, about: by }),
    c.resizeKeepOut({ id: 'area', index: 0, to: by }),
  ];
  none.forEach((command, i) => assert.equal(command(doc), doc, `case ${i}`));
});

test('adding', () => {
  const p = plane('new', [[0, 0], [1, 0], [0, 1]]);
  assert.equal(c.addPlane({ plane: p })(doc).planes.at(-1), p);
  const k = /** @type {any} */ (keepOut('k2', { shape: 'circle' }));
  assert.equal(c.addKeepOut({ keepOut: k })(doc).keep_outs.at(-1), k);
});

test('a corner takes the corners on its spot along, unless alone', () => {
  const to = { x_m: 10, y_m: 4.5 };
  const both = c.moveCorner({ type: 'plane', id: 'south', index: 2, to })(doc);
  assert.deepEqual(xy(both.planes[0].ring)[2], [10, 4.5]);
  assert.deepEqual(xy(both.planes[1].ring)[3], [10, 4.5]);
  const alone = c.moveCorner({ type: 'plane', id: 'south', index: 2, to, alone: true })(doc);
  assert.equal(alone.planes[1], doc.planes[1]);
  // A hair under and over a millimetre.
  for (const [off, goes] of /** @type {const} */ ([[0.0009, true], [0.0011, false]])) {
    const apart = gable({ planes: [doc.planes[0], plane('n', [[10, 8], [0, 8], [0, 4], [10 + off, 4]])] });
    const next = c.moveCorner({ type: 'plane', id: 'south', index: 2, to })(apart);
    assert.equal(next.planes[1] !== apart.planes[1], goes, String(off));
  }
});

test('moving both ends of a ridge moves the ridge of both planes once', () => {
  const corners = [2, 3].map((index) => ({ type: /** @type {const} */ ('plane'), id: 'south', index }));
  const next = c.moveCorners({ corners, by: { x_m: 0, y_m: 1 } })(doc);
  assert.deepEqual(xy(next.planes[0].ring), [[0, 0], [10, 0], [10, 5], [0, 5]]);
  assert.deepEqual(xy(next.planes[1].ring), [[10, 8], [0, 8], [0, 5], [10, 5]]);
});

test('corners of keep-outs move alone', () => {
  const next = c.moveCorner({ type: 'keepout', id: 'area', index: 1, to: { x_m: 9, y_m: 1 } })(doc);
  assert.deepEqual(xy(next.keep_outs[2].points), [[6, 1], [9, 1], [8, 3]]);
  assert.equal(next.planes, doc.planes);
});

test('moving items', () => {
  const items = [/** @type {const} */ ({ type: 'plane', id: 'south' }), /** @type {const} */ ({ type: 'keepout', id: 'box' }), /** @type {const} */ ({ type: 'keepout', id: 'area' })];
  const next = c.moveItems({ items, by: { x_m: 1, y_m: -2 } })(doc);
  assert.deepEqual(xy(next.planes[0].ring)[0], [1, -2]);
  assert.equal(next.planes[1], doc.planes[1]);
  assert.deepEqual(next.keep_outs[0].center, { x_m: 6, y_m: 0 });
  assert.deepEqual(xy(next.keep_outs[2].points)[0], [7, -1]);
  assert.equal(next.keep_outs[1], doc.keep_outs[1]);
});

test('a new corner inherits what was said about its edge; deleting undoes it', () => {
  const marked = c.setEdge({ id: 'south', index: 1, patch: { edge: 'party_wall', street: true } })(doc);
  const split = c.insertCorner({ type: 'plane', id: 'south', after: 1, at: { x_m: 10, y_m: 2 } })(marked);
  assert.deepEqual(split.planes[0].ring[2], { x_m: 10, y_m: 2, edge: 'party_wall', street: true });
  assert.deepEqual(c.deleteCorner({ type: 'plane', id: 'south', index: 2 })(split), marked);
  const shade = c.insertCorner({ type: 'keepout', id: 'area', after: 2, at: { x_m: 6, y_m: 3 } })(doc);
  assert.deepEqual(xy(shade.keep_outs[2].points)[3], [6, 3]);
});

test('deleting and duplicating', () => {
  const items = [/** @type {const} */ ({ type: 'plane', id: 'south' }), /** @type {const} */ ({ type: 'keepout', id: 'disc' })];
  const less = c.deleteItems({ items })(doc);
  assert.deepEqual([less.planes.map((p) => p.id), less.keep_outs.map((k) => k.id)], [['north'], ['box', 'area']]);
  const more = c.duplicateItems({ items, ids: ['p2', 'k2'], by: { x_m: 1, y_m: 1 } })(doc);
  assert.equal(more.planes.at(-1)?.id, 'p2');
  assert.equal(more.planes.at(-1)?.label, 'south copy');
  assert.deepEqual(more.keep_outs.at(-1)?.center, { x_m: 3, y_m: 3 });
  const long = gable({ planes: [plane('p', [[0, 0], [1, 0], [0, 1]], { label: 'x'.repeat(60) })] });
  assert.equal(c.duplicateItems({ items: [{ type: 'plane', id: 'p' }], ids: ['q'], by: { x_m: 0, y_m: 0 } })(long).planes[1].label.length, 60);
});

test('a keep-out stays whole when its kind or form changes', () => {
  /** @param {string} id @param {any} patch */
  const after = (id, patch) => /** @type {any} */ (c.setKeepOut({ id, patch })(doc).keep_outs.find((k) => k.id === id));
  assert.equal(after('box', { kind: 'shade' }).shade, 'last_resort');
  assert.equal(after('area', { kind: 'other' }).shade, '');
  const polygon = after('box', { shape: 'polygon' });
  assert.deepEqual(xy(polygon.points), [[4.5, 1.75], [5.5, 1.75], [5.5, 2.25], [4.5, 2.25]]);
  assert.equal('width_m' in polygon || 'center' in polygon || 'turn_deg' in polygon, false);
  const rect = after('disc', { shape: 'rect' });
  assert.deepEqual(rect.center, { x_m: 2, y_m: 2 });
  assert.equal('radius_m' in rect, false);
  assert.ok(rect.width_m > 0 && rect.width_m === rect.depth_m);
  const disc = after('area', { shape: 'circle' });
  assert.equal('points' in disc, false);
  assert.ok(disc.radius_m > 0);
  // South-facing: up the slope is north, so the direction is the same number.
  assert.equal(after('box', { kind: 'roof_window' }).turn_deg, 0);
  const east = c.setPlane({ id: 'south', patch: { azimuth_deg: 90 } })(doc);
  const turned = c.setKeepOut({ id: 'box', patch: { kind: 'roof_window' } })(east).keep_outs[0];
  assert.equal(turned.turn_deg, 90);
  assert.equal(c.setKeepOut({ id: 'box', patch: { kind: 'chimney' } })(c.setKeepOut({ id: 'box', patch: { kind: 'roof_window' } })(east)).keep_outs[0].turn_deg, 0);
});

test('resizing a rectangle keeps the opposite corner, in plan and in the roof', () => {
  for (const kind of /** @type {const} */ (['chimney', 'roof_window'])) {
    for (const turn_deg of [0, 30]) {
      const start = c.setKeepOut({ id: 'box', patch: { kind, turn_deg } })(doc);
      const before = footprint(start, start.keep_outs[0]);
      const to = { x_m: before[2].x_m + 0.2, y_m: before[2].y_m + 0.3 };
      const next = c.resizeKeepOut({ id: 'box', index: 2, to })(start);
      const after = footprint(next, next.keep_outs[0]);
      for (const [p, q] of [[after[0], before[0]], [after[2], to]]) {
        assert.ok(Math.hypot(p.x_m - q.x_m, p.y_m - q.y_m) < 5e-4, `${kind} ${turn_deg}`);
      }
    }
  }
  const round = c.resizeKeepOut({ id: 'disc', index: 0, to: { x_m: 2, y_m: 2.7 } })(doc).keep_outs[1];
  assert.equal(round.radius_m, 0.7);
});

test('site, rules, target and edges', () => {
  assert.equal(c.setSite({ patch: { units: 'imperial' } })(doc).site.units, 'imperial');
  const r = c.setRules({ patch: { style: 'grid' }, distances: { eave_m: 0.5 } })(doc).rules;
  assert.deepEqual([r.style, r.distances.eave_m, r.distances.ridge_m], ['grid', 0.5, 0.3]);
  assert.equal(c.setTarget({ patch: { mode: 'size' } })(doc).target.mode, 'size');
  assert.equal(c.setEdge({ id: 'north', index: 3, patch: { edge: 'hip' } })(doc).planes[1].ring[3].edge, 'hip');
});

test('candidates are added up to five, replaced, removed and put in order', () => {
  const d = candidate('d');
  const four = c.addCandidate({ candidate: d })(doc);
  const five = c.addCandidate({ candidate: candidate('e') })(four);
  assert.equal(five.candidates.length, c.CANDIDATES_MAX);
  assert.equal(c.addCandidate({ candidate: candidate('f') })(five), five);
  const chosen = c.setTarget({ patch: { chosen: 'b' } })(doc);
  const swapped = c.replaceCandidate({ id: 'b', candidate: d })(chosen);
  assert.deepEqual([swapped.candidates.map((x) => x.id), swapped.target.chosen], [['a', 'd', 'c'], 'd']);
  assert.equal(c.removeCandidate({ id: 'b' })(chosen).target.chosen, '');
  assert.deepEqual(c.reorderCandidate({ id: 'a', to: 2 })(doc).candidates.map((x) => x.id), ['b', 'c', 'a']);
  assert.deepEqual(c.reorderCandidate({ id: 'c', to: 0 })(doc).candidates.map((x) => x.id), ['c', 'a', 'b']);
});

test('turning turns what the plane faces and keeps its area', () => {
  const items = [/** @type {const} */ ({ type: 'plane', id: 'south' }), /** @type {const} */ ({ type: 'keepout', id: 'box' })];
  const next = c.turnItems({ items, deltaDeg: 90, about: { x_m: 0, y_m: 0 } })(doc);
  assert.equal(next.planes[0].azimuth_deg, 270);
  // A quarter turn clockwise takes east to south.
  assert.deepEqual(xy(next.planes[0].ring), [[0, 0], [0, -10], [4, -10], [4, 0]]);
  assert.equal(next.keep_outs[0].turn_deg, 90);
  assert.deepEqual(next.keep_outs[0].center, { x_m: 2, y_m: -5 });
  for (const deltaDeg of [-400, -33.3, 12.5, 179]) {
    const t = c.turnItems({ items, deltaDeg, about: { x_m: 3, y_m: 1 } })(doc).planes[0];
    assert.ok(Math.abs(slopeAreaM2(t) - slopeAreaM2(doc.planes[0])) < 0.01);
    assert.ok(Math.abs(t.azimuth_deg - normDeg(180 + deltaDeg)) < 1e-6 && t.azimuth_deg >= 0 && t.azimuth_deg < 360);
  }
});

test('a roof window turns with its plane and not twice', () => {
  const base = c.setKeepOut({ id: 'box', patch: { kind: 'roof_window' } })(doc);
  const about = { x_m: 0, y_m: 0 };
  const box = /** @type {const} */ ({ type: 'keepout', id: 'box' });
  const withPlane = c.turnItems({ items: [{ type: 'plane', id: 'south' }, box], deltaDeg: 90, about })(base);
  assert.equal(withPlane.keep_outs[0].turn_deg, 0);
  const alone = c.turnItems({ items: [box], deltaDeg: 90, about: { x_m: 5, y_m: 2 } })(base);
  assert.equal(alone.keep_outs[0].turn_deg, 90);
});

test('a plane faces square out of its eave', () => {
  const facing = [0, 1, 2, 3].map((index) => c.faceEdge({ id: 'south', index })(doc).planes[0].azimuth_deg);
  assert.deepEqual(facing, [180, 90, 0, 270]);
});

test('IDs and labels that nothing has yet', () => {
  const d = gable({ planes: [plane('plane-1', []), plane('plane-3', [], { label: 'Plane 1' })] });
  assert.deepEqual(newIds(d, 'plane', 3), ['plane-2', 'plane-4', 'plane-5']);
  assert.equal(newLabel(d, 'Plane'), 'Plane 2');
});

test('an edit that breaks an outline is told by name', () => {
  const broken = c.moveCorner({ type: 'plane', id: 'south', index: 0, to: { x_m: 12, y_m: 3 } })(doc);
  assert.match(editFault(doc, broken), /^south: .*cross/);
  assert.equal(editFault(doc, c.setPlane({ id: 'south', patch: { pitch_deg: 1 } })(doc)), '');
  // What was broken before is not this edit's fault.
  assert.equal(editFault(broken, c.setPlane({ id: 'north', patch: { pitch_deg: 1 } })(broken)), '');
});

test('a datasheet is that of its candidate or goes', () => {
  const sheet = { id: 'demo-a', label: 'A', pmax_w: 330, length_m: 1.7, width_m: 1, invented: true, voc_v: 41 };
  const { id: _, ...figures } = sheet;
  const with_ = frozen(gable({ candidates: [{ ...figures, voc_v: undefined, id: 'a', catalog_id: 'demo-a', datasheet: sheet }] }));
  /** @param {any} patch */
  const after = (patch) => c.setCandidate({ id: 'a', patch })(with_).candidates[0].datasheet;
  assert.equal(after({ label: 'A' }), sheet);
  assert.deepEqual(after({ label: 'B' }), { ...sheet, label: 'B' });
  for (const patch of [{ pmax_w: 331 }, { length_m: 1.8 }, { width_m: 0.9 }, { catalog_id: '' }, { invented: false }]) assert.equal(after(patch), null);
});
