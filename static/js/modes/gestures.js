// From raw pointer events to the active mode: one pointer at a time, a second
// finger moves the view, the middle button and Space pan. Knows nothing of the
// page; `main` feeds it.

import { panned, zoomed } from '../model/camera.js';
import { viewOf } from '../model/geometry.js';
import { isDrag } from './shared.js';
import { pan } from './pan.js';
import { pinch } from './pinch.js';

/** @import {App, PointerInput} from './machine.js' */
/** @import {Pinch} from './pinch.js' */
/** @import {Px} from '../model/geometry.js' */

/** @typedef {PointerInput & {id: number, timeMs: number}} RawPointer */

/** Two presses this close in time are one double press. */
const DOUBLE_MS = 400;
const MIDDLE_BUTTON = 1;

export class Gestures {
  #app;
  /** @type {number|null} the pointer that is pressed */ #id = null;
  /** @type {Map<number, Px>} fingers on the board */ #fingers = new Map();
  /** @type {Pinch|null} */ #pinch = null;
  /** @type {{at: Px, timeMs: number}|null} */ #lastTap = null;
  #spaceHeld = false;

  /** @param {App} app */
  constructor(app) {
    this.#app = app;
  }

  /** @param {RawPointer} e @returns {boolean} whether the pointer is to be captured */
  down(e) {
    if (e.device === 'touch') {
      this.#fingers.set(e.id, e.at);
      if (this.#fingers.size === 2) return this.#startPinch();
      if (this.#fingers.size > 2) return false;
    }
    if (this.#id !== null || this.#pinch) return false;
    const { modes } = this.#app;
    if (e.button === MIDDLE_BUTTON && modes.active.name !== 'pan') modes.hold(pan(this.#app, e, () => modes.release()));
    else if (e.button !== 0) return false;
    else if (this.#isDouble(e) && modes.active.double) {
      modes.active.double(e);
      this.#lastTap = null;
      return false;
    }
    this.#id = e.id;
    this.#lastTap = { at: e.at, timeMs: e.timeMs };
    modes.active.down(e);
    return true;
  }

  /** @param {RawPointer} e */
  move(e) {
    if (this.#fingers.has(e.id)) this.#fingers.set(e.id, e.at);
    if (this.#pinch) return this.#movePinch();
    if (this.#id === null ? e.device !== 'touch' : this.#id === e.id) this.#app.modes.active.move(e);
  }

  /** @param {RawPointer} e */
  up(e) {
    if (this.#lift(e.id)) return;
    if (this.#id !== e.id) return;
    this.#id = null;
    this.#app.modes.active.up(e);
  }

  /** @param {RawPointer} e the browser took the pointer away */
  cancel(e) {
    if (this.#lift(e.id)) return;
    if (this.#id !== e.id) return;
    this.#id = null;
    this.#app.modes.active.cancel();
  }

  /** @param {Px} at @param {number} factor over 1 to come nearer */
  zoom(at, factor) {
    const { store } = this.#app;
    store.setUi({ camera: zoomed(viewOf(store.state.ui), factor, at) });
  }

  /** @param {Px} by how far the paper moves */
  scroll(by) {
    const { store } = this.#app;
    store.setUi({ camera: panned(viewOf(store.state.ui), by) });
  }

  /** @param {boolean} held Space is down: the next press moves the view */
  space(held) {
    const { modes } = this.#app;
    if (held === this.#spaceHeld) return;
    if (held && (this.#id !== null || this.#pinch)) return;
    this.#spaceHeld = held;
    if (held) modes.hold(pan(this.#app, null, () => {}));
    else modes.release();
  }

  /** @param {RawPointer} e @returns {boolean} */
  #isDouble(e) {
    const last = this.#lastTap;
    return last !== null && e.timeMs - last.timeMs <= DOUBLE_MS && !isDrag(last.at, e.at, e.device);
  }

  /** @returns {boolean} */
  #startPinch() {
    const [a, b] = [...this.#fingers.values()];
    this.#id = null;
    this.#lastTap = null;
    this.#pinch = pinch(this.#app, a, b);
    this.#app.modes.hold(this.#pinch);
    return true;
  }

  #movePinch() {
    const [a, b] = [...this.#fingers.values()];
    if (a && b) this.#pinch?.fingers(a, b);
  }

  /** @param {number} id @returns {boolean} the finger was part of a pinch */
  #lift(id) {
    const was = this.#fingers.delete(id) && this.#pinch !== null;
    if (was && this.#fingers.size === 0) {
      this.#pinch = null;
      this.#app.modes.release();
    }
    return was;
  }
}
