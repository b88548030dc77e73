// Looking at the light on the roof.

import { modulesOn, samePlace } from '../model/hand.js';
import { select } from './select.js';

/** @import {App} from './machine.js' */

/** @param {App} app what was proposed and not taken goes with the view */
export function toggleLight(app) {
  const { on } = app.store.state.ui.light;
  app.store.setLightUi({ on: !on, proposal: null });
  if (app.store.state.ui.mode === 'select') app.modes.go(select(app));
}

/** @param {Pick<App, 'store'>} app @param {1|-1} step to the next or previous module of the roof, round and round */
export function stepLitModule({ store }, step) {
  const { state } = store;
  const all = state.doc.planes.flatMap((plane) => modulesOn(state, plane.id).filter((m) => !m.refused && !m.spare).map(({ module: place }) => ({ plane: plane.id, place })));
  if (all.length === 0) return;
  const lit = state.ui.light.module;
  const at = lit ? all.findIndex((m) => m.plane === lit.plane && samePlace(m.place, lit.place)) : -1;
  const next = at < 0 ? (step > 0 ? 0 : all.length - 1) : (at + step + all.length) % all.length;
  store.setLightUi({ module: all[next] });
}
