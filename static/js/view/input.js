// Pointer and key events of the page, in the words that the modes understand.

/** @import {Px} from '../model/geometry.js' */

/** @typedef {{id: number, at: Px, device: 'mouse'|'pen'|'touch', button: number, shift: boolean, alt: boolean, ctrl: boolean, timeMs: number}} Pointer */
/**
 * @typedef {object} Gestures
 * @property {(e: Pointer) => boolean} down whether to capture the pointer
 * @property {(e: Pointer) => void} move
 * @property {(e: Pointer) => void} up
 * @property {(e: Pointer) => void} cancel
 * @property {(at: Px, factor: number) => void} zoom
 * @property {(by: Px) => void} scroll
 */

/** Zoom for one pixel of the wheel. */
const ZOOM_PER_PX = 0.0016;
const PX_PER_LINE = 16;

/** @param {SVGSVGElement} board @param {PointerEvent|WheelEvent} e @returns {Px} */
function placeOf(board, e) {
  const box = board.getBoundingClientRect();
  return { x: e.clientX - box.left, y: e.clientY - box.top };
}

/** @param {SVGSVGElement} board @param {PointerEvent} e @returns {Pointer} */
function pointerOf(board, e) {
  const device = e.pointerType === 'touch' || e.pointerType === 'pen' ? e.pointerType : 'mouse';
  return { id: e.pointerId, at: placeOf(board, e), device, button: e.button, shift: e.shiftKey, alt: e.altKey, ctrl: e.ctrlKey || e.metaKey, timeMs: e.timeStamp };
}

/** @param {SVGSVGElement} board @param {Gestures} gestures @param {(timeMs: number) => void} moved */
export function listenPointer(board, gestures, moved) {
  board.addEventListener('pointerdown', (e) => {
    board.focus({ preventScroll: true });
    if (gestures.down(pointerOf(board, e))) capture(board, e.pointerId);
    // No text selection, no scrolling by the middle button.
    e.preventDefault();
  });
  board.addEventListener('pointermove', (e) => {
    moved(e.timeStamp);
    gestures.move(pointerOf(board, e));
  });
  board.addEventListener('pointerup', (e) => gestures.up(pointerOf(board, e)));
  board.addEventListener('pointercancel', (e) => gestures.cancel(pointerOf(board, e)));
  board.addEventListener('contextmenu', (e) => e.preventDefault());
  board.addEventListener(
    'wheel',
    (e) => {
      e.preventDefault();
      const unit = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? PX_PER_LINE : e.deltaMode === WheelEvent.DOM_DELTA_PAGE ? board.clientHeight : 1;
      // Sideways scrolling, which only a trackpad or Shift gives, moves the paper.
      if (!e.ctrlKey && e.deltaX !== 0) gestures.scroll({ x: -e.deltaX * unit, y: -e.deltaY * unit });
      else gestures.zoom(placeOf(board, e), Math.exp(-e.deltaY * unit * ZOOM_PER_PX * (e.ctrlKey ? 4 : 1)));
    },
    { passive: false },
  );
}

/** @param {SVGSVGElement} board @param {number} id */
function capture(board, id) {
  try {
    board.setPointerCapture(id);
  } catch {
    // The pointer is already gone, as when it was lifted within the same frame.
  }
}

/** @typedef {{key: string, shift: boolean, alt: boolean, ctrl: boolean}} Key */
/**
 * @typedef {object} KeyTarget
 * @property {(e: Key, onBoard: boolean) => boolean} key whether it was taken
 * @property {(held: boolean) => void} space
 */

/**
 * Keys work on the board, and those that are no characters also where nothing
 * has focus; a single letter typed elsewhere never starts an action, so that
 * speech input and other tools are safe (WCAG 2.2, 2.1.4).
 * @param {SVGSVGElement} board @param {KeyTarget} target
 */
export function listenKeys(board, target) {
  document.addEventListener('keydown', (e) => {
    const onBoard = document.activeElement === board;
    if (e.defaultPrevented || e.isComposing || (!onBoard && !(document.activeElement === document.body || isShortcut(e))) || isTyping() || dialogOpen()) return;
    const key = { key: e.key, shift: e.shiftKey, alt: e.altKey, ctrl: e.ctrlKey || e.metaKey };
    const character = e.key.length === 1 && !key.ctrl;
    if (character && !onBoard) return;
    if (target.key(key, onBoard)) e.preventDefault();
    else if (e.key === ' ') {
      e.preventDefault();
      target.space(true);
    }
  });
  document.addEventListener('keyup', (e) => {
    if (e.key === ' ') target.space(false);
  });
  window.addEventListener('blur', () => target.space(false));
}

/** @param {KeyboardEvent} e @returns {boolean} works wherever the focus is, but in a field */
function isShortcut(e) {
  return (e.ctrlKey || e.metaKey) && /^[zy]$/i.test(e.key);
}

/** @returns {boolean} */
function isTyping() {
  const el = document.activeElement;
  return el instanceof HTMLInputElement || el instanceof HTMLTextAreaElement || el instanceof HTMLSelectElement || (el instanceof HTMLElement && el.isContentEditable);
}

/** @returns {boolean} */
function dialogOpen() {
  return document.querySelector('dialog[open]') !== null;
}
