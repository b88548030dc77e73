// Drawing an outline corner by corner: the part that planes, obstructions and
// shade have in common. A length can be typed at any time; Enter then places
// the corner at that length along the line to the pointer.

import { bearingDeg, alongBearing, distanceM, plus, ringFault, roundPoint, SAME_CORNER_M, trueLengthM, planeFrame } from '../model/geometry.js';
import { snapTargets } from '../model/snap.js';
import { parseLength } from '../model/units.js';
import { lineLines } from './readings.js';
import { select } from './select.js';
import { draw, snapAt, snapMarks } from './shared.js';

/** @import {App, KeyInput, Mode, PointerInput} from './machine.js' */
/** @import {Overlay, Point} from '../model/types.js' */
/** @import {Snap} from '../model/snap.js' */
/** @import {Px} from '../model/geometry.js' */

/**
 * @typedef {object} RingJob
 * @property {string} mode name of the mode
 * @property {Overlay['what']} what
 * @property {string} noun for the status line, such as 'plane'
 * @property {string} firstHint what to click first
 * @property {number|null} pitchDeg lengths are also told in a roof of this pitch; its first edge is the eave
 * @property {Point[]} [points] corners placed before, as on a page that was loaded again
 * @property {(ring: Point[]) => void} finish gets a sound outline
 */

/** Keys that go into the length field; letters and spaces only once a number stands there. */
const STARTS_LENGTH = /^[0-9.,]$/;
const GOES_ON = /^[0-9.,'"/ cfimnt]$/;

/** @param {App} app @param {RingJob} job @returns {Mode} */
export function drawRing(app, job) {
  return new RingDrawing(app, job);
}

/** @implements {Mode} */
class RingDrawing {
  #app;
  #job;
  /** @type {Point[]} corners placed so far */ #points = [];
  /** @type {Px|null} */ #pointer = null;
  /** @type {Snap|null} where the pointer came to */ #caught = null;
  /** what is in the length field */ #typed = '';
  /** the typed length is measured in the roof, not in plan */ #inRoof = false;
  /** why the last key did nothing */ #note = '';

  /** @param {App} app @param {RingJob} job */
  constructor(app, job) {
    this.#app = app;
    this.#job = job;
    this.#points = job.points ?? [];
  }

  get name() {
    return this.#job.mode;
  }

  enter() {
    this.#app.store.setUi({ mode: this.#job.mode });
    this.#show();
  }

  exit() {
    draw(this.#app, {});
  }

  /** @param {PointerInput} e */
  down(e) {
    this.#note = '';
    this.move(e);
  }

  /** @param {PointerInput} e */
  move(e) {
    this.#follow(e);
    this.#show();
  }

  /** @param {PointerInput} e */
  up(e) {
    this.#follow(e);
    const to = this.#next();
    if (to) this.#place(to);
  }

  /** Only the press is lost; the corners placed so far stay. */
  cancel() {
    this.#caught = null;
    this.#show();
  }

  /** @param {KeyInput} e @returns {boolean} */
  key(e) {
    this.#note = '';
    if (e.ctrl) {
      if (e.key.toLowerCase() !== 'z' || e.shift) return false;
      this.#takeBack();
    } else if (e.key === 'Escape') this.#typed ? this.#type('') : this.#leave();
    else if (e.key === 'Backspace') this.#typed ? this.#type(this.#typed.slice(0, -1)) : this.#takeBack();
    else if (e.key === 'Enter') this.#typed ? this.#placeTyped() : this.#close();
    // Along the eave both measures are one; the key must not leave the drawing either.
    else if (e.key === 'Tab' && this.#typed) this.#measure(this.#hasSlope && !this.#inRoof);
    else if (this.#last && (this.#typed ? GOES_ON : STARTS_LENGTH).test(e.key)) this.#type(this.#typed + e.key);
    else return false;
    return true;
  }

  get #last() {
    return this.#points[this.#points.length - 1] ?? null;
  }

  /** Once the eave stands, lengths in the roof can differ from those in plan. */
  get #hasSlope() {
    return this.#job.pitchDeg !== null && this.#points.length >= 2;
  }

  /** @returns {number|null} */
  get #typedM() {
    return typedLengthM(this.#typed, this.#app.store.state.doc.site.units);
  }

  /** @returns {Point|null} where the next corner would go */
  #next() {
    const to = this.#caught?.at ?? null;
    const from = this.#last;
    const lengthM = this.#typed ? this.#typedM : null;
    if (!from || !to || lengthM === null || distanceM(from, to) === 0) return to;
    const one = alongBearing(bearingDeg(from, to));
    const { pitchDeg } = this.#job;
    return plus(from, one, this.#inRoof && pitchDeg !== null ? lengthM / stretch(this.#points, one, pitchDeg) : lengthM);
  }

  #show() {
    const to = this.#next();
    const lines = to ? this.#readings(to) : [];
    const field = this.#typed ? { label: this.#measureWord, text: this.#typed } : null;
    draw(
      this.#app,
      {
        ring: to ? [...this.#points, to] : this.#points,
        what: this.#job.what,
        outline: { mode: this.#job.mode, points: this.#points },
        ...(this.#caught && !this.#typed ? snapMarks(this.#caught) : {}),
        tip: this.#pointer && to && (lines.length > 0 || field) ? { at: this.#pointer, lines, field } : null,
      },
      { status: this.#note || this.#status(), cursor: 'crosshair' },
    );
  }

  /** @param {Point} to @returns {string[]} of the line to the pointer; where it rests on the corner just placed, as after a tap, of the line that led there */
  #readings(to) {
    if (!this.#last) return [this.#job.firstHint];
    const { doc } = this.#app.store.state;
    const resting = distanceM(to, this.#last) <= SAME_CORNER_M;
    if (!resting) return lineLines(doc, this.#points, to, this.#job.pitchDeg);
    return this.#points.length < 2 ? [] : lineLines(doc, this.#points.slice(0, -1), this.#last, this.#job.pitchDeg);
  }

  get #measureWord() {
    return this.#inRoof ? 'in the roof' : 'in plan';
  }

  /** @returns {string} */
  #status() {
    if (this.#typed) {
      const other = this.#hasSlope ? ` Tab: measure ${this.#inRoof ? 'in plan' : 'in the roof'}.` : '';
      return `Length ${this.#typed} ${this.#measureWord}. Enter: place the corner.${other} Escape: drop the number.`;
    }
    const count = this.#points.length;
    if (count === 0) return `${this.#job.firstHint}. Escape: stop drawing.`;
    const close = count >= 3 ? ' Enter or the first corner: close.' : '';
    return `Click corner ${count + 1} of the ${this.#job.noun}, or type a length.${close} Backspace: take back a corner. Escape: stop drawing.`;
  }

  /** @param {PointerInput} e */
  #follow(e) {
    this.#pointer = e.at;
    const points = this.#points;
    const targets = snapTargets(this.#app.store.state.doc);
    // The outline being drawn is part of the drawing: its corners and edges
    // can be caught, and its last edge gives the right angle.
    points.slice(0, -1).forEach((p) => targets.points.push(p));
    for (let i = 0; i + 1 < points.length; i++) targets.edges.push({ a: points[i], b: points[i + 1] });
    const into = points.length >= 2 ? { at: points[0], why: 'in line with the first corner' } : null;
    const caught = snapAt(this.#app, e, { from: this.#last, into, targets });
    this.#caught = this.#closesAt(caught.at) ? { ...caught, word: 'closes the outline' } : caught;
  }

  /** @param {Point} at @returns {boolean} */
  #closesAt(at) {
    return this.#points.length >= 3 && distanceM(at, this.#points[0]) <= SAME_CORNER_M;
  }

  /** @param {string} text */
  #type(text) {
    this.#typed = text;
    this.#show();
  }

  /** @param {boolean} inRoof */
  #measure(inRoof) {
    this.#inRoof = inRoof;
    this.#show();
  }

  #placeTyped() {
    const to = this.#next();
    if (to && this.#last && this.#typedM !== null && distanceM(this.#last, to) > 0) return this.#place(to);
    this.#note = typedFault(this.#typed, this.#app.store.state.doc.site.units) || 'Move the pointer to give the line a direction.';
    this.#show();
  }

  /** @param {Point} p */
  #place(p) {
    const at = roundPoint(p);
    this.#typed = '';
    if (this.#closesAt(at)) return this.#close();
    if (!this.#points.some((q) => distanceM(q, at) <= SAME_CORNER_M)) this.#points = [...this.#points, at];
    this.#show();
  }

  #takeBack() {
    if (this.#points.length === 0) return this.#leave();
    this.#typed = '';
    this.#points = this.#points.slice(0, -1);
    this.#show();
  }

  #leave() {
    this.#app.modes.go(select(this.#app));
  }

  #close() {
    const fault = ringFault(this.#points);
    if (!fault) return this.#job.finish(this.#points);
    const missing = 3 - this.#points.length;
    this.#note = missing > 0 ? `${fault} ${missing} to go.` : `${fault} Backspace: take back a corner. Escape: stop drawing.`;
    this.#show();
  }
}

/** @param {Point[]} points @param {Point} one plan unit vector @param {number} pitchDeg @returns {number} metres in the roof for one metre in plan */
function stretch(points, one, pitchDeg) {
  if (points.length < 2) return 1;
  const frame = planeFrame([points[0]], pitchDeg, bearingDeg(points[0], points[1]) + 90);
  return trueLengthM(frame, { x_m: 0, y_m: 0 }, one);
}

/** @param {string} text @param {import('../model/units.js').Units} units @returns {number|null} null while it is no length longer than nothing */
function typedLengthM(text, units) {
  try {
    const m = parseLength(text, units);
    return m > 0 ? m : null;
  } catch {
    return null;
  }
}

/** @param {string} text @param {import('../model/units.js').Units} units @returns {string} */
function typedFault(text, units) {
  try {
    return parseLength(text, units) > 0 ? '' : 'A length must be more than nothing.';
  } catch (err) {
    return err instanceof Error ? err.message : String(err);
  }
}
