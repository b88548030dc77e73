// Pressed, not yet dragging. Letting go is a click; wandering past the
// threshold of the device starts the drag that fits what was pressed.

import { isAround } from '../model/around.js';
import { hit, hitModule } from '../model/hit.js';
import { modulesOn } from '../model/hand.js';
import { NOTHING } from '../model/store.js';
import { liveSelection, selectedRing } from '../model/selection.js';
import { dragCorners } from './drag-corners.js';
import { dragItems } from './drag-items.js';
import { dragSize } from './drag-size.js';
import { pan } from './pan.js';
import { select } from './select.js';
import { draw, isDrag } from './shared.js';

/** @import {App, Mode, PointerInput} from './machine.js' */
/** @import {Hit} from '../model/hit.js' */
/** @import {Item, Selection} from '../model/types.js' */

/** @param {App} app @param {PointerInput} start the press @returns {Mode} */
export function pointing(app, start) {
  const pressed = hit(app.store.state, start.at, start.device);
  return {
    name: 'pointing',
    enter: () => app.store.setUi({ mode: 'pointing' }),
    exit: () => draw(app, {}),
    down() {},
    move(e) {
      if (!isDrag(start.at, e.at, start.device)) return;
      const mode = dragFor(app, pressed, start);
      app.modes.go(mode);
      mode.move(e);
    },
    up() {
      if (!start.shift && pickedLight(app, pressed, start)) app.store.setUi({ selection: NOTHING });
      else app.store.setUi({ selection: clicked(app, pressed, start.shift) });
      app.modes.go(select(app));
    },
    cancel: () => app.modes.go(select(app)),
    key(e) {
      if (e.key !== 'Escape') return false;
      app.modes.go(select(app));
      return true;
    },
  };
}

/** @param {App} app @param {Hit} pressed @param {PointerInput} start @returns {Mode} */
function dragFor(app, pressed, start) {
  const ring = selectedRing(app.store.state);
  if (pressed.kind === 'corner' && ring && !ring.free) return dragSize(app, pressed.item, pressed.index);
  if (pressed.kind === 'corner' || pressed.kind === 'middle' || pressed.kind === 'edge') return dragCorners(app, pressed, start);
  if (pressed.kind === 'none') return pan(app, start, () => app.modes.go(select(app)));
  const { items } = liveSelection(app.store.state);
  if (isIn(items, pressed.item)) return dragItems(app, items, start);
  // The garden is wide: who drags the paper there hardly means a tree.
  if (isAround(pressed.item) && !app.store.state.ui.around) return pan(app, start, () => app.modes.go(select(app)));
  // A finger that slides over the roof means to move the paper; only what was
  // selected before moves with it.
  if (start.device === 'touch') return pan(app, start, () => app.modes.go(select(app)));
  app.store.setUi({ selection: { items: [pressed.item], corner: null, edge: null } });
  return dragItems(app, [pressed.item], start);
}

/** @param {App} app @param {Hit} pressed @param {PointerInput} e @returns {boolean} while the light is looked at, a click on a module asks for its light */
function pickedLight({ store }, pressed, e) {
  const { ui } = store.state;
  if (!ui.light.on || ui.around || pressed.kind !== 'item' || pressed.item.type !== 'plane') return false;
  const found = hitModule(store.state, e.at, e.device);
  if (!found) return false;
  const { module: place } = modulesOn(store.state, found.planeId)[found.index];
  store.setLightUi({ module: { plane: found.planeId, place } });
  return true;
}

/** @param {App} app @param {Hit} pressed @param {boolean} more Shift: add to the selection or take out of it @returns {Selection} */
function clicked(app, pressed, more) {
  const { items } = liveSelection(app.store.state);
  if (pressed.kind === 'none') return more ? { items, corner: null, edge: null } : NOTHING;
  if (pressed.kind === 'corner') return { items: [pressed.item], corner: pressed.index, edge: null };
  if (pressed.kind === 'edge' || pressed.kind === 'middle') return { items: [pressed.item], corner: null, edge: pressed.index };
  if (!more) return { items: [pressed.item], corner: null, edge: null };
  const rest = items.filter((i) => i.id !== pressed.item.id || i.type !== pressed.item.type);
  return { items: rest.length < items.length ? rest : [...items, pressed.item], corner: null, edge: null };
}

/** @param {Item[]} items @param {Item} item @returns {boolean} */
function isIn(items, item) {
  return items.some((i) => i.id === item.id && i.type === item.type);
}
