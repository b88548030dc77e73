import assert from 'node:assert/strict';
import { test } from 'node:test';
import { LabelRoom, boxAround, shortenings } from '../js/view/label-room.js';

test('a name is tried whole, then shorter, but never as a stump', () => {
  assert.deepEqual(shortenings('South'), ['South']);
  assert.deepEqual(shortenings('South wing, upper'), ['South wing, upper', 'South wing, u…', 'South win…']);
  assert.deepEqual(shortenings(''), []);
  const longest = shortenings('x'.repeat(60));
  assert.equal(longest.length, 14);
  assert.ok([...(longest.at(-1) ?? '')].length >= 8);
});

test('the note stays whole after a name that is cut', () => {
  assert.deepEqual(shortenings('South wing, upper', ' (not used)').slice(1), ['South wing, u… (not used)', 'South win… (not used)']);
  assert.deepEqual(shortenings('', ' (not used)'), ['(not used)']);
});

test('signs of two code units are not cut in half', () => {
  assert.equal(shortenings('𝒩orth 12345678')[1], '𝒩orth 1234…');
});

test('a place is given once', () => {
  const room = new LabelRoom();
  assert.ok(room.take(boxAround({ x: 50, y: 50 }, 40, 16)));
  assert.ok(!room.take(boxAround({ x: 60, y: 60 }, 40, 16)));
  assert.ok(room.take(boxAround({ x: 50, y: 66 }, 40, 16)), 'side by side');
});
