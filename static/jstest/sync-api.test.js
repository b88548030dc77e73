import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createApi } from '../js/sync/api.js';
import { sameContent } from '../js/sync/same.js';
import { saveWords } from '../js/sync/savestate.js';
import { claimWriter } from '../js/sync/writer.js';
import { docNamed } from './sync.fakes.js';

/**
 * @param {number} status
 * @param {unknown} body a string is sent as it is
 */
function answering(status, body) {
  /** @type {{url: string, method: string|undefined, body: unknown}[]} */ const calls = [];
  const text = typeof body === 'string' ? body : JSON.stringify(body);
  const fetch = /** @type {typeof globalThis.fetch} */ (async (url, options) => {
    calls.push({ url: String(url), method: options?.method, body: options?.body });
    return new Response(text, { status });
  });
  return { api: createApi(fetch, 'a b'), calls };
}

test('a save sends the very text it was given', async () => {
  const { api, calls } = answering(200, { version: 4 });
  assert.deepEqual(await api.save(3, '{"schema":1.0}'), { kind: 'saved', version: 4 });
  assert.deepEqual(calls, [{ url: '/api/projects/a%20b', method: 'PUT', body: '{"version":3,"doc":{"schema":1.0}}' }]);
});

test('answers to a save', async () => {
  const stale = await answering(409, { version: 9, archived: false, doc: { schema: 1 } }).api.save(1, '{}');
  assert.deepEqual(stale, { kind: 'stale', theirs: { version: 9, doc: { schema: 1 }, savedAt: '' } });
  const refused = await answering(422, { problems: [{ path: 'site.label', message: 'is empty' }] }).api.save(1, '{}');
  assert.deepEqual(refused, { kind: 'refused', problems: [{ path: 'site.label', message: 'is empty' }] });
  assert.deepEqual(await answering(404, {}).api.save(1, '{}'), { kind: 'gone' });
  const odd = await answering(413, 'too big').api.save(1, '{}');
  assert.equal(odd.kind, 'refused');
});

test('what is no answer rejects, so that it is tried again', async () => {
  for (const [status, body] of /** @type {const} */ ([[500, {}], [503, 'busy'], [429, {}], [200, '<html>sign in</html>'], [200, {}], [409, {}]])) {
    await assert.rejects(answering(status, body).api.save(1, '{}'), `${status} ${JSON.stringify(body)}`);
  }
});

test('answers to an evaluation', async () => {
  assert.deepEqual(await answering(200, { planes: [] }).api.evaluate(docNamed('x'), 'drag', false), { result: { planes: [] }, problems: [] });
  const blocked = await answering(422, { problems: [{ path: '', message: 'no' }] }).api.evaluate(docNamed('x'), 'drag', false);
  assert.deepEqual(blocked, { result: null, problems: [{ path: '', message: 'no' }] });
  await assert.rejects(answering(500, { problems: [] }).api.evaluate(docNamed('x'), 'drag', false));
  const { api, calls } = answering(200, {});
  await api.evaluate(docNamed('x'), 'deep', false, new AbortController().signal);
  await api.evaluate(docNamed('x'), 'drag', true);
  assert.deepEqual(calls.map((call) => call.url), ['/api/evaluate?budget=deep', '/api/evaluate?budget=drag&light=1']);
});

test('documents that say the same, whatever the server leaves out', () => {
  const cases = /** @type {const} */ ([
    ['order', { a: 1, b: 2 }, { b: 2, a: 1 }, true],
    ['zero left out', { a: 1, turn_deg: 0 }, { a: 1 }, true],
    ['empty list left out', { points: [] }, {}, true],
    ['no limit is not a limit of zero', { module_limit: null }, { module_limit: 0 }, false],
    ['another number', { a: 1 }, { a: 1.0000001 }, false],
    ['longer list', { a: [1] }, { a: [1, 2] }, false],
    ['order in a list', { a: [1, 2] }, { a: [2, 1] }, false],
    ['list and object', { a: [1] }, { a: { 0: 1 } }, false],
    ['nested', { a: { b: [{ c: 1 }] } }, { a: { b: [{ c: 1, d: '' }] } }, true],
  ]);
  for (const [name, a, b, same] of cases) {
    assert.equal(sameContent(a, b), same, name);
    assert.equal(sameContent(b, a), same, `${name}, the other way`);
  }
});

test('each save state has words of its own', () => {
  const states = /** @type {const} */ (['saved', 'saving', 'offline', 'conflict', 'refused']);
  const words = states.map((state) => saveWords({ state, version: 1, message: '' }, false));
  assert.equal(new Set(words).size, states.length);
  assert.match(saveWords({ state: 'offline', version: 1, message: '' }, true), /leave this page open/);
});

test('a tab keeps its name over a reload, a copied tab gets another', async () => {
  const names = ['first', 'second', 'third'];
  const newName = () => names.shift() ?? '';
  const storage = tabStorage();
  const alone = await claimWriter({ locks: undefined, storage: () => storage, newName });
  assert.equal(alone.own, 'first');
  assert.equal((await claimWriter({ locks: undefined, storage: () => storage, newName })).own, 'first');
  const blocked = await claimWriter({ locks: undefined, storage: () => { throw new Error('forbidden'); }, newName });
  assert.equal(blocked.own, 'second');
  assert.equal(await alone.isOrphan('first'), true);
  assert.equal(await alone.isOrphan('second'), false);
  const held = await claimWriter({ locks: lockedOut(), storage: () => storage, newName });
  assert.equal(held.own, 'third');
  assert.equal(await held.isOrphan('first'), false);
});

/** @returns {Storage} */
function tabStorage() {
  const items = new Map();
  return /** @type {Storage} */ (/** @type {unknown} */ ({ getItem: (/** @type {string} */ k) => items.get(k) ?? null, setItem: (/** @type {string} */ k, /** @type {string} */ v) => items.set(k, v) }));
}

/** Locks as they are when another tab holds the name 'first'. @returns {LockManager} */
function lockedOut() {
  const request = async (/** @type {string} */ name, /** @type {LockOptions} */ options, /** @type {(lock: Lock|null) => unknown} */ run) => {
    const taken = name.endsWith('first');
    if (taken && options.ifAvailable) return run(null);
    if (taken) throw new DOMException('timed out', 'TimeoutError');
    return run(/** @type {Lock} */ ({ name, mode: 'exclusive' }));
  };
  return /** @type {LockManager} */ (/** @type {unknown} */ ({ request }));
}
