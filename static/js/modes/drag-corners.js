// A corner, a new corner out of the middle of an edge, or a whole edge follows
// the pointer. Corners of other planes on the same spot go along; Alt leaves
// them.

import { insertCorner, moveCorner, moveCorners } from '../commands/index.js';
import { alongBearing, cornerAt, dot, minus, nearestOnSegment, outwardBearingDeg, plus, roundPoint } from '../model/geometry.js';
import { nameOf, outlineOf } from '../model/selection.js';
import { snapTargets } from '../model/snap.js';
import { select } from './select.js';
import { draw, keepSound, planAt, snapAt, snapMarks, snapReachM, stepM } from './shared.js';

/** @import {App, Mode, PointerInput} from './machine.js' */
/** @import {Doc, Item, Point, Selection} from '../model/types.js' */
/** @import {Snap, Targets} from '../model/snap.js' */

/** @typedef {{kind: 'corner'|'middle'|'edge', item: Item, index: number}} Part index of the corner, or of the corner the edge leaves */
/** @typedef {{label: string, word: string, selection: Selection, edit: (e: PointerInput) => {command: (doc: Doc) => Doc, caught: Snap}}} Drag */

/** @param {App} app @param {Part} part @param {PointerInput} start the press @returns {Mode} */
export function dragCorners(app, part, start) {
  const before = app.store.state.doc;
  const drag = part.kind === 'edge' ? edgeDrag(app, part, start) : cornerDrag(app, part);
  const name = nameOf(before, part.item);
  return {
    name: 'drag-corners',
    enter() {
      app.store.begin(drag.label);
      const status = `Moving ${drag.word} of ${name}. Let go to place. Shift: no snapping. Alt: leave planes that meet here. Escape: put back.`;
      app.store.setUi({ mode: 'drag-corners', status, cursor: 'grabbing', selection: part.kind === 'middle' ? app.store.state.ui.selection : drag.selection });
    },
    exit() {
      app.store.cancel();
      draw(app, {});
    },
    down() {},
    move(e) {
      // Something else took the gesture's place, such as an edit in a panel.
      if (!app.store.state.inGesture) return app.modes.go(select(app));
      const { command, caught } = drag.edit(e);
      app.store.preview(command);
      draw(app, snapMarks(caught));
    },
    up() {
      const fault = keepSound(app, before);
      if (!fault) app.store.setUi({ selection: drag.selection });
      app.modes.go(select(app, fault));
    },
    cancel: () => app.modes.go(select(app)),
    key(e) {
      if (e.key === 'Escape') app.modes.go(select(app));
      return true;
    },
  };
}

/** @param {App} app @param {Part} part @returns {Drag} */
function cornerDrag(app, { kind, item, index }) {
  const { doc } = app.store.state;
  const ring = outlineOf(doc, item);
  const fresh = kind === 'middle';
  const at = fresh ? index + 1 : index;
  const prev = fresh ? ring[index] : cornerAt(ring, index - 1);
  const next = cornerAt(ring, index + 1);
  const moving = fresh ? {} : { corners: cornersOn(doc, [ring[index]], item, [index]) };
  const targets = snapTargets(doc, moving);
  return {
    label: fresh ? 'Insert corner' : 'Move corner',
    word: fresh ? 'a new corner' : `corner ${index + 1}`,
    selection: { items: [item], corner: at, edge: null },
    edit(e) {
      const caught = snapAt(app, e, { from: prev, into: { at: next, why: 'in line with the next corner' }, targets });
      const to = roundPoint(caught.at);
      const move = moveCorner({ type: item.type, id: item.id, index: at, to, alone: e.alt || fresh });
      if (!fresh) return { caught, command: move };
      const split = insertCorner({ type: item.type, id: item.id, after: index, at: to });
      return { caught, command: (d) => move(split(d)) };
    },
  };
}

/** @param {App} app @param {Part} part @param {PointerInput} start @returns {Drag} the edge moves square to itself */
function edgeDrag(app, { item, index }, start) {
  const { doc } = app.store.state;
  const ring = outlineOf(doc, item);
  const [a, b] = [ring[index], cornerAt(ring, index + 1)];
  const out = alongBearing(outwardBearingDeg(ring, index));
  const grabbed = planAt(app, start.at);
  const ends = [index, (index + 1) % ring.length];
  const targets = snapTargets(doc, { corners: cornersOn(doc, [a, b], item, ends) });
  return {
    label: 'Move edge',
    word: `edge ${index + 1}`,
    selection: { items: [item], corner: null, edge: index },
    edit(e) {
      const wanted = dot(minus(planAt(app, e.at), grabbed), out);
      const caught = e.shift ? free(plus(a, out, wanted)) : edgeCatch(targets, a, b, out, wanted, snapReachM(app, e.device), stepM(app, e.device));
      const by = minus(caught.at, a);
      const corners = ends.map((i) => ({ type: item.type, id: item.id, index: i }));
      return { caught, command: moveCorners({ corners, by, alone: e.alt }) };
    },
  };
}

/** @param {Point} at @returns {Snap} */
function free(at) {
  return { at, kind: 'free', word: '', guides: [] };
}

/**
 * Lets a moving edge come into line with a corner of the drawing, or else move
 * by a round length.
 * @param {Targets} targets @param {Point} a @param {Point} b @param {Point} out
 * @param {number} wantedM @param {number} toleranceM @param {number} roundM
 * @returns {Snap} where corner a goes
 */
function edgeCatch(targets, a, b, out, wantedM, toleranceM, roundM) {
  let best = null;
  let least = toleranceM;
  for (const p of targets.points) {
    const d = dot(minus(p, a), out);
    if (Math.abs(d - wantedM) <= least) [best, least] = [{ p, d }, Math.abs(d - wantedM)];
  }
  if (!best) {
    const d = Math.round(wantedM / roundM) * roundM;
    return free(plus(a, out, Math.abs(d - wantedM) <= toleranceM ? d : wantedM));
  }
  const at = plus(a, out, best.d);
  const foot = nearestOnSegment(best.p, at, plus(b, out, best.d)).at;
  return { at, kind: 'line', word: 'in line with a corner', guides: [{ from: best.p, to: foot, why: 'in line with a corner' }] };
}

/** @param {Doc} doc @param {Point[]} spots @param {Item} item @param {number[]} own @returns {Set<string>} the moving corners, as `snapTargets` names them */
function cornersOn(doc, spots, item, own) {
  const out = new Set(own.map((i) => `${item.id} ${i}`));
  if (item.type !== 'plane') return out;
  for (const p of doc.planes) {
    p.ring.forEach((c, i) => {
      if (spots.some((s) => s.x_m === c.x_m && s.y_m === c.y_m)) out.add(`${p.id} ${i}`);
    });
  }
  return out;
}
