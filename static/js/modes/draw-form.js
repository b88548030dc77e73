// Drawing an obstruction of fixed form: opposite corners of a rectangle, or
// centre and rim of a circle.

import { addKeepOut } from '../commands/index.js';
import { radiusTo, rectBetween } from '../commands/resize-keepout.js';
import { newKeepOut, squareTurnDeg } from '../model/defaults.js';
import { footprint, midpoint } from '../model/geometry.js';
import { drawTwoPoints } from './draw-two-points.js';
import { sizeLines } from './readings.js';

/** @import {App, Mode} from './machine.js' */
/** @import {Doc, KeepOut, Point} from '../model/types.js' */

/** What an obstruction of each form most often is. */
const USUAL_KIND = Object.freeze({ rect: /** @type {const} */ ('chimney'), circle: /** @type {const} */ ('vent') });

/** @param {App} app @param {'rect'|'circle'} form @returns {Mode} */
export function drawForm(app, form) {
  const { store } = app;
  return drawTwoPoints(app, {
    mode: `draw-${form}`,
    what: 'obstruction',
    noun: 'the obstruction',
    hints: form === 'rect' ? ['one corner', 'the opposite corner'] : ['the centre', 'the rim'],
    show(a, b) {
      const { doc } = store.state;
      const k = formBetween(doc, form, a, b);
      const sizeM = k.shape === 'rect' ? Math.min(k.width_m ?? 0, k.depth_m ?? 0) : (k.radius_m ?? 0) * 2;
      return { ring: footprint(doc, k), lines: sizeLines(doc, k), sizeM };
    },
    finish(a, b) {
      const keepOut = formBetween(store.state.doc, form, a, b);
      store.run('Mark obstruction', addKeepOut({ keepOut }));
      store.setUi({ selection: { items: [{ type: 'keepout', id: keepOut.id }], corner: null, edge: null } });
    },
  });
}

/** @param {Doc} doc @param {'rect'|'circle'} form @param {Point} a @param {Point} b @returns {KeepOut} */
function formBetween(doc, form, a, b) {
  const kind = USUAL_KIND[form];
  const base = newKeepOut(doc, kind, form);
  if (form === 'circle') {
    const k = { ...base, center: a };
    return { ...k, radius_m: radiusTo(doc, k, b) };
  }
  const center = midpoint(a, b);
  const k = { ...base, center, turn_deg: squareTurnDeg(doc, kind, center) };
  return { ...k, ...rectBetween(doc, k, a, b) };
}
