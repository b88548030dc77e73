import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createCounting } from '../js/sync/counting.js';
import { docNamed, fakeClock, settle } from './sync.fakes.js';

/** @import {Begin, Heard, Question} from '../js/sync/counting.js' */
/** @import {Evaluation} from '../js/sync/evaluate.js' */

/**
 * Workers whose answers are given by hand, and a server that answers with a
 * problem named after it.
 * @param {{canStart?: boolean, evaluator?: string}} [how]
 */
function byHand({ canStart = true, evaluator = '/x.wasm' } = {}) {
  const clock = fakeClock();
  /** @type {{posted: (Begin|Question)[], hear: (heard: Heard) => void, ended: boolean}[]} */ const workers = [];
  /** @type {string[]} */ const served = [];
  const seen = { ready: 0, canStart, serverUp: true, light: '' };
  const counting = createCounting({
    start(hear, address) {
      assert.equal(address, '/worker.js');
      if (!seen.canStart) throw new Error('no workers here');
      const worker = { posted: /** @type {(Begin|Question)[]} */ ([]), hear, ended: false };
      workers.push(worker);
      return { post: (message) => worker.posted.push(message), end: () => (worker.ended = true) };
    },
    addresses: { worker: '/worker.js', loader: '/loader.js', evaluator },
    doc: docNamed('first'),
    light: () => seen.light,
    async server(doc, budget, lit) {
      if (!seen.serverUp) throw new Error('no line');
      served.push([doc.site.label, budget === 'deep' && 'deep', lit && 'lit'].filter(Boolean).join(' '));
      return refusal('server');
    },
    clock,
    onReady: () => (seen.ready += 1),
  });
  /** @type {Evaluation[]} */ const answers = [];
  /** @param {Promise<Evaluation>} asked */
  const note = (asked) => {
    asked.then((answer) => answers.push(answer), () => answers.push(refusal('nobody')));
  };
  const ask = (/** @type {string} */ label) => note(counting.drag(docNamed(label)));
  const deep = (/** @type {string} */ label) => {
    const control = new AbortController();
    note(counting.deep(docNamed(label), control.signal));
    return control;
  };
  const questions = (worker = 0) => workers[worker].posted.slice(1).map((m) => JSON.parse(m.text).site.label);
  const who = () => answers.map((a) => (a.result ? 'browser' : a.problems[0].path));
  const ended = () => workers.map((w) => w.ended);
  return { clock, workers, served, seen, ask, deep, questions, who, ended, answers, tell: (/** @type {Heard} */ heard, worker = 0) => workers[worker].hear(heard) };
}

/** @param {string} path @returns {Evaluation} */
const refusal = (path) => ({ result: null, problems: [{ path, message: 'wrong' }] });

/** @type {Heard} */
const READY = { ready: new WebAssembly.Module(Uint8Array.of(0, 97, 115, 109, 1, 0, 0, 0)) };

const RESULT = '{"result":{"planes":[]}\n}';

test('the server counts until the worker is ready, and then the worker', async () => {
  const c = byHand();
  assert.deepEqual(c.workers[0].posted, [{ loader: '/loader.js', program: '/x.wasm', text: JSON.stringify(docNamed('first')) }]);
  c.ask('1');
  await settle();
  assert.deepEqual(c.served, ['1']);
  c.tell(READY);
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
  assert.deepEqual(c.ended(), [false], 'answered questions leave no timer behind');
});

for (const [name, how] of /** @type {const} */ ([['no worker can be started', { canStart: false }], ['the page names no program', { evaluator: '' }]])) {
  test(`the server counts where ${name}`, async () => {
    const c = byHand(how);
    c.ask('1');
    await settle();
    assert.deepEqual([c.who(), c.workers, c.seen.ready], [['server'], [], 0]);
  });
}

test('the server counts when the worker fails to start', async () => {
  const c = byHand();
  c.tell({ failed: 'no such file' });
  c.tell(READY);
  c.ask('1');
  await settle();
  assert.deepEqual([c.who(), c.ended(), c.seen.ready], [['server'], [true], 0]);
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
    c.tell(READY);
    c.ask('1');
    await die(c);
    await settle();
    c.ask('2');
    c.tell({ id: 1, answer: RESULT });
    await settle();
    assert.deepEqual([c.who(), c.served, c.ended()], [['server', 'server'], ['1', '2'], [true]]);
  });
}

test('without worker and server there is no answer', async () => {
  const c = byHand();
  c.tell(READY);
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
  c.tell(READY);
  c.ask('1');
  c.tell({ id: 7, answer: RESULT });
  await settle();
  assert.deepEqual([c.who(), c.ended()], [[], [false]]);
});

test('a deep question has a worker of its own, which is kept for the next', async () => {
  const c = byHand();
  c.tell(READY);
  assert.equal(c.workers.length, 1, 'none before it is needed');
  c.deep('1');
  await settle();
  assert.deepEqual(c.workers[1].posted, [
    { loader: '/loader.js', program: /** @type {{ready: WebAssembly.Module}} */ (READY).ready, text: '' },
    { id: 1, text: JSON.stringify(docNamed('1')), budget: 'deep', light: '' },
  ]);
  c.ask('2');
  assert.deepEqual(c.questions(0), ['2'], 'a quick one does not wait for it');
  c.tell(READY, 1);
  c.tell({ id: 1, answer: RESULT }, 1);
  await settle();
  c.deep('3');
  await settle();
  assert.deepEqual([c.questions(1), c.who(), c.seen.ready, c.ended()], [['1', '3'], ['browser'], 1, [false, false]]);
});

test('a deep question that is given up ends its worker; the next begins anew', async () => {
  const c = byHand();
  c.tell(READY);
  const first = c.deep('1');
  await settle();
  first.abort();
  await settle();
  assert.deepEqual([c.who(), c.served, c.ended()], [['nobody'], [], [false, true]]);
  c.deep('2');
  await settle();
  c.tell({ id: 1, answer: RESULT }, 1);
  await settle();
  assert.deepEqual(c.who(), ['nobody'], 'the ended worker is not listened to');
  c.tell({ id: 2, answer: RESULT }, 2);
  await settle();
  assert.deepEqual([c.questions(2), c.who()], [['2'], ['nobody', 'browser']]);
});

test('given up after its answer, a deep question leaves the worker alone', async () => {
  const c = byHand();
  c.tell(READY);
  const first = c.deep('1');
  await settle();
  c.tell({ id: 1, answer: RESULT }, 1);
  await settle();
  first.abort();
  assert.deepEqual(c.ended(), [false, false]);
});

test('a deep question waits until it is known who counts', async () => {
  const c = byHand();
  c.deep('1');
  const second = c.deep('2');
  second.abort();
  await settle();
  assert.deepEqual([c.served, c.workers.length], [[], 1]);
  c.tell({ failed: 'no such file' });
  await settle();
  assert.deepEqual([c.served, c.who()], [['1 deep'], ['nobody', 'server']]);
});

/** @type {[string, (c: ReturnType<typeof byHand>) => unknown][]} */
const DEEP_DEATHS = [
  ['dies', (c) => c.tell({ failed: 'out of memory' }, 1)],
  ['reports a fault', (c) => c.tell({ id: 1, answer: '{"fault":"nothing fits"}' }, 1)],
];
for (const [name, die] of DEEP_DEATHS) {
  test(`where the deep worker ${name}, the server answers it and the browser goes on counting`, async () => {
    const c = byHand();
    c.tell(READY);
    c.deep('1');
    await settle();
    die(c);
    await settle();
    assert.deepEqual([c.served, c.who(), c.ended()], [['1 deep'], ['server'], [false, true]]);
    c.ask('2');
    assert.deepEqual(c.questions(0), ['2']);
  });
}

test('where no second worker can be started, the server answers', async () => {
  const c = byHand();
  c.tell(READY);
  c.seen.canStart = false;
  c.deep('1');
  await settle();
  assert.deepEqual([c.served, c.who()], [['1 deep'], ['server']]);
});

test('the end of the first worker is the end of both', async () => {
  const c = byHand();
  c.tell(READY);
  c.deep('1');
  await settle();
  c.tell({ failed: 'dead' });
  await settle();
  assert.deepEqual([c.served, c.ended()], [['1 deep'], [true, true]]);
});

test('both workers and the server count with the newest light', async () => {
  const c = byHand();
  c.ask('1');
  c.seen.light = '{"key":"a"}';
  c.ask('2');
  assert.deepEqual(c.served, ['1', '2 lit']);
  c.tell(READY);
  c.ask('3');
  c.deep('3');
  await settle();
  c.seen.light = '{"key":"b"}';
  c.ask('4');
  const lights = c.workers.map((w) => w.posted.flatMap((m) => ('light' in m ? [m.light] : [])));
  assert.deepEqual(lights, [['{"key":"a"}', '{"key":"b"}'], ['{"key":"a"}']]);
  c.tell({ failed: 'dead' });
  await settle();
  assert.deepEqual(c.served.slice(2).sort(), ['3 deep lit', '3 lit', '4 lit']);
});
