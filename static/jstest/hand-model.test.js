import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Store } from '../js/model/store.js';
import { isSettled, modulesOn, refusedModules } from '../js/model/hand.js';
import { hitModule, modulesInBox } from '../js/model/hit.js';
import { filledWords, refusalWords, resetWords, turnMisfit, whoSet, whyWords } from '../js/model/hand-words.js';
import { livePicks, pickSelection } from '../js/model/selection.js';
import { frozen, keepOut } from './drawing.fakes.js';
import { flatRoof, judge, mm } from './hand.fakes.js';

/** @param {number} x_m @param {number} y_m @param {object} [more] @returns {any} */
const at = (x_m, y_m, more = {}) => ({ x_m, y_m, turn: 'portrait', locked: false, ...more });
/** @param {any[]} modules @param {object} [more] */
const byHand = (modules, more = {}) => [{ candidate_id: 'a', plane_id: 'south', fill: false, modules, ...more }];

/** @param {any} doc @param {any} [judged] the document of the last answer */
function storeOf(doc, judged = doc) {
  const store = new Store(frozen(doc), 1);
  store.setUi({ board: { widthPx: 1000, heightPx: 800 }, camera: { x_m: 5, y_m: 3, pxPerM: 50 } });
  if (judged) store.setResult(judged, judge(judged), []);
  return store;
}

test('what stands on a plane: the document’s own first, then what the program set', () => {
  const locked = at(5, 1, { locked: true });
  const { state } = storeOf(flatRoof({ hand: byHand([locked], { fill: true }) }));
  const list = modulesOn(state, 'south');
  assert.equal(list[0].module, locked);
  assert.deepEqual(list.map((m) => m.own), [true, false, false, false, false, false, false]);
  assert.deepEqual(modulesOn(state, 'gone'), []);
  assert.deepEqual(list[0].ring.map((p) => [mm(p.x_m), mm(p.y_m)]), [[5, 1], [6.1, 1], [6.1, 2.8], [5, 2.8]]);
});

test('until an answer is in, nothing flickers', () => {
  const plain = frozen(flatRoof());
  const shown = modulesOn(storeOf(plain).state, 'south').map((m) => m.module);
  const hand = frozen({ ...plain, hand: byHand([...shown, at(5, 1)]) });
  const filled = frozen({ ...plain, hand: byHand([at(5, 1, { locked: true })], { fill: true }) });
  /** @type {[string, any, any, number][]} document, last answered document, modules shown */
  const cases = [
    ['by hand, answered before that', hand, plain, 7],
    ['back to automatic', plain, hand, 7],
    ['filled, answered as by hand', filled, hand, 7],
    ['filled, answered as automatic', filled, plain, 7],
    ['never answered', plain, null, 0],
  ];
  for (const [name, doc, judged, want] of cases) {
    const { state } = storeOf(doc, judged);
    assert.equal(modulesOn(state, 'south').length, want, name);
    assert.equal(isSettled(state, 'south'), doc === hand, name);
  }
});

test('what was said of a module stays with it until there is something newer', () => {
  const stuck = at(9.8, 1);
  const good = at(1, 1);
  const before = frozen(flatRoof({ hand: byHand([good, stuck]) }));
  const after = frozen({ ...before, hand: byHand([at(2.5, 1), stuck]) });
  const { state } = storeOf(after, before);
  assert.deepEqual(modulesOn(state, 'south').map((m) => m.refused?.why ?? ''), ['', 'outside']);
  assert.deepEqual(refusedModules(state, 'south').map((m) => m.module), [stuck]);
  assert.deepEqual(refusedModules(storeOf(flatRoof()).state, 'south'), []);
});

test('a size that needs fewer leaves the others to spare', () => {
  const doc = frozen(flatRoof({ target: { mode: 'size', size_w: 800, max_blocks: 0, min_access_pct: 0, chosen: '' }, hand: byHand([at(1, 1), at(2.12, 1), at(3.24, 1)]) }));
  const result = judge(doc);
  const [part] = result.candidates[0].fill.by_plane;
  result.candidates[0].size = { layout: { ...result.candidates[0].fill, by_plane: [{ ...part, modules: part.modules.slice(0, 2) }] } };
  const store = storeOf(doc);
  store.setResult(doc, result, []);
  assert.deepEqual(modulesOn(store.state, 'south').map((m) => m.spare), [false, false, true]);
});

test('selected modules are found again by their place, and only on the shown module’s layout', () => {
  const store = storeOf(flatRoof());
  const list = modulesOn(store.state, 'south');
  store.setUi({ selection: pickSelection('south', [list[2].module, list[4].module, at(7, 7)]) });
  assert.deepEqual(livePicks(store.state)?.picked, [2, 4]);
  store.setUi({ selection: pickSelection('gone', []) });
  assert.equal(livePicks(store.state), null);
});

test('a finger reaches a module beside it, a mouse must be on it', () => {
  const { state } = storeOf(flatRoof());
  // 1 px is 2 cm; the left edge of the first module lies at x = 0.3, that is at 265 px.
  const beside = { x: 258, y: 490 };
  assert.equal(hitModule(state, beside, 'mouse'), null);
  assert.deepEqual(hitModule(state, beside, 'touch'), { planeId: 'south', index: 0 });
  assert.deepEqual(hitModule(state, { x: 270, y: 490 }, 'mouse'), { planeId: 'south', index: 0 });
  assert.deepEqual(modulesInBox(state, { x: 410, y: 600 }, { x: 200, y: 450 })?.indices.length, 3);
  assert.equal(modulesInBox(state, { x: 0, y: 0 }, { x: 5, y: 5 }), null);
});

test('reasons in words', () => {
  const doc = flatRoof({ keep_outs: [keepOut('k', { label: 'Old chimney' }), keepOut('n', { label: '', kind: 'pipe' })] });
  /** @type {[string, string, RegExp][]} */
  const cases = [
    ['outside', '', /beyond the edge/], ['setback', '', /setback/], ['path', '', /path/], ['keep_out', 'k', /on Old chimney or its clearance/],
    ['keep_out', 'n', /on the pipe/], ['keep_out', 'gone', /a keep-out/], ['shade_off_limits', 'k', /Old chimney, which is off limits/],
    ['end', '', /end/], ['overlap', '3', /another module/], ['limit', '', /limit/],
  ];
  for (const [why, other, want] of cases) assert.match(whyWords(doc, /** @type {any} */ ({ why, with: other })), want);
  const two = /** @type {any[]} */ ([{ why: 'setback', with: '' }, { why: 'outside', with: '' }]);
  assert.equal(refusalWords(doc, two.slice(0, 1), 1), 'Not allowed there: within a setback.');
  assert.equal(refusalWords(doc, two, 3), '2 of 3 modules not allowed there: within a setback; beyond the edge of the plane.');
  assert.equal(refusalWords(doc, two, 3, turnMisfit(3, true)), 'The turned row does not fit there: within a setback; beyond the edge of the plane.');
  assert.equal(turnMisfit(1, true), 'The turned module does not fit there');
  assert.equal(turnMisfit(4, false), 'The turned modules do not fit there');
});

test('what filling the rest and going back to automatic did, in words', () => {
  const locked = at(5, 1, { locked: true });
  /** @type {[any[], string, string][]} */
  const cases = [
    [[locked, at(1, 1), at(2, 1), at(3, 1)], '3 unlocked modules were set anew. Undo leads back.', 'The program sets the modules of this plane in place of 4 placed by hand (1 locked). Undo leads back.'],
    [[locked, at(1, 1)], '1 unlocked module was set anew. Undo leads back.', 'The program sets the modules of this plane in place of 2 placed by hand (1 locked). Undo leads back.'],
    [[locked], 'The rest was filled around 1 locked module. Undo leads back.', 'The program sets the modules of this plane in place of 1 placed by hand (1 locked). Undo leads back.'],
  ];
  for (const [modules, filled, reset] of cases) {
    const [layout] = byHand(modules);
    assert.deepEqual([filledWords(layout), resetWords(layout)], [filled, reset]);
  }
  assert.equal(resetWords(byHand([at(1, 1)])[0]), 'The program sets the modules of this plane in place of 1 placed by hand. Undo leads back.');
  assert.equal(resetWords(byHand([])[0]), 'The program sets the modules of this plane. Undo leads back.');
});

test('who set the modules, in words', () => {
  const locked = at(5, 1, { locked: true });
  /** @type {[any[], string][]} */
  const cases = [
    [[], 'Set by the program for module A.'],
    [byHand([at(1, 1)]), 'Set by hand for module A: 1 module.'],
    [byHand([at(1, 1), locked]), 'Set by hand for module A: 2 modules, 1 of them locked.'],
    [byHand([locked], { fill: true }), 'Filled by the program around 1 locked module, for module A.'],
  ];
  for (const [hand, want] of cases) assert.equal(whoSet(storeOf(flatRoof({ hand })).state, 'south'), want);
});
