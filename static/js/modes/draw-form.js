// Drawing an obstruction of fixed form with two points: opposite corners of a
// rectangle, or centre and rim of a circle. Drag between them or click both.

import { addKeepOut } from '../commands/index.js';
import { radiusTo, rectBetween } from '../commands/resize-keepout.js';
import { newKeepOut, squareTurnDeg } from '../model/defaults.js';
import { footprint, midpoint, roundPoint } from '../model/geometry.js';
import { sizeLines } from './readings.js';
import { select } from './select.js';
import { draw, isDrag, snapAt, snapMarks } from './shared.js';

/** @import {App, Mode, PointerInput} from './machine.js' */
/** @import {Doc, KeepOut, Point} from '../model/types.js' */
/** @import {Px} from '../model/geometry.js' */

/** What an obstruction of each form most often is. */
const USUAL_KIND = Object.freeze({ rect: /** @type {const} */ ('chimney'), circle: /** @type {const} */ ('vent') });
/** Anything smaller was a slip of the hand. */
const LEAST_M = 0.03;

/** @param {App} app @param {'rect'|'circle'} form @returns {Mode} */
export function drawForm(app, form) {
  /** @type {Point|null} */ let a = null;
  /** @type {Point|null} */ let b = null;
  /** @type {Px|null} */ let pressedPx = null;
  let note = '';

  const status = () => {
    if (note) return note;
    const [one, two] = form === 'rect' ? ['one corner', 'the opposite corner'] : ['the centre', 'the rim'];
    if (!a) return `Click ${one} of the obstruction, or drag from it. Escape: stop drawing.`;
    return `Click ${two}. Enter: place it as shown. Backspace: start again. Escape: stop drawing.`;
  };

  /** @returns {KeepOut|null} */
  const shape = () => (a && b ? formBetween(app.store.state.doc, form, a, b) : null);

  /** @param {PointerInput} e */
  const follow = (e) => {
    const caught = snapAt(app, e, {});
    b = roundPoint(caught.at);
    const k = shape();
    const { doc } = app.store.state;
    draw(
      app,
      {
        ...snapMarks(caught),
        ring: k ? footprint(doc, k) : [],
        closed: true,
        what: 'obstruction',
        tip: k ? { at: e.at, lines: sizeLines(doc, k), field: null } : null,
      },
      { status: status(), cursor: 'crosshair' },
    );
  };

  const finish = () => {
    const k = shape();
    if (!k || (k.shape === 'rect' ? Math.min(k.width_m ?? 0, k.depth_m ?? 0) : (k.radius_m ?? 0) * 2) < LEAST_M) {
      note = 'That is too small to be drawn. Zoom in, or place it and type its size.';
      app.store.setUi({ status: status() });
      return;
    }
    app.store.run('Mark obstruction', addKeepOut({ keepOut: k }));
    app.store.setUi({ selection: { items: [{ type: 'keepout', id: k.id }], corner: null, edge: null } });
    app.modes.go(select(app));
  };

  const restart = () => {
    [a, pressedPx, note] = [null, null, ''];
    draw(app, {}, { status: status() });
  };

  return {
    name: `draw-${form}`,
    enter: () => draw(app, {}, { mode: `draw-${form}`, status: status(), cursor: 'crosshair' }),
    exit: () => draw(app, {}),
    down(e) {
      note = '';
      follow(e);
      if (!a) [a, pressedPx] = [b, e.at];
    },
    move: follow,
    up(e) {
      follow(e);
      const firstClick = pressedPx && !isDrag(pressedPx, e.at, e.device);
      pressedPx = null;
      if (a && !firstClick) finish();
    },
    cancel: restart,
    key(e) {
      if (e.ctrl) return false;
      note = '';
      if (e.key === 'Escape') app.modes.go(select(app));
      else if (e.key === 'Backspace') restart();
      else if (e.key === 'Enter' && a) finish();
      else return false;
      return true;
    },
  };
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
