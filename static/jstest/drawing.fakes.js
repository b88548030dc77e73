// Documents and a driver for the tests of the drawing.

import { Store } from '../js/model/store.js';
import { corner, toScreen, viewOf } from '../js/model/geometry.js';
import { actionForKey, keyName, runAction, actionOf } from '../js/modes/actions.js';
import { Gestures } from '../js/modes/gestures.js';
import { Modes } from '../js/modes/machine.js';
import { select } from '../js/modes/select.js';

/** @param {[number, number][]} xy */
export const points = (xy) => xy.map(([x_m, y_m]) => ({ x_m, y_m }));

/** @param {string} id @param {[number, number][]} xy @param {object} [more] */
export function plane(id, xy, more = {}) {
  return {
    id, label: id, use: true, ring: points(xy).map(corner), pitch_deg: 30, azimuth_deg: 180, eave_height_m: 3, module_limit: null,
    turn: /** @type {const} */ ('portrait'), covering: 'tile', rafter_spacing_m: 0.6, ...more,
  };
}

/** @param {string} id @param {object} more */
export function keepOut(id, more) {
  return { id, label: id, kind: 'chimney', shape: 'rect', clearance_m: 0.3, height_m: 1, shade: '', ...more };
}

/** @param {string} id @param {number} [pmax_w] */
export const candidate = (id, pmax_w = 400) => ({ id, catalog_id: '', label: id, pmax_w, length_m: 1.8, width_m: 1.1, invented: true });

/**
 * A gable roof seen from above, ridge along y = 4:
 *
 *   8 +----------+
 *     |  north   |
 *   4 +----------+
 *     |  south   |
 *   0 +----------+
 *     0         10
 * @param {object} [more]
 * @returns {any}
 */
export function gable(more = {}) {
  return {
    schema: 1,
    site: { label: 'Test', lat_deg: 0, lon_deg: 0, elevation_m: 0, utc_offset_h: 0, units: 'metric', rule_family: 'nec', invented: true },
    planes: [
      plane('south', [[0, 0], [10, 0], [10, 4], [0, 4]]),
      plane('north', [[10, 8], [0, 8], [0, 4], [10, 4]], { azimuth_deg: 0 }),
    ],
    keep_outs: [],
    rules: {
      set: 'distances', style: 'rows', gap_eave_m: 0.02, gap_slope_m: 0.02, end_allowance_m: 0.04,
      distances: { eave_m: 0.3, ridge_m: 0.3, rake_m: 0.3, hip_m: 0.3, valley_m: 0.3, break_m: 0.3, wall_m: 0.3, party_wall_m: 0.3 },
    },
    candidates: [candidate('a', 330), candidate('b', 400), candidate('c', 450)],
    target: { mode: 'fill', size_w: 5000, chosen: '' },
    ...more,
  };
}

/** @returns {any} */
export const emptyDoc = () => gable({ planes: [] });

/** Freezes a value all through, so that a command that changes its input throws. @template T @param {T} value @returns {T} */
export function frozen(value) {
  if (value && typeof value === 'object' && !Object.isFrozen(value)) {
    Object.freeze(value);
    Object.values(value).forEach(frozen);
  }
  return value;
}

/** Whole numbers in a fixed order, for random tests that fail the same way twice. @param {number} seed */
export function dice(seed) {
  let s = seed >>> 0;
  /** @param {number} sides */
  return (sides) => {
    s = (Math.imul(s, 1664525) + 1013904223) >>> 0;
    return Math.floor((s / 2 ** 32) * sides);
  };
}

/**
 * The editor without a page: pointer and keys in, state out. Places are plan
 * metres; the view shows 50 px a metre with the origin in the middle of
 * 1000 x 800 px unless moved.
 */
export class Driver {
  /** @param {any} doc */
  constructor(doc) {
    this.store = new Store(frozen(doc), 1);
    this.asked = /** @type {any[]} */ ([]);
    this.answers = /** @type {any[]} */ ([]);
    const view = {
      ask: async (/** @type {any} */ form) => {
        this.asked.push(form);
        return this.answers.shift() ?? null;
      },
      showKeys: () => {},
      focusBoard: () => {},
    };
    /** @type {any} */
    this.app = { id: 'p', store: this.store, view, modes: new Modes(), runAction: (/** @type {string} */ id) => runAction(actionOf(id), this.app) };
    this.store.setUi({ board: { widthPx: 1000, heightPx: 800 }, camera: { x_m: 0, y_m: 0, pxPerM: 50 } });
    this.app.modes.go(select(this.app));
    this.gestures = new Gestures(this.app);
    this.timeMs = 0;
    this.device = /** @type {'mouse'|'touch'|'pen'} */ ('mouse');
    this.keys = { shift: false, alt: false, ctrl: false };
  }

  get doc() {
    return this.store.state.doc;
  }

  get ui() {
    return this.store.state.ui;
  }

  get mode() {
    return this.app.modes.active.name;
  }

  /** @param {[number, number]} xy @param {object} [more] */
  #event([x_m, y_m], more = {}) {
    this.timeMs += 1000;
    return { id: 1, at: toScreen(viewOf(this.ui), { x_m, y_m }), device: this.device, button: 0, timeMs: this.timeMs, ...this.keys, ...more };
  }

  /** @param {[number, number]} xy @param {object} [more] */
  press(xy, more) {
    this.gestures.down(this.#event(xy, more));
    return this;
  }

  /** @param {[number, number]} xy @param {object} [more] */
  moveTo(xy, more) {
    this.gestures.move(this.#event(xy, more));
    return this;
  }

  /** @param {[number, number]} xy @param {object} [more] */
  release(xy, more) {
    this.gestures.up(this.#event(xy, more));
    return this;
  }

  /** @param {[number, number]} xy @param {object} [more] */
  lose(xy, more) {
    this.gestures.cancel(this.#event(xy, more));
    return this;
  }

  /** @param {[number, number]} xy @param {object} [more] */
  click(xy, more) {
    return this.moveTo(xy, more).press(xy, more).release(xy, more);
  }

  /** @param {[number, number]} from @param {[number, number]} to @param {object} [more] */
  drag(from, to, more) {
    const mid = /** @type {[number, number]} */ ([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]);
    return this.press(from, more).moveTo(mid, more).moveTo(to, more).release(to, more);
  }

  /** @param {string} text each character or named key in turn, as 'Shift+ArrowUp' */
  key(...text) {
    for (const t of text) {
      const parts = t === '+' ? ['+'] : t.split('+');
      const key = parts[parts.length - 1];
      const e = { key, shift: parts.includes('Shift'), alt: false, ctrl: parts.includes('Ctrl') };
      if (this.app.modes.active.key(e)) continue;
      const action = actionForKey(keyName(e));
      if (action) runAction(action, this.app);
    }
    return this;
  }

  /** @param {string} id */
  run(id) {
    this.app.runAction(id);
    return this;
  }

  /** @param {number} i @returns {[number, number][]} */
  ring(i) {
    return this.doc.planes[i].ring.map((c) => [c.x_m, c.y_m]);
  }

  /** @returns {number} undo steps there are */
  steps() {
    let n = 0;
    while (this.store.undo()) n++;
    for (let i = 0; i < n; i++) this.store.redo();
    return n;
  }
}
