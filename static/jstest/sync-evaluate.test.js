import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createEvaluator } from '../js/sync/evaluate.js';
import { docNamed, fakeClock, settle } from './sync.fakes.js';

/** @import {Evaluation} from '../js/sync/evaluate.js' */

/** An evaluator whose questions are answered by hand. */
function byHand() {
  const clock = fakeClock();
  /** @type {{label: string, answer: (e: Evaluation) => void, fail: () => void}[]} */ const asked = [];
  /** @type {{label: string, problems: number}[]} */ const shown = [];
  const evaluator = createEvaluator({
    clock,
    send: (doc) => new Promise((resolve, reject) => asked.push({ label: doc.site.label, answer: resolve, fail: () => reject(new Error('no line')) })),
    onResult: (doc, { problems }) => shown.push({ label: doc.site.label, problems: problems.length }),
  });
  const ask = (/** @type {string} */ label) => evaluator.submit(docNamed(label));
  return { clock, asked, shown, ask, evaluator };
}

/** @type {Evaluation} */
const GOOD = { result: null, problems: [] };

test('one question at a time, and then the newest', async () => {
  const e = byHand();
  ['1', '2', '3', '4'].forEach(e.ask);
  assert.deepEqual(e.asked.map((a) => a.label), ['1']);
  e.asked[0].answer(GOOD);
  await settle();
  assert.deepEqual(e.asked.map((a) => a.label), ['1', '4']);
  assert.deepEqual(e.shown.map((s) => s.label), ['1'], 'the first answer is shown while the drag goes on');
  e.asked[1].answer({ result: null, problems: [{ path: '', message: 'wrong' }] });
  await settle();
  assert.deepEqual(e.shown.at(-1), { label: '4', problems: 1 });
  assert.equal(e.asked.length, 2);
});

test('without an answer it asks again, later and later, for the newest', async () => {
  const e = byHand();
  e.ask('1');
  e.asked[0].fail();
  await settle();
  e.ask('2');
  assert.equal(e.asked.length, 1, 'it waits');
  await e.clock.pass(500);
  assert.deepEqual(e.asked.map((a) => a.label), ['1', '2']);
  e.asked[1].fail();
  await e.clock.pass(999);
  assert.equal(e.asked.length, 2);
  await e.clock.pass(1);
  assert.deepEqual(e.asked.map((a) => a.label), ['1', '2', '2']);
});

test('the line being back ends the wait', async () => {
  const e = byHand();
  e.ask('1');
  e.asked[0].fail();
  await settle();
  e.evaluator.retryNow();
  assert.deepEqual(e.asked.map((a) => a.label), ['1', '1']);
  e.evaluator.retryNow();
  assert.equal(e.asked.length, 2);
});

test('stopped, it neither asks nor shows', async () => {
  const e = byHand();
  e.ask('1');
  e.evaluator.stop();
  e.asked[0].answer(GOOD);
  e.ask('2');
  await settle();
  assert.equal(e.asked.length, 1);
  assert.deepEqual(e.shown, []);
});
