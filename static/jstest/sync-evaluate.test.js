import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createEvaluator } from '../js/sync/evaluate.js';
import { docNamed, fakeClock, settle } from './sync.fakes.js';

/** @import {Evaluation} from '../js/sync/evaluate.js' */

/** An evaluator whose questions are answered by hand. */
function byHand() {
  const clock = fakeClock();
  /** @type {{label: string, answer: (e: Evaluation) => void, fail: () => void}[]} */ const asked = [];
  /** @type {{label: string, answer: (e: Evaluation) => void, fail: () => void, signal: AbortSignal}[]} */ const deep = [];
  /** @type {{label: string, problems: number}[]} */ const shown = [];
  /** @type {boolean[]} */ const looking = [];
  const evaluator = createEvaluator({
    clock,
    send: (doc) => new Promise((resolve, reject) => asked.push({ label: doc.site.label, answer: resolve, fail: () => reject(new Error('no line')) })),
    sendDeep: (doc, signal) => new Promise((resolve, reject) => deep.push({ label: doc.site.label, answer: resolve, fail: () => reject(new Error('no line')), signal })),
    onResult: (doc, { problems }) => shown.push({ label: doc.site.label, problems: problems.length }),
    onLooking: (is) => looking.push(is),
  });
  const ask = (/** @type {string} */ label) => evaluator.submit(docNamed(label));
  /** @returns {Promise<import('../js/model/types.js').Doc>} a drawing that rests, with its quick answer */
  const rested = async (/** @type {string} */ label) => {
    const doc = docNamed(label);
    evaluator.submit(doc);
    asked.at(-1)?.answer(FOUND);
    await settle();
    await clock.pass(350);
    return doc;
  };
  return { clock, asked, deep, shown, looking, ask, rested, evaluator };
}

/** @type {Evaluation} */
const GOOD = { result: null, problems: [] };

/** @type {Evaluation} */
const FOUND = { result: { planes: [], keep_outs: [], candidates: [], plan_area_m2: 0, rules: { id: 'none', title: '', notes: [] }, findings: [] }, problems: [] };

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

test('a drawing that rests is asked about once more, deeply', async () => {
  const e = byHand();
  e.ask('1');
  await e.clock.pass(1000);
  assert.equal(e.deep.length, 0, 'not before the quick answer');
  e.asked[0].answer(FOUND);
  await settle();
  await e.clock.pass(349);
  assert.deepEqual([e.deep.length, e.looking], [0, []]);
  await e.clock.pass(1);
  assert.deepEqual([e.deep.map((d) => d.label), e.looking], [['1'], [true]]);
  e.deep[0].answer(FOUND);
  await settle();
  assert.deepEqual([e.shown.map((s) => s.label), e.looking], [['1', '1'], [true, false]]);
  await e.clock.pass(100000);
  assert.deepEqual([e.asked.length, e.deep.length], [1, 1], 'nothing more is asked');
});

test('each change puts the deep question off', async () => {
  const e = byHand();
  for (const label of ['1', '2', '3']) {
    e.ask(label);
    e.asked.at(-1)?.answer(FOUND);
    await settle();
    await e.clock.pass(349);
  }
  assert.equal(e.deep.length, 0);
  await e.clock.pass(1);
  assert.deepEqual(e.deep.map((d) => d.label), ['3']);
});

test('a change gives the deep question up, and its answer is dropped', async () => {
  const e = byHand();
  await e.rested('1');
  e.ask('2');
  assert.equal(e.deep[0].signal.aborted, true);
  assert.deepEqual(e.asked.map((a) => a.label), ['1', '2'], 'the quick question does not wait');
  e.deep[0].answer(FOUND);
  await settle();
  assert.deepEqual([e.shown.map((s) => s.label), e.looking], [['1'], [true, false]]);
  e.asked[1].answer(FOUND);
  await settle();
  await e.clock.pass(350);
  assert.deepEqual(e.deep.map((d) => d.label), ['1', '2']);
});

test('in a gesture nothing is asked deeply until it ends', async () => {
  const e = byHand();
  const doc = await e.rested('1');
  e.evaluator.submit(doc, false);
  assert.equal(e.deep[0].signal.aborted, true);
  const pulled = docNamed('2');
  e.evaluator.submit(pulled, false);
  e.asked[1].answer(FOUND);
  await settle();
  await e.clock.pass(60000);
  assert.equal(e.deep.length, 1, 'held still is not at rest');
  e.evaluator.submit(pulled, true);
  await e.clock.pass(350);
  assert.deepEqual([e.asked.length, e.deep.map((d) => d.label)], [2, ['1', '2']]);
});

test('a drawing that cannot be counted is not asked about deeply', async () => {
  const e = byHand();
  e.ask('1');
  e.asked[0].answer({ result: null, problems: [{ path: '', message: 'wrong' }] });
  await e.clock.pass(60000);
  assert.equal(e.deep.length, 0);
});

for (const [name, end] of /** @type {[string, (e: ReturnType<typeof byHand>) => unknown][]} */ ([
  ['fails', (e) => e.deep[0].fail()],
  ['takes a minute', (e) => e.clock.pass(60000)],
])) {
  test(`a deep question that ${name} is not missed`, async () => {
    const e = byHand();
    await e.rested('1');
    await end(e);
    await settle();
    assert.deepEqual([e.shown.length, e.looking, e.deep[0].signal.aborted], [1, [true, false], true]);
    await e.clock.pass(60000);
    assert.equal(e.deep.length, 1);
  });
}

test('stopping ends the deep question', async () => {
  const e = byHand();
  await e.rested('1');
  e.evaluator.stop();
  e.deep[0].answer(FOUND);
  await settle();
  assert.deepEqual([e.deep[0].signal.aborted, e.shown.length], [true, 1]);
});

test('asked again, as with fresh light, the same drawing is counted anew, quick and deep', async () => {
  const e = byHand();
  e.evaluator.again();
  assert.equal(e.asked.length, 0, 'nothing was asked before');
  await e.rested('1');
  assert.deepEqual([e.asked.length, e.deep.length], [1, 1]);
  e.evaluator.again();
  assert.ok(e.deep[0].signal.aborted, 'the deep answer would be about the old light');
  assert.deepEqual(e.asked.map((a) => a.label), ['1', '1']);
  e.asked[1].answer(FOUND);
  await settle();
  await e.clock.pass(350);
  assert.equal(e.deep.length, 2);
});
