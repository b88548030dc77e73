import assert from 'node:assert/strict';
import { test } from 'node:test';
import { HISTORY_CAP, NOTHING, Store } from '../js/model/store.js';
import { setSite } from '../js/commands/index.js';
import { dice, frozen, gable } from './drawing.fakes.js';

/** @param {string} label */
const named = (label) => setSite({ patch: { label } });
const fresh = () => new Store(frozen(gable()), 1);

test('a command is one step; one that changes nothing is none', () => {
  const store = fresh();
  store.run('Name', named('x'));
  assert.equal(store.state.undoLabel, 'Name');
  store.run('Name', named('x'));
  assert.equal(store.undo(), 'Name');
  assert.equal(store.undo(), '');
  assert.equal(store.state.doc.site.label, 'Test');
});

test('a gesture is one step whatever it showed, and none when it is cancelled or ends where it began', () => {
  const store = fresh();
  const before = store.state.doc;
  store.begin('Drag');
  for (const l of ['a', 'b', 'c']) store.preview(named(l));
  store.keep();
  assert.equal(store.undo(), 'Drag');
  assert.equal(store.state.doc, before);
  store.redo();
  store.begin('Drag');
  store.preview(named('d'));
  store.cancel();
  assert.equal(store.state.doc.site.label, 'c');
  store.begin('Drag');
  store.preview((d) => d);
  store.keep();
  assert.equal(store.undo(), 'Drag');
  assert.equal(store.undo(), '');
  assert.throws(() => store.preview(named('x')), /outside a gesture/);
});

test('an interrupted gesture leaves nothing behind', () => {
  for (const interrupt of [(/** @type {Store} */ s) => s.undo(), (/** @type {Store} */ s) => s.run('Other', (d) => d), (/** @type {Store} */ s) => s.begin('Next')]) {
    const store = fresh();
    store.begin('Drag');
    store.preview(named('half'));
    interrupt(store);
    assert.equal(store.state.doc.site.label, 'Test');
  }
});

test('selecting and moving the view keep redo', () => {
  const store = fresh();
  store.run('Name', named('x'));
  store.undo();
  store.setUi({ selection: { items: [{ type: 'plane', id: 'south' }], corner: null, edge: null }, viewBearingDeg: 90 });
  store.setUi({ selection: NOTHING });
  store.setSave({ state: 'saving' });
  assert.equal(store.redo(), 'Name');
});

test('every step is told once', () => {
  const store = fresh();
  /** @type {string[]} */ const told = [];
  store.subscribe((now, was) => {
    if (now.lastStep && now.lastStep !== was.lastStep) told.push(`${now.lastStep.way} ${now.lastStep.label}`);
  });
  store.run('A', named('a'));
  store.begin('B');
  store.preview(named('b'));
  store.preview(named('c'));
  store.keep();
  store.undo();
  store.redo();
  store.begin('C');
  store.cancel();
  assert.deepEqual(told, ['done A', 'done B', 'undone B', 'redone B']);
});

test('the history is capped', () => {
  const store = fresh();
  for (let i = 0; i < HISTORY_CAP + 5; i++) store.run('n', named(String(i)));
  let n = 0;
  while (store.undo()) n++;
  assert.equal(n, HISTORY_CAP);
  assert.equal(store.state.doc.site.label, '4');
});

test('a late result never replaces the document, and keeps the last one when it has none', () => {
  const store = fresh();
  const first = store.state.doc;
  const result = /** @type {any} */ ({ planes: [] });
  store.setResult(first, result, []);
  store.run('Name', named('x'));
  assert.equal(store.state.resultOf, first);
  store.setResult(store.state.doc, null, [{ path: 'planes', message: 'no' }]);
  assert.equal(store.state.result, result);
  assert.equal(store.state.problems.length, 1);
});

test('random sequences against a plain model: two lists of labels', () => {
  for (let seed = 1; seed <= 60; seed++) {
    const roll = dice(seed);
    const store = fresh();
    let now = 'Test';
    /** @type {string[]} */ let past = [];
    /** @type {string[]} */ let future = [];
    /** @type {string|null} */ let mark = null;
    const drop = () => {
      if (mark !== null) [now, mark] = [mark, null];
    };
    for (let i = 0; i < 200; i++) {
      const label = String(roll(5));
      switch (roll(7)) {
        case 0:
          drop();
          if (label !== now) (past.push(now), (future = []), (now = label));
          store.run('n', named(label));
          break;
        case 1:
          drop();
          mark = now;
          store.begin('g');
          break;
        case 2:
          if (mark === null) break;
          now = label;
          store.preview(named(label));
          break;
        case 3:
          if (mark !== null && mark !== now) (past.push(mark), (future = []));
          mark = null;
          store.keep();
          break;
        case 4:
          drop();
          store.cancel();
          break;
        case 5:
          drop();
          if (past.length) (future.push(now), (now = /** @type {string} */ (past.pop())));
          store.undo();
          break;
        default:
          drop();
          if (future.length) (past.push(now), (now = /** @type {string} */ (future.pop())));
          store.redo();
      }
      assert.equal(store.state.doc.site.label, now, `seed ${seed}, step ${i}`);
      assert.equal(store.state.undoLabel !== '', past.length > 0);
      assert.equal(store.state.redoLabel !== '', future.length > 0);
      assert.equal(store.state.inGesture, mark !== null);
    }
  }
});
