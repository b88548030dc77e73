import assert from 'node:assert/strict';
import { test } from 'node:test';
import { ACTIONS } from '../js/modes/actions.js';
import { refusedModules } from '../js/model/hand.js';
import { dice, keepOut, plane } from './drawing.fakes.js';
import { HandDriver, flatRoof, mm } from './hand.fakes.js';

// The stand-in sets 3 x 2 modules of 1.1 x 1.8 m from (0.3, 0.3) on, 20 mm
// apart: columns at 0.3, 1.42, 2.54 and rows at 0.3, 2.12 (arithmetic).
const FIRST = /** @type {[number, number]} */ ([0.85, 1.2]);
const SECOND = /** @type {[number, number]} */ ([1.97, 1.2]);
const THIRD = /** @type {[number, number]} */ ([3.09, 1.2]);

test('clicks reach modules only while they are worked on', () => {
  const d = new HandDriver().click(FIRST);
  assert.deepEqual([d.mode, d.ui.selection.items.length, d.picks.length], ['select', 1, 0]);
  d.key('m').click(FIRST);
  assert.deepEqual([d.mode, d.ui.selection.items.length, d.picks.length], ['modules', 0, 1]);
  assert.match(d.ui.status, /1 module of A selected/);
  d.click(FIRST);
  assert.equal(d.picks.length, 3, 'a second click takes the row');
  d.click(SECOND);
  assert.equal(d.picks.length, 1);
  d.click(THIRD, { shift: true }).click(FIRST, { shift: true }).click(SECOND, { shift: true });
  assert.deepEqual(d.picks.map((/** @type {any} */ p) => mm(p.x_m)).sort(), [0.3, 2.54]);
  d.key('Escape');
  assert.deepEqual([d.mode, d.picks.length], ['modules', 0]);
  d.key('Escape');
  assert.deepEqual([d.mode, d.ui.selection.items], ['select', [{ type: 'plane', id: 'south' }]]);
  assert.equal(d.steps(), 0);
});

test('a double click on a plane reaches its module, and a shape chosen elsewhere ends the work on modules', () => {
  const d = new HandDriver();
  d.press(FIRST).release(FIRST);
  d.timeMs -= 1800;
  d.press(FIRST).release(FIRST);
  assert.deepEqual([d.mode, d.picks.length], ['modules', 1]);
  d.store.setUi({ selection: { items: [{ type: 'plane', id: 'south' }], corner: null, edge: null } });
  assert.equal(d.mode, 'select');
});

test('a box takes the modules whose middle is in it; Shift adds', () => {
  const d = new HandDriver().key('m').drag([-1, 0], [2.2, 2]);
  assert.equal(d.picks.length, 2);
  d.drag([5, 5], [2.6, 2.5], { shift: true });
  assert.equal(d.picks.length, 3);
  d.key('b').drag([0, 0], [4, 5]);
  assert.deepEqual([d.picks.length, d.mode], [6, 'modules']);
  d.device = 'touch';
  const { camera } = d.ui;
  d.drag([6, 5], [7, 5]);
  assert.notDeepEqual(d.ui.camera, camera, 'a finger on the paper moves the view');
  assert.equal(d.steps(), 0);
});

test('taking away is one step, copies what was shown, and undo brings the program’s layout back', () => {
  const d = new HandDriver().key('m').click(SECOND).key('Delete');
  assert.deepEqual([d.count, d.layout.fill, d.list().length, d.picks.length], [5, false, 5, 0]);
  assert.equal(d.store.state.undoLabel, 'Remove module');
  d.key('Ctrl+z');
  assert.deepEqual([d.count, d.doc.hand.length, d.mode], [6, 0, 'modules']);
  d.key('Ctrl+y');
  assert.equal(d.count, 5);
});

test('a drag snaps to the gap and to the row, and reads its place', () => {
  const d = new HandDriver().key('m').click(FIRST).key('Delete');
  d.click(THIRD).press(THIRD).moveTo([4.2, 1.3]).moveTo([4.27, 1.25]);
  assert.equal(d.mode, 'modules-drag');
  assert.deepEqual(d.ui.overlay.ghosts.map((/** @type {any} */ g) => g.refused), [false]);
  assert.match(d.ui.overlay.tip?.lines.join() ?? '', /along the eave.*up the slope/);
  assert.match(d.ui.overlay.snapWord, /in line with the row/);
  d.release([4.27, 1.25]);
  const moved = d.list().at(-1);
  assert.equal(mm(moved.y_m), 0.3);
  assert.equal(d.store.state.undoLabel, 'Move module');
  d.click([2, 1.2]).click([2, 1.2]);
  assert.equal(d.picks.length, 1);
  d.press([1.97, 1.2]).moveTo([2.5, 1.2]).moveTo([3.1, 1.2]).release([3.1, 1.2]);
  assert.equal(mm(d.list().at(-1).x_m), mm(moved.x_m - 0.02 - 1.1));
  assert.equal(d.count, 5);
});

test('flush with the end of the room', () => {
  const d = new HandDriver(flatRoof({ planes: [{ ...flatRoof().planes[0], ring: [[0, 0], [10, 0], [10, 6], [0, 6]].map(([x_m, y_m]) => ({ x_m, y_m, edge: '', street: false })) }] }));
  const { result } = d.store.state;
  // The stand-in says of no zones; a setback along the right edge is given here.
  const zones = [{ why: 'setback', ring: /** @type {[number, number][]} */ ([[9.7, -1], [11, -1], [11, 7], [9.7, 7]]) }];
  d.store.setResult(d.doc, /** @type {any} */ ({ ...result, planes: [{ ...result?.planes[0], zones }] }), []);
  d.key('m').click(THIRD).press(THIRD).moveTo([6, 1.2]).moveTo([9.2, 1.25]);
  assert.match(d.ui.overlay.snapWord, /flush/);
  d.release([9.2, 1.25]);
  assert.equal(mm(d.list().at(-1).x_m), 8.6);
});

test('a refused place is shown while dragging, said on letting go, and put back', () => {
  const doc = flatRoof({ keep_outs: [keepOut('k', { label: 'Old chimney', center: { x_m: 6, y_m: 3 }, width_m: 0.6, depth_m: 0.6, turn_deg: 0 })] });
  /** @type {[[number, number], RegExp][]} */
  const cases = [
    [[6, 3], /on Old chimney or its clearance/],
    [[9.9, 1.2], /beyond the edge/],
    [[9.2, 1.2], /setback/],
    [[2.1, 1.5], /too close to another module/],
  ];
  for (const [to, why] of cases) {
    const d = new HandDriver(doc).key('m').click(THIRD);
    const before = d.doc;
    d.press(THIRD).moveTo([to[0] - 0.1, to[1]], { shift: true }).moveTo(to, { shift: true });
    assert.equal(d.ui.overlay.ghosts[0].refused, true, String(why));
    assert.match(d.ui.overlay.tip?.lines.at(-1) ?? '', why);
    d.release(to, { shift: true });
    assert.equal(d.doc, before);
    assert.match(d.ui.status, why);
    assert.match(d.ui.status, /put back/);
    assert.deepEqual([d.mode, d.steps(), d.ui.overlay.ghosts.length], ['modules', 0, 0]);
  }
});

test('while modules are dragged they stay selected, and a finger drags those it selected', () => {
  const d = new HandDriver().key('m');
  d.device = 'touch';
  d.click(THIRD).press(THIRD).moveTo([4, 1.2]).moveTo([6, 1.2]);
  assert.equal(d.mode, 'modules-drag');
  assert.deepEqual(d.picks.map((/** @type {any} */ p) => mm(p.x_m)), d.list().slice(-1).map((/** @type {any} */ m) => mm(m.x_m)));
  d.key('Escape').release([6, 1.2]);
  assert.deepEqual([d.picks.map((/** @type {any} */ p) => mm(p.x_m)), d.steps()], [[2.54], 0]);
  d.press(THIRD).moveTo([4, 1.2]).moveTo([6, 1.2]).release([6, 1.2]);
  assert.deepEqual([d.picks.length, d.steps()], [1, 1]);
});

test('nothing is kept before the answer about that very document is in', () => {
  const d = new HandDriver().key('m').click(THIRD);
  const before = d.doc;
  d.slow = true;
  d.press(THIRD).moveTo([5, 1.2]).moveTo([6, 1.2], { shift: true }).release([6, 1.2], { shift: true });
  assert.deepEqual([d.mode, d.store.state.inGesture], ['modules-drag', true]);
  assert.match(d.ui.status, /Checking/);
  d.answer();
  assert.deepEqual([d.mode, d.steps()], ['modules', 1]);
  d.answer();
  d.key('Ctrl+z');
  d.press(THIRD).moveTo([5, 1.2]).moveTo([6, 1.2], { shift: true }).release([6, 1.2], { shift: true }).key('Escape');
  assert.equal(d.doc, before);
  d.press(THIRD).release(THIRD);
  d.answer();
  d.press(THIRD).moveTo([5, 1.2]).moveTo([6, 1.2], { shift: true }).release([6, 1.2], { shift: true });
  d.store.setResult(d.doc, null, [{ path: 'planes[0]', message: 'is wrong' }]);
  assert.equal(d.doc, before);
  assert.match(d.ui.status, /could not be checked/);
  // An edit elsewhere takes the place of what is being checked.
  d.press(THIRD).moveTo([5, 1.2]).moveTo([6, 1.2], { shift: true }).release([6, 1.2], { shift: true });
  d.store.run('Use plane', (/** @type {any} */ doc) => ({ ...doc, keep_outs: [...doc.keep_outs] }));
  assert.deepEqual([d.mode, d.store.state.inGesture, d.doc.hand.length], ['modules', false, 0]);
});

test('arrow keys move along the eave and up the slope, and refuse as a drag does', () => {
  const d = new HandDriver().key('m').click(THIRD).key('ArrowRight', 'Shift+ArrowRight');
  assert.deepEqual([mm(d.list().at(-1).x_m), d.picks.length, d.steps()], [2.65, 1, 2]);
  d.store.setUi({ viewBearingDeg: 90 });
  d.key('Shift+ArrowUp');
  assert.equal(mm(d.list().at(-1).x_m), 2.75, 'right in plan is up on a turned screen');
  d.store.setUi({ viewBearingDeg: 0 });
  d.key('ArrowDown');
  assert.match(d.ui.status, /setback.*Nothing was changed/);
  assert.equal(d.steps(), 3);
});

test('turning one about its place, and a row as a row', () => {
  const d = new HandDriver().key('m').drag([-1, 2.2], [4, 4.2]).key('Delete');
  d.click(THIRD).key('r');
  const one = d.list().at(-1);
  // Landscape is 1.8 wide; about the middle it would overlap, so its left stays.
  assert.deepEqual([one.turn, mm(one.x_m), d.picks.length], ['landscape', 2.54, 1]);
  assert.equal(d.store.state.undoLabel, 'Turn module');
  d.key('Ctrl+z').click(FIRST).click(FIRST).key('Shift+R');
  assert.equal(d.store.state.undoLabel, 'Turn 3 modules');
  const xs = d.list().map((/** @type {any} */ m) => mm(m.x_m)).sort();
  // Three of 1.8 m with 20 mm between them.
  assert.deepEqual([mm(xs[1] - xs[0]), mm(xs[2] - xs[1])], [1.82, 1.82]);
  assert.deepEqual([d.count, d.steps()], [3, 2]);
});

test('a row that does not fit once it is turned says so, and T names the key that turns modules', () => {
  // 3.3 m wide: two portrait modules side by side, of which landscape needs 3.62 m between the setbacks.
  const narrow = flatRoof({ planes: [plane('south', [[0, 0], [3.3, 0], [3.3, 6], [0, 6]], { pitch_deg: 0 })] });
  const d = new HandDriver(narrow).key('m').click(FIRST).click(FIRST);
  assert.equal(d.picks.length, 2);
  d.key('r');
  assert.match(d.ui.status, /^The turned row does not fit there: beyond the edge of the plane; within a setback\. Nothing was changed\.$/);
  d.key('t');
  assert.equal(d.ui.status, 'R turns modules. T turns planes and shapes.');
  assert.equal(d.steps(), 0);
  d.key('Escape', 't');
  assert.equal(d.ui.status, 'Select something first.');
});

test('a refused place is not said to be flush or in line', () => {
  const d = new HandDriver().key('a').moveTo([4.25, 1.2]);
  assert.match(d.ui.overlay.snapWord, /in line with the row/);
  d.moveTo([9.6, 1.2]);
  assert.equal(d.ui.overlay.ghosts[0].refused, true);
  assert.ok(d.ui.overlay.guides.length > 0, 'it still lies on the line of the row');
  assert.equal(d.ui.overlay.snapWord, '');
});

test('adding: a ghost, a click places, a drag a row, and what is refused adds nothing', () => {
  const d = new HandDriver().key('a');
  assert.equal(d.mode, 'modules-add');
  d.moveTo([5, 1.25]);
  assert.deepEqual(d.ui.overlay.ghosts.map((/** @type {any} */ g) => g.refused), [false]);
  assert.equal(d.steps(), 0);
  d.key('a').moveTo([5, 1.25]).press([5, 1.25]).release([5, 1.25]);
  assert.deepEqual([d.count, d.list().length, d.store.state.undoLabel], [7, 7, 'Add module']);
  d.moveTo([0.9, 5.2]);
  assert.equal(d.ui.overlay.ghosts[0].refused, true);
  d.press([0.9, 5.2]).release([0.9, 5.2]);
  assert.match(d.ui.status, /setback.*Nothing was added/);
  assert.equal(d.count, 7);
  d.key('r').moveTo([1.3, 4.6]);
  d.press([1.3, 4.6]).moveTo([3, 4.6]).moveTo([5, 4.6]).release([5, 4.6]);
  assert.deepEqual([d.count, d.store.state.undoLabel], [10, 'Add 3 modules']);
  assert.deepEqual(d.list().slice(-3).map((/** @type {any} */ m) => m.turn), ['landscape', 'landscape', 'landscape']);
  d.key('Escape');
  assert.deepEqual([d.mode, d.picks.length], ['modules', 3]);
  assert.equal(d.steps(), 2);
});

test('a row that reaches too far is placed as far as it may', () => {
  const d = new HandDriver().key('a').moveTo([6, 1.2]).press([6, 1.2]).moveTo([8, 1.2]).moveTo([10.5, 1.2]).release([9.9, 1.2]);
  assert.match(d.ui.status, /\d of [45] modules placed\. /);
  assert.match(d.ui.status, /setback|edge/);
  assert.ok(d.count > 6);
  assert.equal(d.steps(), 1);
  // The same where answers take their time: each document waits for its own.
  const s = new HandDriver().key('a');
  s.slow = true;
  s.moveTo([6, 1.2]).press([6, 1.2]).moveTo([8, 1.2]).moveTo([10.5, 1.2]).release([9.9, 1.2]).answer();
  assert.match(s.ui.status, /Checking/);
  s.answer();
  assert.match(s.ui.status, /modules placed\. /);
  assert.deepEqual([s.count, s.steps()], [d.count, 1]);
});

test('without a pointer: stepping, rows, adding beside, all of them', () => {
  const d = new HandDriver().key('m', ']');
  assert.deepEqual([mm(d.picks[0].x_m), mm(d.picks[0].y_m)], [0.3, 0.3]);
  d.key(']', ']', ']');
  assert.deepEqual([mm(d.picks[0].x_m), mm(d.picks[0].y_m)], [0.3, 2.12]);
  d.key('[', 'w');
  assert.equal(d.picks.length, 3);
  d.key('[', '[', '[', 'a', 'ArrowRight');
  assert.equal(d.ui.overlay.ghosts.length, 1);
  for (let i = 0; i < 40; i++) d.key('ArrowRight');
  d.key('Enter');
  assert.deepEqual([d.count, d.steps()], [7, 1]);
  d.key('Escape', 'Ctrl+a');
  assert.equal(d.picks.length, 7);
});

test('locked ones stay, the rest is filled, and back to automatic', () => {
  const d = new HandDriver().key('m').click(SECOND);
  d.press(SECOND).moveTo([5, 1.2]).moveTo([6, 1.2], { shift: true }).release([6, 1.2], { shift: true });
  d.key('g');
  assert.match(d.ui.status, /Lock the modules/);
  d.key('k');
  assert.deepEqual([d.list().filter((/** @type {any} */ m) => m.locked).length, d.store.state.undoLabel], [1, 'Lock module']);
  d.key('g');
  assert.deepEqual([d.layout.fill, d.list().length, d.count], [true, 1, 7]);
  assert.equal(d.ui.status, '5 unlocked modules were set anew. Undo leads back.');
  // A locked one moved: the rest is filled around it again.
  d.key('ArrowLeft');
  assert.deepEqual([d.layout.fill, d.list().length], [true, 1]);
  // One of the program's touched: a copy by hand again, with the lock kept.
  d.click(FIRST).key('Delete');
  assert.deepEqual([d.layout.fill, d.list().length, d.list().filter((/** @type {any} */ m) => m.locked).length], [false, 6, 1]);
  d.key('Shift+G');
  assert.deepEqual([d.doc.hand.length, d.count, d.store.state.undoLabel], [0, 6, 'Back to automatic']);
  assert.equal(d.ui.status, 'The program sets the modules of this plane in place of 6 placed by hand (1 locked). Undo leads back.');
  while (d.store.undo());
  assert.equal(d.doc.hand.length, 0);
});

test('a chimney moved onto a locked module: listed, drawn as refused, unlocked or taken off', () => {
  const doc = flatRoof({ keep_outs: [keepOut('k', { label: 'Chimney', center: { x_m: 8, y_m: 4 }, width_m: 0.6, depth_m: 0.6, turn_deg: 0 })] });
  const d = new HandDriver(doc).key('m').click(FIRST).click(SECOND, { shift: true }).key('k', 'g');
  assert.equal(d.layout.fill, true);
  d.store.run('Move', (/** @type {any} */ x) => ({ ...x, keep_outs: [{ ...x.keep_outs[0], center: { x_m: 0.8, y_m: 1.2 } }] }));
  const listed = refusedModules(d.store.state, 'south');
  assert.deepEqual(listed.map((m) => [m.refused?.why, m.refused?.with, m.module.locked]), [['keep_out', 'k', true]]);
  d.click(FIRST);
  assert.equal(d.picks.length, 1, 'it is drawn in place and can be selected');
  d.key('Delete');
  assert.deepEqual([d.layout.fill, d.list().length, refusedModules(d.store.state, 'south').length], [true, 1, 0]);
});

test('hand edits hold for the module that is shown', () => {
  const d = new HandDriver().key('m').click(FIRST).key('Delete');
  assert.equal(d.layout.candidate_id, 'a');
  d.store.setUi({ shown: 'b' });
  assert.equal(d.picks.length, 0);
  assert.equal(d.list().length, 0);
  d.click(FIRST).key('Delete');
  assert.deepEqual(d.doc.hand.map((/** @type {any} */ l) => l.candidate_id), ['a', 'b']);
});

test('a plane that is not used says so instead of taking modules', () => {
  const doc = flatRoof();
  const d = new HandDriver({ ...doc, planes: [{ ...doc.planes[0], use: false }] }).key('a').click([5, 2]);
  assert.match(d.ui.status, /south is not used/);
  assert.equal(d.steps(), 0);
});

test('random hands: undo goes all the way back', () => {
  const doc = flatRoof({ keep_outs: [keepOut('k', { center: { x_m: 6, y_m: 3 }, width_m: 0.6, depth_m: 0.6, turn_deg: 0 })] });
  const keys = ['m', 'a', 'b', 'r', 'k', 'Shift+K', 'g', 'Shift+G', 'w', ']', 'Delete', 'Enter', 'Escape', 'ArrowRight', 'Shift+ArrowUp', 'Ctrl+z', 'Ctrl+y', 'Ctrl+a'];
  let edits = 0;
  for (let seed = 1; seed <= 40; seed++) {
    const roll = dice(seed * 131);
    const d = new HandDriver(doc).key('m');
    for (let i = 0; i < 100; i++) {
      const xy = /** @type {[number, number]} */ ([roll(110) / 10, roll(70) / 10]);
      d.device = roll(4) ? 'mouse' : 'touch';
      d.slow = roll(3) === 0;
      switch (roll(8)) {
        case 0: d.press(xy); break;
        case 1: case 2: d.moveTo(xy); break;
        case 3: d.release(xy); break;
        case 4: d.answer(); break;
        case 5: d.click(xy); break;
        case 6: d.key(keys[roll(keys.length)]); break;
        default: roll(6) ? d.key(keys[roll(keys.length)]) : d.run(ACTIONS[roll(ACTIONS.length)].id);
      }
      edits += Number(d.doc.hand !== doc.hand);
    }
    d.slow = false;
    d.lose([0, 0]).key('Escape', 'Escape', 'Escape');
    assert.equal(d.store.state.inGesture, false, `seed ${seed}`);
    while (d.store.undo());
    assert.equal(d.doc, doc, `seed ${seed}`);
  }
  assert.ok(edits > 500, `the hands did little: ${edits}`);
});
