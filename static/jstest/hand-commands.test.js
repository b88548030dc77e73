import assert from 'node:assert/strict';
import { test } from 'node:test';
import * as c from '../js/commands/index.js';
import { frameOf, toSlope } from '../js/model/geometry.js';
import { candidate, frozen, plane } from './drawing.fakes.js';
import { flatRoof, mm } from './hand.fakes.js';

/** @param {number} x_m @param {number} y_m @param {object} [more] @returns {any} */
const at = (x_m, y_m, more = {}) => ({ x_m, y_m, turn: 'portrait', locked: false, ...more });
const key = { candidateId: 'a', planeId: 'south' };
const shown = frozen([at(1, 1), at(2.12, 1), at(3.24, 1)]);
const doc = frozen(flatRoof());
/** @param {any} d @returns {any} */
const layout = (d) => d.hand.find((/** @type {any} */ l) => l.candidate_id === 'a' && l.plane_id === 'south');

test('the first edit copies what is shown, later ones change that list', () => {
  const first = c.moveModules({ ...key, shown, picked: [1], by: { u_m: 0, v_m: 2 } })(doc);
  assert.deepEqual(layout(first), { candidate_id: 'a', plane_id: 'south', fill: false, modules: [shown[0], shown[2], at(2.12, 3)] });
  const next = c.removeModules({ ...key, shown: layout(first).modules, picked: [0], counted: true })(first);
  assert.deepEqual(layout(next).modules, [shown[2], at(2.12, 3)]);
  assert.equal(first.planes, doc.planes);
});

test('a move along the eave and up the slope is told in the plane’s own frame', () => {
  const steep = frozen(flatRoof({ planes: [plane('south', [[0, 0], [0, 10], [-6, 10], [-6, 0]], { pitch_deg: 60, azimuth_deg: 90 })] }));
  // Facing east, up the slope is west; 2 m up a slope of 60 degrees is 1 m in plan, and right is north (arithmetic).
  const moved = c.moveModules({ ...key, shown: [at(-1, 1)], picked: [0], by: { u_m: 0.5, v_m: 2 } })(steep);
  const [{ x_m, y_m }] = layout(moved).modules;
  assert.deepEqual([mm(x_m), mm(y_m)], [-2, 1.5]);
});

test('where the rest is filled: locked ones move and leave alone, others make a copy', () => {
  const locked = frozen([at(1, 1, { locked: true }), at(2.12, 1, { locked: true })]);
  const filled = frozen({ ...doc, hand: [{ candidate_id: 'a', plane_id: 'south', fill: true, modules: locked }] });
  const all = [...locked, at(3.24, 1)];
  const moved = c.moveModules({ ...key, shown: all, picked: [0], by: { u_m: 0, v_m: 1 } })(filled);
  assert.deepEqual([layout(moved).fill, layout(moved).modules.length], [true, 2]);
  const copied = c.moveModules({ ...key, shown: all, picked: [2], by: { u_m: 0, v_m: 1 } })(filled);
  assert.deepEqual([layout(copied).fill, layout(copied).modules.map((/** @type {any} */ m) => m.locked)], [false, [true, true, false]]);
  const fewer = c.removeModules({ ...key, shown: all, picked: [0], counted: true })(filled);
  assert.deepEqual([layout(fewer).fill, layout(fewer).modules.length], [false, 2], 'the engine must not fill the place again');
  const listed = c.removeModules({ ...key, shown: all, picked: [0], counted: false })(filled);
  assert.deepEqual([layout(listed).fill, layout(listed).modules], [true, [locked[1]]]);
  const released = c.releaseModules({ ...key, shown: all, picked: [0] })(filled);
  assert.deepEqual(layout(released).modules, [locked[1]]);
  const none = c.releaseModules({ ...key, shown: all, picked: [0, 1] })(filled);
  assert.deepEqual(none.hand, [], 'filled around nothing is automatic');
});

test('fill keeps the locked ones; without any there is nothing to fill around', () => {
  const byHand = frozen({ ...doc, hand: [{ candidate_id: 'a', plane_id: 'south', fill: false, modules: [at(1, 1, { locked: true }), at(2.12, 1)] }] });
  const filled = c.fillRest(key)(byHand);
  assert.deepEqual([layout(filled).fill, layout(filled).modules.length], [true, 1]);
  assert.equal(c.fillRest(key)(filled), filled);
  assert.equal(c.fillRest(key)(doc), doc);
  assert.deepEqual(c.backToAutomatic(key)(filled).hand, []);
  const unlocked = c.lockModules({ ...key, shown: layout(byHand).modules, picked: [0], locked: false })(byHand);
  assert.equal(c.fillRest(key)(unlocked), unlocked);
});

test('an edit with nothing to do returns the very same document', () => {
  const byHand = frozen({ ...doc, hand: [{ candidate_id: 'a', plane_id: 'south', fill: false, modules: shown }] });
  const none = [
    c.moveModules({ ...key, shown, picked: [], by: { u_m: 1, v_m: 0 } }), c.moveModules({ ...key, shown, picked: [0], by: { u_m: 0, v_m: 0 } }),
    c.moveModules({ ...key, planeId: 'gone', shown, picked: [0], by: { u_m: 1, v_m: 0 } }), c.removeModules({ ...key, shown, picked: [], counted: true }),
    c.addModules({ ...key, shown, modules: [] }), c.lockModules({ ...key, shown, picked: [0], locked: false }), c.fillRest(key),
    c.turnModules({ ...key, candidateId: 'gone', shown, picked: [0], anchor: c.ANCHORS[0] }), c.backToAutomatic({ ...key, candidateId: 'b' }),
  ];
  none.forEach((command, i) => assert.equal(command(byHand), byHand, `case ${i}`));
});

test('turning twice about the same side comes back', () => {
  for (const anchor of c.ANCHORS) {
    const once = c.turnModules({ ...key, shown, picked: [0, 1, 2], anchor })(doc);
    assert.deepEqual(layout(once).modules.map((/** @type {any} */ m) => m.turn), ['landscape', 'landscape', 'landscape']);
    const twice = c.turnModules({ ...key, shown: layout(once).modules, picked: [0, 1, 2], anchor })(once);
    assert.deepEqual(layout(twice).modules.map((/** @type {any} */ m) => [mm(m.x_m), mm(m.y_m)]), [[1, 1], [2.12, 1], [3.24, 1]], JSON.stringify(anchor));
  }
});

test('a block of rows turns without its rows running into each other', () => {
  const block = [at(1, 1, { turn: 'landscape' }), at(1, 2.12, { turn: 'landscape' })];
  const turned = c.turnModules({ ...key, shown: block, picked: [0, 1], anchor: { along: 0, up: 0 } })(doc);
  // 1.1 m high before with 20 mm between, 1.8 m after.
  assert.deepEqual(layout(turned).modules.map((/** @type {any} */ m) => mm(m.y_m)), [1, 2.82]);
});

test('planes that move or turn take their modules along, in the same step', () => {
  const tilted = plane('south', [[0, 0], [10, 0], [10, 6], [0, 6]], { pitch_deg: 35 });
  const base = frozen(flatRoof({ planes: [tilted], hand: [{ candidate_id: 'a', plane_id: 'south', fill: false, modules: shown }] }));
  const items = [/** @type {const} */ ({ type: 'plane', id: 'south' })];
  const slope = (/** @type {any} */ d) => layout(d).modules.map((/** @type {any} */ m) => toSlope(frameOf(d.planes[0]), m)).map((/** @type {any} */ s) => [mm(s.u_m), mm(s.v_m)]);
  const moved = c.moveItems({ items, by: { x_m: 3.00004, y_m: -1 } })(base);
  assert.deepEqual(slope(moved), slope(base));
  assert.equal(mm(layout(moved).modules[0].x_m), 4);
  for (const deltaDeg of [90, 33.3, -127]) {
    assert.deepEqual(slope(c.turnItems({ items, deltaDeg, about: { x_m: 2, y_m: 9 } })(base)), slope(base), String(deltaDeg));
  }
  const still = c.moveItems({ items: [{ type: 'keepout', id: 'none' }], by: { x_m: 1, y_m: 0 } })(base);
  assert.equal(still.hand, base.hand);
  assert.equal(c.setPlane({ id: 'south', patch: { pitch_deg: 20 } })(base).hand, base.hand, 'a change of pitch keeps the places in plan');
});

test('copies of planes take copies along; what is deleted takes its layouts away', () => {
  const hand = [
    { candidate_id: 'a', plane_id: 'south', fill: false, modules: shown },
    { candidate_id: 'b', plane_id: 'south', fill: true, modules: [at(1, 1, { locked: true })] },
  ];
  const base = frozen(flatRoof({ hand }));
  const items = [/** @type {const} */ ({ type: 'plane', id: 'south' })];
  const copy = c.duplicateItems({ items, ids: ['copy'], by: { x_m: 20, y_m: 0 } })(base);
  assert.deepEqual(copy.hand.map((l) => [l.candidate_id, l.plane_id, l.fill, l.modules.length]), [['a', 'south', false, 3], ['b', 'south', true, 1], ['a', 'copy', false, 3], ['b', 'copy', true, 1]]);
  assert.equal(mm(copy.hand[2].modules[0].x_m), 21);
  assert.deepEqual(c.deleteItems({ items })(copy).hand.map((l) => l.plane_id), ['copy', 'copy']);
  assert.deepEqual(c.removeCandidate({ id: 'a' })(copy).hand.map((l) => l.candidate_id), ['b', 'b']);
});

test('another module in a candidate’s place keeps the layout only at the same size', () => {
  const base = frozen(flatRoof({ hand: [{ candidate_id: 'a', plane_id: 'south', fill: false, modules: shown }] }));
  const same = c.replaceCandidate({ id: 'a', candidate: candidate('n', 480) })(base);
  assert.deepEqual(same.hand.map((l) => l.candidate_id), ['n']);
  const other = c.replaceCandidate({ id: 'a', candidate: { ...candidate('n', 480), length_m: 2 } })(base);
  assert.deepEqual(other.hand, []);
});
