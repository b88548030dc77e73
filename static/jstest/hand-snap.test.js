import assert from 'node:assert/strict';
import { test } from 'node:test';
import { frameOf } from '../js/model/geometry.js';
import { snapBoxes, wallsOf } from '../js/model/hand-snap.js';
import { inReadingOrder, railRun, railRuns } from '../js/model/hand-rows.js';
import { gable, plane } from './drawing.fakes.js';
import { mm } from './hand.fakes.js';

/** @param {number} u_m @param {number} v_m @param {number} [w_m] @param {number} [h_m] */
const box = (u_m, v_m, w_m = 1, h_m = 2) => ({ u_m, v_m, w_m, h_m });
const gaps = { eaveM: 0.02, slopeM: 0.03, endM: 0.05 };

/** @param {any} moving @param {any} by @param {object} [more] */
function snapped(moving, by, more = {}) {
  const s = snapBoxes({ moving: [moving], by, others: [], walls: [], gaps, toleranceM: 0.1, ...more });
  return { u: mm(moving.u_m + s.by.u_m), v: mm(moving.v_m + s.by.v_m), words: s.words };
}

test('modules catch each other', () => {
  const others = [box(5, 1)];
  /** @type {[string, number, number, number, number, string][]} */
  const cases = [
    ['right of it, at the gap and in its row', 6.07, 1.04, 6.02, 1, 'in line with the row'],
    ['left of it', 3.93, 0.95, 3.98, 1, 'at the gap'],
    ['above it', 5.06, 3.08, 5, 3.03, 'at the gap'],
    ['below it', 4.95, -1.09, 5, -1.03, 'in line with the column'],
    ['too far for anything', 6.2, 1.7, 6.2, 1.7, ''],
  ];
  for (const [name, u, v, wantU, wantV, word] of cases) {
    const got = snapped(box(0, 0), { u_m: u, v_m: v }, { others });
    assert.deepEqual([got.u, got.v], [wantU, wantV], name);
    assert.equal(word === '' ? got.words.length === 0 : got.words.includes(word), true, `${name}: ${got.words}`);
  }
});

test('upper edges line up where heights differ', () => {
  const got = snapped(box(0, 0, 2, 1), { u_m: 7, v_m: 2.04 }, { others: [box(5, 1)] });
  assert.deepEqual([got.v, got.words], [2, ['in line with the row’s upper edge']]);
});

test('flush with a slanted end, at both ends with the end allowance', () => {
  // A hip from (0, 0) to (4, 4): at 1 to 3 up the slope the row begins at 3.
  const walls = [{ a: { u_m: 0, v_m: 0 }, b: { u_m: 4, v_m: 4 } }];
  const right = snapped(box(0, 0), { u_m: 3.1, v_m: 1 }, { walls });
  assert.deepEqual([mm(right.u - gaps.endM), right.words], [mm(right.v + 2), ['flush']], 'its upper left corner, with the allowance, lies on the hip');
  const left = snapped(box(0, 0), { u_m: -0.02, v_m: 1 }, { walls });
  assert.deepEqual([mm(left.u + 1 + gaps.endM), left.words], [left.v, ['flush']], 'its lower right corner, with the allowance, lies on the hip');
});

test('places without a snap are round', () => {
  const got = snapBoxes({ moving: [box(0, 0)], by: { u_m: 1.23456, v_m: 0.98765 }, others: [], walls: [], gaps, toleranceM: 0.1 });
  assert.deepEqual([got.by.u_m, got.by.v_m].map((x) => Math.abs(x * 1000 - Math.round(x * 1000)) < 1e-9), [true, true]);
});

test('room ends at the zones, and at the outline only where no zone lies along it', () => {
  const p = plane('p', [[0, 0], [10, 0], [10, 4], [0, 4]], { pitch_deg: 0 });
  /** @type {any} */
  const zones = [
    { why: 'setback', ring: [[0, 0], [10, 0], [10, 0.3], [0, 0.3]] },
    { why: 'shade_last_resort', ring: [[2, 2], [3, 2], [3, 3]] },
  ];
  const level = wallsOf(frameOf(p), p, zones).filter((w) => w.a.v_m === w.b.v_m).map((w) => mm(w.a.v_m)).sort();
  assert.deepEqual(level, [0.3, 4]);
  assert.equal(wallsOf(frameOf(p), p, []).length, 4);
});

test('rail runs end at wider gaps, other levels and other turns', () => {
  const { rules } = gable();
  const boxes = [box(0, 0), box(2.04, 0), box(1.02, 0), box(4, 0), box(0, 2.02), box(5.02, 0, 2, 1)];
  assert.deepEqual(railRun(boxes, 0, rules), [0, 2, 1]);
  assert.deepEqual(railRuns(boxes, rules), [[0, 2, 1], [3], [5], [4]]);
  assert.deepEqual(inReadingOrder(boxes), [0, 2, 1, 3, 5, 4]);
});
