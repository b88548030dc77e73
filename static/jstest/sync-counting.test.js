import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createCounting } from '../js/sync/counting.js';
import { docNamed, fakeClock, settle } from './sync.fakes.js';

/** @import {Begin, Heard, Question} from '../js/sync/counting.js' */
/** @import {Evaluation} from '../js/sync/evaluate.js' */

/**
 * A worker whose answers are given by hand, and a server that answers with a
 * problem named after it.
 * @param {{canStart?: boolean, address?: string}} [how]
 */
function byHand({ canStart = true, address = '/static/wasm/x.wasm' } = {}) {
  const clock = fakeClock();
  /** @type {(Begin|Question)[]} */ const posted = [];
  /** @type {string[]} */ const served = [];
  /** @type {(heard: Heard) => void} */ let hear = () => {};
  const seen = { ready: 0, ended: 0, serverUp: true };
  const count = createCounting({
    start(to) {
      if (!canStart) throw new Error('no workers here');
      hear = to;
      return { post: (message) => posted.push(message), end: () => (seen.ended += 1) };
    },
    address,
    doc: docNamed('first'),
    async server(doc) {
      if (!seen.serverUp) throw new Error('no line');
      served.push(doc.site.label);
      return refusal('server');
    },
    clock,
    onReady: () => (seen.ready += 1),
  });
  /** @type {Evaluation[]} */ const answers = [];
  const ask = (/** @type {string} */ label) => {
    count(docNamed(label)).then((answer) => answers.push(answer), () => answers.push(refusal('nobody')));
  };
  const questions = () => posted.slice(1).map((m) => JSON.parse(m.text).site.label);
  const who = () => answers.map((a) => (a.result ? 'browser' : a.problems[0].path));
  return { clock, posted, served, seen, ask, questions, who, answers, tell: (/** @type {Heard} */ heard) => hear(heard) };
}

/** @param {string} path @returns {Evaluation} */
const refusal = (path) => ({ result: null, problems: [{ path, message: 'wrong' }] });

const RESULT = '{"result":{"planes":[]}\n}';

test('the server counts until the worker is ready, and then the worker', async () => {
  const c = byHand();
  assert.deepEqual(c.posted, [{ address: '/static/wasm/x.wasm', text: JSON.stringify(docNamed('first')) }]);
  c.ask('1');
  await settle();
  assert.deepEqual(c.served, ['1']);
  c.tell({ ready: true });
  assert.equal(c.seen.ready, 1);
  c.ask('2');
  c.tell({ id: 1, answer: RESULT });
  await settle();
  assert.deepEqual([c.served, c.questions(), c.who()], [['1'], ['2'], ['server', 'browser']]);
  c.ask('3');
  c.tell({ id: 2, answer: JSON.stringify({ problems: refusal('planes').problems }) });
  await settle();
  assert.deepEqual(c.answers[2], refusal('planes'));
  await c.clock.pass(60000);
  assert.equal(c.seen.ended, 0, 'answered questions leave no timer behind');
});

for (const [name, how] of /** @type {const} */ ([['no worker can be started', { canStart: false }], ['the page names no program', { address: '' }]])) {
  test(`the server counts where ${name}`, async () => {
    const c = byHand(how);
    c.ask('1');
    await settle();
    assert.deepEqual([c.who(), c.posted, c.seen.ready], [['server'], [], 0]);
  });
}

test('the server counts when the worker fails to start', async () => {
  const c = byHand();
  c.tell({ failed: 'no such file' });
  c.tell({ ready: true });
  c.ask('1');
  await settle();
  assert.deepEqual([c.who(), c.seen.ended, c.seen.ready], [['server'], 1, 0]);
});

/** @type {[string, (c: ReturnType<typeof byHand>) => unknown][]} */
const DEATHS = [
  ['dies', (c) => c.tell({ failed: 'out of memory' })],
  ['says nothing for long', (c) => c.clock.pass(20000)],
  ['reports a fault', (c) => c.tell({ id: 1, answer: '{"fault":"nothing fits"}' })],
  ['answers nonsense', (c) => c.tell({ id: 1, answer: 'undefined' })],
];
for (const [name, die] of DEATHS) {
  test(`a worker that ${name} leaves its question and all later ones to the server`, async () => {
    const c = byHand();
    c.tell({ ready: true });
    c.ask('1');
    await die(c);
    await settle();
    c.ask('2');
    c.tell({ id: 1, answer: RESULT });
    await settle();
    assert.deepEqual([c.who(), c.served, c.seen.ended], [['server', 'server'], ['1', '2'], 1]);
  });
}

test('without worker and server there is no answer', async () => {
  const c = byHand();
  c.tell({ ready: true });
  c.seen.serverUp = false;
  c.ask('1');
  await settle();
  assert.deepEqual(c.who(), []);
  c.tell({ failed: 'dead' });
  await settle();
  assert.deepEqual(c.who(), ['nobody']);
});

test('an answer to an unknown question changes nothing', async () => {
  const c = byHand();
  c.tell({ ready: true });
  c.ask('1');
  c.tell({ id: 7, answer: RESULT });
  await settle();
  assert.deepEqual([c.who(), c.seen.ended], [[], 0]);
});
