import assert from 'node:assert/strict';
import { test } from 'node:test';
import { ACTIONS, actionForKey, keyName } from '../js/modes/actions.js';
import { Driver, emptyDoc } from './drawing.fakes.js';

test('no two actions share a key, an ID or a label', () => {
  for (const [what, all] of /** @type {const} */ ([['key', ACTIONS.flatMap((a) => a.keys)], ['ID', ACTIONS.map((a) => a.id)], ['label', ACTIONS.map((a) => a.label)]])) {
    const twice = all.filter((x, i) => all.indexOf(x) !== i);
    assert.deepEqual(twice, [], `${what} used twice`);
  }
});

test('every action has a key, and its key finds it', () => {
  for (const a of ACTIONS) {
    assert.ok(a.keys.length > 0, a.id);
    for (const k of a.keys) assert.equal(actionForKey(k), a);
  }
});

test('keys as they are named', () => {
  const cases = /** @type {const} */ ([
    [{ key: 'd', shift: false, ctrl: false }, 'D'],
    [{ key: 'D', shift: true, ctrl: false }, 'Shift+D'],
    [{ key: '?', shift: true, ctrl: false }, '?'],
    [{ key: '+', shift: true, ctrl: false }, '+'],
    [{ key: 'z', shift: false, ctrl: true }, 'Ctrl+Z'],
    [{ key: 'Z', shift: true, ctrl: true }, 'Ctrl+Shift+Z'],
    [{ key: 'ArrowUp', shift: true, ctrl: false }, 'Shift+ArrowUp'],
  ]);
  for (const [e, name] of cases) assert.equal(keyName(e), name);
});

test('an action that cannot run says why and changes nothing', () => {
  const doc = emptyDoc();
  const d = new Driver(doc);
  for (const a of ACTIONS) {
    const why = a.available(d.store.state);
    if (!why) continue;
    assert.match(why, /^[A-Z].*\.$/, a.id);
    d.run(a.id);
    assert.equal(d.ui.status, why);
    assert.equal(d.doc, doc);
  }
});
