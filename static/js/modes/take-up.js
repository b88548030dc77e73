// Going on with an outline that was begun before the page was loaded again.

import { drawBuilding } from './draw-around.js';
import { drawOutline } from './draw-outline.js';
import { drawPlane } from './draw-plane.js';

/** @import {App, Mode} from './machine.js' */
/** @import {Point} from '../model/types.js' */

/** @type {Record<string, (app: App, points: Point[]) => Mode>} */
const MODES = {
  'draw-plane': drawPlane,
  'draw-shade': (app, points) => drawOutline(app, 'shade', points),
  'draw-obstruction': (app, points) => drawOutline(app, 'other', points),
  'draw-building': drawBuilding,
};

/** @param {App} app @param {{mode: string, points: Point[]}} outline */
export function takeUpOutline(app, { mode, points }) {
  const make = MODES[mode];
  if (!make) return;
  app.store.setUi({ around: mode === 'draw-building' });
  app.modes.go(make(app, points));
  app.store.setUi({ status: `The outline begun before is still here. ${app.store.state.ui.status}` });
}
