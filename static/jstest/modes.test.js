import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Driver, emptyDoc, gable, keepOut, points } from './drawing.fakes.js';

/** @param {any} ui */
const chosen = (ui) => ui.selection.items.map((/** @type {any} */ i) => i.id);

test('drawing a plane: four clicks and the first corner again', () => {
  const d = new Driver(emptyDoc()).run('draw-plane');
  assert.equal(d.mode, 'draw-plane');
  assert.match(d.ui.status, /eave.*Escape/);
  d.click([0, 0]).click([6, 0.03]).moveTo([6.05, 3]);
  assert.deepEqual(d.ui.overlay.tip?.lines, ['3.00 m in plan', '3.46 m in the roof', '90.0° at the corner']);
  d.click([6.05, 4]).click([0.05, 4.05]);
  assert.match(d.ui.status, /first corner: close/);
  d.click([0.1, 0.1]);
  assert.equal(d.mode, 'select');
  assert.deepEqual(d.ring(0), [[0, 0], [6, 0], [6, 4], [0, 4]]);
  assert.equal(d.doc.planes[0].azimuth_deg, 180);
  assert.deepEqual(chosen(d.ui), ['plane-1']);
  assert.equal(d.steps(), 1);
  assert.deepEqual(d.ui.overlay.ring, []);
});

test('the eave is the first edge, whichever way round the outline runs', () => {
  const d = new Driver(emptyDoc()).run('draw-plane');
  d.click([6, 4]).click([0, 4]).click([0, 0]).click([6, 0]).key('Enter');
  assert.equal(d.doc.planes[0].azimuth_deg, 0);
  const e = new Driver(emptyDoc()).run('draw-plane');
  e.click([0, 0]).click([0, 4]).click([6, 4]).click([6, 0]).key('Enter');
  assert.equal(e.doc.planes[0].azimuth_deg, 270);
});

test('typed lengths, in plan and in the roof', () => {
  const d = new Driver(emptyDoc()).run('draw-plane');
  d.click([0, 0]).moveTo([3, 0.02]).key('6', '.', '2', '5');
  assert.equal(d.ui.overlay.tip?.field?.text, '6.25');
  d.key('Enter').moveTo([6.2, 2]).key('5', 'Tab');
  assert.equal(d.ui.overlay.tip?.field?.label, 'in the roof');
  d.key('Enter', 'Backspace').moveTo([6.2, 2]).key('5', 'Enter');
  d.moveTo([0.5, 4.35]).key('6', '2', '5', ' ', 'c', 'm', 'Enter', 'Enter');
  const ring = d.ring(0);
  assert.deepEqual(ring.slice(0, 2), [[0, 0], [6.25, 0]]);
  // 5 m in a roof of 30 degrees is 5 cos 30 in plan (arithmetic).
  assert.deepEqual(ring[2], [6.25, 4.3301]);
  assert.deepEqual(ring[3], [0, 4.3301]);
});

test('Tab beside a typed length never leaves the drawing, along the eave neither', () => {
  const d = new Driver(emptyDoc()).run('draw-plane');
  d.click([0, 0]).moveTo([3, 0.02]).key('6', 'Tab');
  assert.equal(d.ui.overlay.tip?.field?.label, 'in plan', 'the eave is level: both measures are one');
  d.key('Enter');
  assert.deepEqual(d.ui.overlay.ring[1], { x_m: 6, y_m: 0 });
});

test('after a tap the tip tells the line that was just drawn', () => {
  const d = new Driver(emptyDoc()).run('draw-plane').click([0, 0]);
  assert.equal(d.ui.overlay.tip, null, 'one corner has no length');
  d.click([6, 0.03]);
  assert.deepEqual(d.ui.overlay.tip?.lines.slice(0, 1), ['6.00 m in plan']);
});

test('over the first corner the tip says that a click closes the outline', () => {
  const d = new Driver(emptyDoc()).run('draw-plane').click([0, 0]).click([6, 0]).moveTo([0.05, 0.02]);
  assert.notEqual(d.ui.overlay.snapWord, 'closes the outline', 'two corners make no outline');
  d.click([6, 4]).moveTo([0.05, 0.02]);
  assert.equal(d.ui.overlay.snapWord, 'closes the outline');
});

test('feet and inches are typed where they are shown', () => {
  const doc = emptyDoc();
  const d = new Driver({ ...doc, site: { ...doc.site, units: 'imperial' } }).run('draw-plane');
  d.click([0, 0]).moveTo([3, 0]).key('1', '0', "'", ' ', '6', 'Enter');
  assert.deepEqual(d.ui.overlay.ring[1], { x_m: 3.2004, y_m: 0 });
});

test('what is no length says what is allowed and places nothing', () => {
  const d = new Driver(emptyDoc()).run('draw-plane').click([0, 0]).moveTo([3, 0]);
  d.key('3', 'f', 'm', 'Enter');
  assert.match(d.ui.status, /is not a length/);
  d.key('Escape');
  assert.equal(d.ui.overlay.tip?.field, null);
  assert.equal(d.mode, 'draw-plane');
});

test('Backspace and undo take back a corner, Escape stops, and nothing is left', () => {
  const d = new Driver(emptyDoc()).run('draw-plane');
  d.click([0, 0]).click([6, 0]).click([6, 4]);
  d.key('Backspace');
  assert.equal(d.ui.overlay.ring.length, 3);
  d.key('Ctrl+z').run('undo');
  assert.equal(d.ui.overlay.ring.length, 1);
  assert.equal(d.mode, 'draw-plane');
  d.key('Escape');
  assert.equal(d.mode, 'select');
  assert.deepEqual([d.doc.planes.length, d.steps(), d.ui.overlay.ring.length], [0, 0, 0]);
});

test('an outline that crosses itself or is too short is not closed, and the reason is said', () => {
  const d = new Driver(emptyDoc()).run('draw-plane');
  d.click([0, 0]).click([4, 0]).key('Enter');
  assert.match(d.ui.status, /three corners.* 1 to go/);
  d.click([1, 3]).click([3, -3]).key('Enter');
  assert.match(d.ui.status, /cross/);
  assert.equal(d.mode, 'draw-plane');
  assert.equal(d.doc.planes.length, 0);
});

test('a lost pointer keeps the corners placed so far', () => {
  const d = new Driver(emptyDoc()).run('draw-plane').click([0, 0]).click([4, 0]);
  d.press([4, 3]).lose([4, 3]);
  assert.equal(d.ui.overlay.ring.length, 2);
  d.click([4, 3]).key('Enter');
  assert.equal(d.doc.planes.length, 1);
});

test('a second plane takes after the first and snaps to its ridge', () => {
  const d = new Driver(gable({ planes: [gable().planes[0]] }));
  d.app.store.run('x', (/** @type {any} */ doc) => ({ ...doc, planes: [{ ...doc.planes[0], pitch_deg: 42, covering: 'slate' }] }));
  d.store.setUi({ camera: { x_m: 5, y_m: 4, pxPerM: 50 } });
  d.run('draw-plane').click([10, 8]).click([0.05, 8.05]).click([0.1, 3.95]).click([9.9, 4.1]).key('Enter');
  const p = d.doc.planes[1];
  assert.deepEqual(d.ring(1), [[10, 8], [0, 8], [0, 4], [10, 4]]);
  assert.deepEqual([p.pitch_deg, p.covering, p.azimuth_deg, p.label], [42, 'slate', 0, 'Plane 1']);
});

test('clicking selects, Shift adds, the paper clears', () => {
  const d = new Driver(gable());
  d.click([5, 2]);
  assert.deepEqual(chosen(d.ui), ['south']);
  d.click([5, 6], { shift: true });
  assert.deepEqual(chosen(d.ui), ['south', 'north']);
  d.click([5, 2], { shift: true });
  assert.deepEqual(chosen(d.ui), ['north']);
  d.click([-5, -5]);
  assert.deepEqual(chosen(d.ui), []);
  assert.equal(d.steps(), 0);
});

test('a press becomes a drag past 3 px of the mouse and 8 px of a finger', () => {
  for (const [device, still, moves] of /** @type {const} */ ([['mouse', 3, 3.5], ['touch', 8, 8.5]])) {
    const d = new Driver(gable()).click([5, 2]);
    d.device = device;
    d.press([5, 2]).moveTo([5 + still / 50, 2]);
    assert.equal(d.mode, 'pointing', device);
    d.moveTo([5 + moves / 50, 2]);
    assert.equal(d.mode, 'drag-items', device);
    d.key('Escape');
    assert.equal(d.steps(), 0);
  }
});

test('a corner drag is one step, takes the ridge of the other plane along, and snaps square', () => {
  const d = new Driver(gable()).click([5, 2]);
  d.press([10, 4]).moveTo([10.3, 4.4]).moveTo([10.6, 4.06]);
  assert.ok(d.store.state.inGesture);
  assert.equal(d.ui.overlay.guides.length > 0, true);
  d.release([10.6, 4.06]);
  assert.deepEqual(d.ring(0)[2], d.ring(1)[3]);
  assert.equal(d.ring(0)[2][1], 4);
  assert.equal(d.steps(), 1);
  assert.equal(d.ui.selection.corner, 2);
  d.key('Ctrl+z');
  assert.deepEqual(d.ring(0)[2], [10, 4]);
});

test('Alt moves a corner alone, Shift lets it go free', () => {
  const d = new Driver(gable()).click([5, 2]).drag([10, 4], [10.613, 4.037], { alt: true, shift: true });
  assert.deepEqual(d.ring(0)[2], [10.613, 4.037]);
  assert.deepEqual(d.ring(1)[3], [10, 4]);
});

test('Escape and a lost pointer put a drag back as if it had not begun', () => {
  for (const end of ['Escape', 'lost']) {
    const doc = gable();
    const d = new Driver(doc).click([5, 2]);
    d.press([10, 4]).moveTo([11, 5]);
    assert.notEqual(d.doc, doc);
    if (end === 'Escape') d.key('Escape');
    else d.lose([11, 5]);
    assert.equal(d.doc, doc);
    assert.equal(d.mode, 'select');
    assert.equal(d.store.state.inGesture, false);
    // What is left of the press does nothing.
    d.moveTo([12, 6]).release([12, 6]);
    assert.equal(d.doc, doc);
    assert.equal(d.steps(), 0);
  }
});

test('a corner dropped where the outline would cross is put back, and that is said', () => {
  const doc = gable();
  const d = new Driver(doc).click([5, 2]).drag([0, 0], [12, 2], { shift: true });
  assert.equal(d.doc, doc);
  assert.match(d.ui.status, /cross.*put back/);
  assert.equal(d.steps(), 0);
});

test('dragging shapes: the mouse takes what it presses, a finger only what was selected', () => {
  const d = new Driver(gable()).drag([5, 2], [5, -3], { shift: true });
  assert.deepEqual(d.ring(0)[0], [0, -5]);
  const t = new Driver(gable());
  t.device = 'touch';
  const { camera } = t.ui;
  t.drag([5, 2], [6, 2]);
  assert.equal(t.steps(), 0);
  assert.notDeepEqual(t.ui.camera, camera);
});

test('a moved plane clicks onto the corner of another', () => {
  const d = new Driver(gable()).drag([5, 2], [5, -3], { shift: true });
  d.drag([5, -3], [5.1, 1.9]);
  assert.deepEqual(d.ring(0), [[0, 0], [10, 0], [10, 4], [0, 4]]);
});

test('the middle of an edge grows a corner; an edge moves square to itself', () => {
  const d = new Driver(gable()).click([5, 2]).drag([5, 0], [5, -1], { shift: true });
  assert.deepEqual(d.ring(0), [[0, 0], [5, -1], [10, 0], [10, 4], [0, 4]]);
  assert.equal(d.store.state.undoLabel, 'Insert corner');
  const e = new Driver(gable()).click([5, 2]).drag([2, 0], [3, -1.02]);
  assert.deepEqual(e.ring(0), [[0, -1], [10, -1], [10, 4], [0, 4]]);
  assert.equal(e.store.state.undoLabel, 'Move edge');
});

test('a double press puts a corner into an edge', () => {
  const d = new Driver(gable()).click([5, 2]);
  d.press([2, 0]).release([2, 0]);
  d.timeMs -= 1800;
  d.press([2, 0]).release([2, 0]);
  assert.deepEqual(d.ring(0), [[0, 0], [2, 0], [10, 0], [10, 4], [0, 4]]);
  assert.equal(d.steps(), 1);
});

test('a rectangle by dragging and by two clicks, square to the plane below', () => {
  const d = new Driver(gable()).run('mark-rectangle').drag([4, 1], [5, 2], { shift: true });
  const k = d.doc.keep_outs[0];
  assert.deepEqual([k.kind, k.center, k.width_m, k.depth_m], ['chimney', { x_m: 4.5, y_m: 1.5 }, 1, 1]);
  assert.deepEqual(chosen(d.ui), [k.id]);
  d.run('mark-rectangle').click([7, 1], { shift: true }).click([7.5, 3], { shift: true });
  assert.equal(d.doc.keep_outs[1].depth_m, 2);
  assert.equal(d.steps(), 2);
  const turned = new Driver(gable({ planes: [{ ...gable().planes[0], azimuth_deg: 225 }] })).run('mark-rectangle').drag([4, 1], [5, 1.5], { shift: true });
  assert.equal(turned.doc.keep_outs[0].turn_deg, 45);
});

test('a circle from its centre; a slip of the hand makes nothing; Escape stops', () => {
  const d = new Driver(gable()).run('mark-circle').drag([4, 1], [4.5, 1], { shift: true });
  assert.deepEqual([d.doc.keep_outs[0].radius_m, d.doc.keep_outs[0].center], [0.5, { x_m: 4, y_m: 1 }]);
  d.run('mark-circle').press([6, 1], { shift: true }).release([6, 1], { shift: true }).click([6, 1.001], { shift: true });
  assert.equal(d.doc.keep_outs.length, 1);
  assert.match(d.ui.status, /too small/);
  d.key('Escape');
  assert.equal(d.mode, 'select');
});

test('obstructions and shade corner by corner', () => {
  const d = new Driver(gable());
  for (const [action, kind, shade] of /** @type {const} */ ([['mark-outline', 'other', ''], ['mark-shade', 'shade', 'last_resort']])) {
    d.run(action).click([4, 1]).click([6, 1]).click([6, 2]).key('Enter');
    const k = d.doc.keep_outs.at(-1);
    assert.deepEqual([k?.kind, k?.shade, k?.shape, k?.points], [kind, shade, 'polygon', points([[4, 1], [6, 1], [6, 2]])]);
  }
});

test('fixed forms are resized by their handles', () => {
  const k = keepOut('k', { center: { x_m: 5, y_m: 2 }, width_m: 1, depth_m: 1, turn_deg: 0 });
  const d = new Driver(gable({ keep_outs: [k] })).click([5, 2]).drag([5.5, 2.5], [6, 3], { shift: true });
  assert.deepEqual([d.doc.keep_outs[0].width_m, d.doc.keep_outs[0].center], [1.5, { x_m: 5.25, y_m: 2.25 }]);
  assert.equal(d.store.state.undoLabel, 'Resize keep-out');
});

test('picking the eave sets the way a plane faces', () => {
  const d = new Driver(gable()).run('pick-eave');
  assert.equal(d.mode, 'pick-eave');
  d.moveTo([9.9, 1]);
  assert.deepEqual(d.ui.overlay.edge, { id: 'south', index: 1 });
  d.click([9.9, 1]);
  assert.equal(d.doc.planes[0].azimuth_deg, 90);
  assert.equal(d.mode, 'select');
  assert.equal(d.steps(), 1);
});

test('level view turns the view until an eave lies at the foot, and north comes back up', () => {
  const d = new Driver(gable());
  d.run('level-view').click([9.95, 1]);
  assert.equal(d.ui.viewBearingDeg, 270);
  d.click([5, 6]).run('level-view');
  assert.equal(d.ui.viewBearingDeg, 180);
  d.run('north-up');
  assert.equal(d.ui.viewBearingDeg, 0);
  assert.equal(d.steps(), 0);
});

test('the paper moves by dragging it, by the middle button and with Space; a drawing goes on', () => {
  const d = new Driver(emptyDoc());
  d.press([0, 0]).moveTo([1, 0]).release([0, 0]);
  assert.equal(d.ui.camera.x_m, -1);
  d.run('draw-plane').click([0, 0]).press([2, 2], { button: 1 }).moveTo([3, 2], { button: 1 });
  assert.equal(d.mode, 'pan');
  d.release([4, 2], { button: 1 });
  assert.equal(d.mode, 'draw-plane');
  d.gestures.space(true);
  d.press([0, 0]).moveTo([1, 0]).release([1, 0]);
  d.gestures.space(false);
  assert.equal(d.mode, 'draw-plane');
  assert.equal(d.ui.overlay.ring.filter((p) => p.x_m === 0 && p.y_m === 0).length, 1);
  d.click([4, 0]).click([4, 3]).key('Enter');
  assert.equal(d.doc.planes.length, 1);
});

test('two fingers move and zoom the view and give up the press of the first', () => {
  const d = new Driver(gable()).click([5, 2]);
  d.device = 'touch';
  d.press([5, 2], { id: 1 }).moveTo([5.5, 2], { id: 1 });
  assert.equal(d.mode, 'drag-items');
  d.press([7, 2], { id: 2 });
  assert.equal(d.mode, 'pinch');
  const before = d.ui.camera.pxPerM;
  d.moveTo([8.5, 2], { id: 2 });
  // From 1.5 m apart to 3 m: twice as near.
  assert.ok(Math.abs(d.ui.camera.pxPerM - before * 2) < 1e-9);
  d.release([5.5, 2], { id: 1 });
  assert.equal(d.mode, 'pinch');
  d.release([8.5, 2], { id: 2 });
  assert.equal(d.mode, 'select');
  assert.equal(d.steps(), 0);
});

test('a second mouse or pen pointer is ignored while one is pressed', () => {
  const d = new Driver(gable()).click([5, 2]).press([10, 4], { id: 1 }).moveTo([11, 5], { id: 1 });
  const half = d.doc;
  d.moveTo([0, 0], { id: 2 }).press([0, 0], { id: 2 }).release([0, 0], { id: 2 });
  assert.equal(d.doc, half);
  assert.ok(d.store.state.inGesture);
});

test('without a pointer: shapes, corners and edges in turn, nudged, split and deleted', () => {
  const d = new Driver(gable()).key(']', '.');
  assert.deepEqual([chosen(d.ui), d.ui.selection.corner], [['south'], 0]);
  d.key('ArrowLeft', 'Shift+ArrowDown');
  assert.deepEqual(d.ring(0)[0], [-0.01, -0.1]);
  d.key('.', 'i');
  assert.equal(d.ring(0).length, 5);
  assert.equal(d.ui.selection.corner, 1);
  d.key('Delete');
  assert.equal(d.ring(0).length, 4);
  d.key('Escape', 'Escape');
  assert.deepEqual(chosen(d.ui), []);
  d.key('[', ',');
  assert.deepEqual([chosen(d.ui), d.ui.selection.edge], [['north'], 3]);
  d.key('Escape', 'Ctrl+d');
  assert.deepEqual(chosen(d.ui), ['plane-1']);
  d.key('Delete');
  assert.equal(d.doc.planes.length, 2);
});

test('arrow keys follow the turned view, and move the paper when nothing is selected', () => {
  const d = new Driver(gable()).key(']');
  d.store.setUi({ viewBearingDeg: 90 });
  d.key('ArrowUp');
  assert.deepEqual(d.ring(0)[0], [0.01, 0]);
  d.key('Escape');
  const { x_m } = d.ui.camera;
  d.key('ArrowUp');
  assert.ok(d.ui.camera.x_m > x_m);
  assert.equal(d.steps(), 1);
});

test('a plane and an obstruction by numbers', async () => {
  const d = new Driver(emptyDoc());
  d.answers.push({ width: '8 m', depth: '500 cm', pitch: '12:12', azimuth: 'E' });
  d.run('plane-by-numbers');
  await new Promise((r) => setImmediate(r));
  const p = d.doc.planes[0];
  assert.equal(p.azimuth_deg, 90);
  // 5 m up a slope of 45 degrees is 5 cos 45 = 3.5355 in plan (arithmetic).
  const ring = d.ring(0);
  assert.deepEqual(ring[0], [1.7678, -4]);
  assert.deepEqual(ring[2], [-1.7678, 4]);
  d.answers.push({ kind: 'pipe', shape: 'circle', width: '0.2', depth: '1', along: '1', up: '2.5' });
  d.run('obstruction-by-numbers');
  await new Promise((r) => setImmediate(r));
  const k = d.doc.keep_outs[0];
  assert.deepEqual([k.kind, k.radius_m, k.center], ['pipe', 0.1, { x_m: 0, y_m: -3 }]);
  assert.equal(d.steps(), 2);
});

test('turning by a typed bearing, the selection or the whole roof', async () => {
  const d = new Driver(gable()).key(']');
  d.answers.push({ turn: '90' });
  d.run('turn-selection');
  await new Promise((r) => setImmediate(r));
  assert.deepEqual(d.doc.planes.map((p) => p.azimuth_deg), [270, 0]);
  d.answers.push({ turn: '-90' });
  d.run('turn-roof');
  await new Promise((r) => setImmediate(r));
  assert.deepEqual(d.doc.planes.map((p) => p.azimuth_deg), [180, 270]);
  assert.equal(d.steps(), 2);
});

test('random pointers, keys and actions: undo goes all the way back', async () => {
  const { dice } = await import('./drawing.fakes.js');
  const { ACTIONS } = await import('../js/modes/actions.js');
  for (let seed = 1; seed <= 40; seed++) {
    const roll = dice(seed * 97);
    const doc = gable();
    const d = new Driver(doc);
    const keys = ['Enter', 'Escape', 'Backspace', 'Tab', '3', '.', ']', 'Delete', 'i', 'e', 'l', 'Ctrl+z', 'Ctrl+y', 'Shift+ArrowUp'];
    for (let i = 0; i < 120; i++) {
      const xy = /** @type {[number, number]} */ ([roll(140) / 10 - 2, roll(110) / 10 - 2]);
      const id = 1 + roll(2);
      d.device = roll(3) ? 'mouse' : 'touch';
      switch (roll(7)) {
        case 0: d.press(xy, { id, button: roll(8) ? 0 : 1 }); break;
        case 1: case 2: d.moveTo(xy, { id }); break;
        case 3: d.release(xy, { id }); break;
        case 4: roll(4) ? d.release(xy, { id }) : d.lose(xy, { id }); break;
        case 5: d.key(keys[roll(keys.length)]); break;
        default: d.run(ACTIONS[roll(ACTIONS.length)].id);
      }
    }
    d.lose([0, 0], { id: 1 }).lose([0, 0], { id: 2 }).key('Escape', 'Escape', 'Escape');
    assert.equal(d.store.state.inGesture, false, `seed ${seed}`);
    while (d.store.undo());
    assert.equal(d.doc, doc, `seed ${seed}`);
  }
});
