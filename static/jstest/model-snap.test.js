import assert from 'node:assert/strict';
import { test } from 'node:test';
import { snap, snapTargets } from '../js/model/snap.js';
import { gable, keepOut, points } from './drawing.fakes.js';

const [a, b] = points([[0, 0], [10, 0]]);

/** @param {[number, number]} xy @param {object} [more] */
function query([x_m, y_m], more = {}) {
  return { at: { x_m, y_m }, toleranceM: 0.2, targets: { points: [a, b], edges: [{ a, b }] }, from: null, into: null, levelDeg: [], stepM: 0, ...more };
}

/** @param {any} s @param {[number, number]} xy */
const lands = (s, [x, y]) => assert.ok(Math.abs(s.at.x_m - x) < 1e-9 && Math.abs(s.at.y_m - y) < 1e-9, `${s.at.x_m}, ${s.at.y_m} (${s.word})`);

test('a corner wins over its edges', () => {
  const s = snap(query([0.1, 0.1]));
  lands(s, [0, 0]);
  assert.deepEqual([s.kind, s.word, s.guides], ['point', 'corner', []]);
});

test('on an edge, and in line with it beyond its end', () => {
  lands(snap(query([4, 0.15])), [4, 0]);
  assert.equal(snap(query([4, 0.15])).word, 'on the edge');
  const beyond = snap(query([12, 0.1]));
  lands(beyond, [12, 0]);
  assert.equal(beyond.word, 'in line with an edge');
  assert.deepEqual(beyond.guides.map((g) => g.from), [b]);
});

test('nothing within reach leaves the pointer where it is', () => {
  const s = snap(query([4, 0.21]));
  lands(s, [4, 0.21]);
  assert.deepEqual([s.kind, s.word, s.guides], ['free', '', []]);
});

test('right angles and parallels to the edges of the drawing', () => {
  const from = { x_m: 3, y_m: 5 };
  const square = snap(query([3.1, 9], { from }));
  lands(square, [3, 9]);
  assert.equal(square.word, 'right angle');
  const level = snap(query([8, 5.1], { from }));
  lands(level, [8, 5]);
  assert.equal(level.word, 'parallel');
});

test('level counts where there is no edge to follow', () => {
  const from = { x_m: 3, y_m: 5 };
  const q = query([6, 8.1], { from, targets: { points: [], edges: [] }, levelDeg: [45, 135] });
  const s = snap(q);
  assert.equal(s.word, 'level');
  assert.ok(Math.abs(s.at.x_m - 3 - (s.at.y_m - 5)) < 1e-9);
});

test('two lines at once: the corner that closes a rectangle', () => {
  // Drawn so far: (0,0) (10,0) (10,4); the fourth corner is square to both.
  const from = { x_m: 10, y_m: 4 };
  const targets = { points: [a], edges: [{ a, b }, { a: b, b: from }] };
  const s = snap(query([0.15, 4.1], { from, into: { at: a, why: 'in line with the first corner' }, targets }));
  lands(s, [0, 4]);
  assert.equal(s.kind, 'crossing');
  assert.equal(s.guides.length, 2);
  assert.match(s.word, /first corner/);
});

test('of directions too close to tell apart, the one being drawn wins', () => {
  // An edge elsewhere that is one degree off square, and the edge just drawn.
  const off = { a: { x_m: 20, y_m: 20 }, b: { x_m: 30, y_m: 20 + 10 * Math.tan(Math.PI / 180) } };
  const from = { x_m: 10, y_m: 0 };
  const s = snap(query([10.05, 5], { from, targets: { points: [], edges: [off, { a, b: from }] } }));
  lands(s, [10, 5]);
});

test('a line gets a round length where that stays within reach', () => {
  const from = { x_m: 3, y_m: 5 };
  lands(snap(query([3.05, 9.13], { from, stepM: 0.1 })), [3, 9.1]);
  lands(snap(query([3.05, 9.44], { from, stepM: 1 })), [3, 9.44]);
  lands(snap(query([3.05, 9.14], { from, stepM: 1 })), [3, 9]);
});

test('the reach shrinks as one zooms in', () => {
  lands(snap(query([4, 0.15], { toleranceM: 0.01 })), [4, 0.15]);
});

test('what moves cannot be caught', () => {
  const doc = gable({ keep_outs: [keepOut('k', { center: { x_m: 5, y_m: 2 }, width_m: 1, depth_m: 1, turn_deg: 0 }), keepOut('c', { shape: 'circle', center: { x_m: 2, y_m: 2 }, radius_m: 1 })] });
  assert.equal(snapTargets(doc).points.length, 12);
  assert.equal(snapTargets(doc).edges.length, 12);
  assert.equal(snapTargets(doc, { items: new Set(['south', 'k']) }).points.length, 4);
  const t = snapTargets(doc, { corners: new Set(['south 2']) });
  assert.equal(t.points.length, 11);
  assert.equal(t.edges.length, 10);
});

test('flat edges and no candidates do no harm', () => {
  const t = { points: [], edges: [{ a, b: a }] };
  assert.equal(snap(query([1, 1], { targets: t, from: b })).kind, 'free');
  assert.equal(snap(query([1, 1], { targets: { points: [], edges: [] } })).kind, 'free');
});
