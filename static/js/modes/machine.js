// The modes of the board: exactly one is active. A mode is an object made
// complete by its factory; it answers pointer and key events and changes the
// store. `hold` lets a short one (pan) work on top and hands back afterwards.

/** @import {Store} from '../model/store.js' */
/** @import {Px} from '../model/geometry.js' */
/** @import {Device} from '../model/hit.js' */
/** @import {Action} from './actions.js' */

/** @typedef {{at: Px, device: Device, button: number, shift: boolean, alt: boolean, ctrl: boolean}} PointerInput */
/** @typedef {{key: string, shift: boolean, alt: boolean, ctrl: boolean}} KeyInput ctrl is also the command key */
/**
 * @typedef {object} Mode
 * @property {string} name
 * @property {() => void} enter shows what the mode is about; also when it is handed back to
 * @property {() => void} exit leaves nothing of its own on the board
 * @property {(e: PointerInput) => void} down
 * @property {(e: PointerInput) => void} move pressed or hovering
 * @property {(e: PointerInput) => void} up
 * @property {() => void} cancel the press is taken away, as by a pointercancel or a second finger
 * @property {(e: KeyInput) => boolean} key whether it was taken
 * @property {((e: PointerInput) => void)=} double a second press on the same place
 */
/**
 * @typedef {object} Field one line of a small form
 * @property {string} name
 * @property {string} label
 * @property {string} value
 * @property {string=} hint
 * @property {{value: string, label: string}[]=} choices shown instead of a text field
 * @property {((text: string) => void)=} check throws an Error that says what is allowed
 */
/** @typedef {{id: string, title: string, intro?: string, fields: Field[], ok: string}} Form */
/**
 * What modes and actions need of the page.
 * @typedef {object} ViewPort
 * @property {(form: Form) => Promise<Record<string, string>|null>} ask null when it was cancelled
 * @property {(actions: Action[]) => void} showKeys
 * @property {() => void} focusBoard
 */
/** @typedef {{id: string, store: Store, view: ViewPort, modes: Modes, runAction: (id: string) => string}} App runAction gives '' or why it did not run */

/** @type {Mode} active until the first real mode is entered */
const IDLE = Object.freeze({ name: 'idle', enter() {}, exit() {}, down() {}, move() {}, up() {}, cancel() {}, key: () => false });

export class Modes {
  /** @type {Mode} */ #active = IDLE;
  /** @type {Mode|null} */ #held = null;

  /** @returns {Mode} */
  get active() {
    return this.#active;
  }

  /** @param {Mode} mode */
  go(mode) {
    const { active, held } = { active: this.#active, held: this.#held };
    this.#held = null;
    active.exit();
    held?.exit();
    this.#active = mode;
    mode.enter();
  }

  /** @param {Mode} mode works on top of the active one until `release` */
  hold(mode) {
    if (this.#held) return;
    this.#active.cancel();
    this.#held = this.#active;
    this.#active = mode;
    mode.enter();
  }

  release() {
    if (!this.#held) return;
    const mode = this.#active;
    this.#active = this.#held;
    this.#held = null;
    mode.exit();
    this.#active.enter();
  }
}
