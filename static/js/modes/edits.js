// Edits of the selection that need no pointer.

import { deleteCorner, deleteItems, duplicateItems, faceEdge, insertCorner, moveCorners, moveItems } from '../commands/index.js';
import { alongBearing, cornerAt, midpoint, plus } from '../model/geometry.js';
import { isAround } from '../model/around.js';
import { newIds } from '../model/ids.js';
import { itemWord, liveSelection, nextItem, nextPart, selectedRing } from '../model/selection.js';
import { NOTHING } from '../model/store.js';
import { M_PER_IN } from '../model/units.js';
import { editFault } from '../model/sound.js';
import { leaveAround } from './around.js';
import { resizeItem } from './drag-size.js';
import { select } from './select.js';

/** @import {App} from './machine.js' */
/** @import {Doc, Item, Selection} from '../model/types.js' */

/** What stands in the garden is not placed to the centimetre. */
const AROUND_STEPS = 10;
/** One press of an arrow key; ten times as far with Shift. */
const NUDGE_M = Object.freeze({ metric: 0.01, imperial: 0.5 * M_PER_IN });
/** A copy lies this far from its original, on the screen. */
const COPY_PX = 28;

/**
 * Runs a command as one undo step unless it would break an outline.
 * @param {App} app @param {string} label @param {(doc: Doc) => Doc} command @param {Selection} [selection] afterwards
 */
function edit(app, label, command, selection) {
  const { doc } = app.store.state;
  const next = command(doc);
  const fault = editFault(doc, next);
  if (!fault) app.store.run(label, () => next);
  if (!fault && selection) app.store.setUi({ selection });
  if (app.modes.active.name === 'select') app.modes.go(select(app, fault));
}

/** @param {App} app the selected corner, else everything selected */
export function deleteSelection(app) {
  const { items, corner } = liveSelection(app.store.state);
  const sel = selectedRing(app.store.state);
  if (corner === null || !sel?.free) return edit(app, items.length > 1 ? 'Delete shapes' : `Delete ${itemWord(items[0])}`, deleteItems({ items }), NOTHING);
  if (sel.ring.length <= 3) {
    app.store.setUi({ status: 'An outline needs three corners. Escape, then Delete takes the whole shape.' });
    return;
  }
  edit(app, 'Delete corner', deleteCorner({ type: sel.item.type, id: sel.item.id, index: corner }), { items, corner: null, edge: null });
}

/** @param {App} app */
export function duplicateSelection(app) {
  const { doc, ui } = app.store.state;
  const { items } = liveSelection(app.store.state);
  const copies = copiesOf(doc, items);
  const reach = COPY_PX / ui.camera.pxPerM;
  const by = plus({ x_m: 0, y_m: 0 }, alongBearing(ui.viewBearingDeg + 135), reach);
  edit(app, 'Duplicate', duplicateItems({ items, ids: copies.map((c) => c.id), by }), { items: copies, corner: null, edge: null });
}

/** @param {Doc} doc @param {Item[]} items @returns {Item[]} one for each, with IDs that nothing has yet */
export function copiesOf(doc, items) {
  return items.map(({ type }, n) => ({ type, id: newIds(doc, type, items.length)[n] }));
}

/** @param {App} app a corner in the middle of the selected edge */
export function insertOnEdge(app) {
  const sel = selectedRing(app.store.state);
  const { edge } = liveSelection(app.store.state);
  if (!sel || edge === null) return;
  const at = midpoint(sel.ring[edge], cornerAt(sel.ring, edge + 1));
  const { type, id } = sel.item;
  edit(app, 'Insert corner', insertCorner({ type, id, after: edge, at }), { items: [sel.item], corner: edge + 1, edge: null });
}

/** @param {App} app @returns {boolean} whether an edge of a plane was selected to face */
export function faceSelectedEdge(app) {
  const { items, edge } = liveSelection(app.store.state);
  if (edge === null || items[0]?.type !== 'plane') return false;
  edit(app, 'Set the eave', faceEdge({ id: items[0].id, index: edge }));
  return true;
}

/** @param {App} app @param {number} right @param {number} up steps on the screen */
export function nudge(app, right, up) {
  const { doc, ui } = app.store.state;
  const { items, corner, edge } = liveSelection(app.store.state);
  const m = NUDGE_M[doc.site.units] * (items.every(isAround) ? AROUND_STEPS : 1);
  const by = plus(plus({ x_m: 0, y_m: 0 }, alongBearing(ui.viewBearingDeg + 90), right * m), alongBearing(ui.viewBearingDeg), up * m);
  const sel = selectedRing(app.store.state);
  if (!sel || (corner === null && edge === null)) return edit(app, 'Move', moveItems({ items, by }));
  if (!sel.free && corner !== null) {
    return edit(app, `Resize ${itemWord(sel.item)}`, resizeItem(sel.item, corner, plus(sel.ring[corner], by)));
  }
  const indices = corner !== null ? [corner] : [edge ?? 0, ((edge ?? 0) + 1) % sel.ring.length];
  const corners = indices.map((index) => ({ type: sel.item.type, id: sel.item.id, index }));
  edit(app, corner !== null ? 'Move corner' : 'Move edge', moveCorners({ corners, by }));
}

/** @param {App} app @param {1|-1} way */
export function step(app, way) {
  app.store.setUi({ selection: nextItem(app.store.state, way) });
  app.modes.go(select(app));
}

/** @param {App} app @param {1|-1} way */
export function stepPart(app, way) {
  app.store.setUi({ selection: nextPart(app.store.state, way) ?? app.store.state.ui.selection });
  app.modes.go(select(app));
}

/** @param {App} app from a corner or edge to its shape, from a shape to nothing */
export function clearStep(app) {
  const { items, corner, edge } = liveSelection(app.store.state);
  const part = corner !== null || edge !== null;
  if (items.length === 0 && app.store.state.ui.around) return leaveAround(app);
  if (items.length === 0 && app.store.state.ui.light.module) app.store.setLightUi({ module: null });
  app.store.setUi({ selection: part ? { items, corner: null, edge: null } : NOTHING });
  app.modes.go(select(app));
}
