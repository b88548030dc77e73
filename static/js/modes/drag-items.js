// Whole shapes follow the pointer.

import { moveItems } from '../commands/index.js';
import { minus, plus, roundPoint } from '../model/geometry.js';
import { itemWord, nameOf, outlineOf } from '../model/selection.js';
import { snap, snapTargets } from '../model/snap.js';
import { select } from './select.js';
import { draw, keepSound, planAt, snapMarks, snapReachM } from './shared.js';

/** @import {App, Mode, PointerInput} from './machine.js' */
/** @import {Item, Point} from '../model/types.js' */
/** @import {Snap} from '../model/snap.js' */

/** More corners than this are not all tried for a snap, so that big roofs stay fluid. */
const SNAP_CORNERS_MAX = 60;

/** @param {App} app @param {Item[]} items @param {PointerInput} start the press @returns {Mode} */
export function dragItems(app, items, start) {
  const before = app.store.state.doc;
  const grabbed = planAt(app, start.at);
  // A crown has no corners that could catch anything.
  const corners = items.filter((i) => i.type !== 'tree').flatMap((i) => outlineOf(before, i)).slice(0, SNAP_CORNERS_MAX);
  const targets = snapTargets(before, { items: new Set(items.map((i) => i.id)) });
  const what = items.length === 1 ? nameOf(before, items[0]) : `${items.length} shapes`;

  /** @param {PointerInput} e @returns {{by: Point, caught: Snap|null}} */
  const step = (e) => {
    const by = minus(planAt(app, e.at), grabbed);
    const caught = e.shift ? null : nearestCatch(corners, by, snapReachM(app, e.device), targets);
    return caught ? { by: plus(by, caught.shift), caught: caught.snap } : { by: roundPoint(by), caught: null };
  };
  return {
    name: 'drag-items',
    enter() {
      app.store.begin(items.length === 1 ? `Move ${itemWord(items[0])}` : 'Move shapes');
      app.store.setUi({ mode: 'drag-items', status: `Moving ${what}. Let go to place. Shift: no snapping. Escape: put back.`, cursor: 'grabbing' });
    },
    exit() {
      app.store.cancel();
      draw(app, {});
    },
    down() {},
    move(e) {
      // Something else took the gesture's place, such as an edit in a panel.
      if (!app.store.state.inGesture) return app.modes.go(select(app));
      const { by, caught } = step(e);
      app.store.preview(moveItems({ items, by }));
      draw(app, caught ? snapMarks(caught) : {});
    },
    up() {
      app.modes.go(select(app, keepSound(app, before)));
    },
    cancel: () => app.modes.go(select(app)),
    key(e) {
      if (e.key === 'Escape') app.modes.go(select(app));
      return true;
    },
  };
}

/**
 * The corner that lies nearest to something it can catch.
 * @param {Point[]} corners before the move
 * @param {Point} by
 * @param {number} toleranceM
 * @param {import('../model/snap.js').Targets} targets
 * @returns {{snap: Snap, shift: Point}|null}
 */
function nearestCatch(corners, by, toleranceM, targets) {
  let best = null;
  let least = Infinity;
  for (const c of corners) {
    const at = plus(c, by);
    const s = snap({ at, toleranceM, targets, from: null, into: null, levelDeg: [], stepM: 0 });
    if (s.kind === 'free') continue;
    const shift = minus(s.at, at);
    // A corner on a corner is worth more than a corner on a line.
    const cost = Math.hypot(shift.x_m, shift.y_m) + (s.kind === 'point' ? 0 : toleranceM);
    if (cost < least) [best, least] = [{ snap: s, shift }, cost];
  }
  return best;
}
