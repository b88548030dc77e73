// Drawing a shape of fixed form with two points, such as opposite corners of a
// rectangle, or centre and rim of a circle. Drag between them or click both.

import { roundPoint } from '../model/geometry.js';
import { select } from './select.js';
import { draw, isDrag, snapAt, snapMarks } from './shared.js';

/** @import {App, Mode, PointerInput} from './machine.js' */
/** @import {Overlay, Point} from '../model/types.js' */
/** @import {Px} from '../model/geometry.js' */

/**
 * @typedef {object} TwoPointJob
 * @property {string} mode name of the mode
 * @property {Overlay['what']} what
 * @property {string} noun for the status line, such as 'the obstruction'
 * @property {[string, string]} hints what to click first and then
 * @property {(a: Point, b: Point) => {ring: Point[], lines: string[], sizeM: number}} show sizeM is its smallest measure
 * @property {(a: Point, b: Point) => void} finish adds the shape and selects it
 * @property {((a: Point) => void)} [click] what one click alone makes; without it a second one is waited for
 */

/** Anything smaller was a slip of the hand. */
const LEAST_M = 0.03;

/** @param {App} app @param {TwoPointJob} job @returns {Mode} */
export function drawTwoPoints(app, job) {
  /** @type {Point|null} */ let a = null;
  /** @type {Point|null} */ let b = null;
  /** @type {Px|null} */ let pressedPx = null;
  let note = '';

  const status = () => {
    if (note) return note;
    const [one, two] = job.hints;
    if (!a) return job.click ? `Click ${one}, or drag from there to ${two}. Escape: stop drawing.` : `Click ${one} of ${job.noun}, or drag from it. Escape: stop drawing.`;
    return `Click ${two}. Enter: place it as shown. Backspace: start again. Escape: stop drawing.`;
  };

  /** @param {PointerInput} e */
  const follow = (e) => {
    const caught = snapAt(app, e, {});
    b = roundPoint(caught.at);
    const shown = a && b ? job.show(a, b) : null;
    draw(
      app,
      {
        ...snapMarks(caught),
        ring: shown?.ring ?? [],
        closed: true,
        what: job.what,
        tip: shown ? { at: e.at, lines: shown.lines, field: null } : null,
      },
      { status: status(), cursor: 'crosshair' },
    );
  };

  const finish = () => {
    if (!a || !b || job.show(a, b).sizeM < LEAST_M) {
      note = 'That is too small to be drawn. Zoom in, or place it and type its size.';
      app.store.setUi({ status: status() });
      return;
    }
    job.finish(a, b);
    app.modes.go(select(app));
  };

  const restart = () => {
    [a, pressedPx, note] = [null, null, ''];
    draw(app, {}, { status: status() });
  };

  return {
    name: job.mode,
    enter: () => draw(app, {}, { mode: job.mode, status: status(), cursor: 'crosshair' }),
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
      if (!a) return;
      if (!firstClick) return finish();
      if (!job.click) return;
      job.click(a);
      app.modes.go(select(app));
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
