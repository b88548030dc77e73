// Choosing an eave on the drawing: to set the way its plane faces, or to turn
// the view until it lies level.

import { faceEdge } from '../commands/index.js';
import { hitPlaneEdge } from '../model/hit.js';
import { nameOf } from '../model/selection.js';
import { levelOn } from './turn-view.js';
import { select } from './select.js';
import { draw } from './shared.js';

/** @import {App, Mode, PointerInput} from './machine.js' */

/** @param {App} app @param {'face'|'level'} purpose @returns {Mode} */
export function pickEdge(app, purpose) {
  const name = purpose === 'face' ? 'pick-eave' : 'pick-level';
  const status =
    purpose === 'face'
      ? 'Click the eave of a plane: the plane will fall towards it. Escape: leave it as it is.'
      : 'Click the eave that shall lie level at the foot of the screen. Escape: leave the view.';
  /** @param {PointerInput} e */
  const edgeAt = (e) => hitPlaneEdge(app.store.state, e.at, e.device);
  return {
    name,
    enter: () => draw(app, {}, { mode: name, status, cursor: 'crosshair' }),
    exit: () => draw(app, {}),
    down: (e) => draw(app, { edge: edgeAt(e) }),
    move: (e) => draw(app, { edge: edgeAt(e) }),
    up(e) {
      const edge = edgeAt(e);
      if (!edge) return;
      app.modes.go(select(app));
      if (purpose === 'level') return levelOn(app, edge);
      app.store.run('Set the eave', faceEdge(edge));
      const item = /** @type {const} */ ({ type: 'plane', id: edge.id });
      app.store.setUi({
        selection: { items: [item], corner: null, edge: edge.index },
        status: `${nameOf(app.store.state.doc, item)} falls towards edge ${edge.index + 1}.`,
      });
    },
    cancel: () => draw(app, {}),
    key(e) {
      if (e.key !== 'Escape') return false;
      app.modes.go(select(app));
      return true;
    },
  };
}
