// Finding room for labels: each is put at the first of its places where it
// overlaps nothing placed before, or dropped.

/** @typedef {{x: number, y: number}} Px */
/** @typedef {{left: number, top: number, right: number, bottom: number}} Box */

/** Width of an average character of the text face, as a part of its size. */
const CHAR_EM = 0.46;

/** @param {string} text @param {number} sizePx @returns {number} */
export function textWidthPx(text, sizePx) {
  return text.length * sizePx * CHAR_EM;
}

/** Names are cut in steps of so many characters, and not below the least. */
const CUT = Object.freeze({ step: 4, least: 8 });

/** @param {string} name @param {string} [note] stays after the name @returns {string[]} the name, then shorter and shorter beginnings of it; none for no name */
export function shortenings(name, note = '') {
  const signs = [...name];
  const texts = [name];
  for (let n = signs.length - CUT.step; n >= CUT.least; n -= CUT.step) texts.push(`${signs.slice(0, n).join('').trimEnd()}…`);
  return texts.map((text) => (text + note).trim()).filter(Boolean);
}

/** @param {Px} mid @param {number} widthPx @param {number} heightPx @param {number} [turnDeg] @returns {Box} around a turned rectangle */
export function boxAround(mid, widthPx, heightPx, turnDeg = 0) {
  const c = Math.abs(Math.cos((turnDeg * Math.PI) / 180));
  const s = Math.abs(Math.sin((turnDeg * Math.PI) / 180));
  const w = (widthPx * c + heightPx * s) / 2;
  const h = (widthPx * s + heightPx * c) / 2;
  return { left: mid.x - w, right: mid.x + w, top: mid.y - h, bottom: mid.y + h };
}

export class LabelRoom {
  /** @type {Box[]} */ #taken = [];

  /** @param {Box} box kept free of labels */
  reserve(box) {
    this.#taken.push(box);
  }

  /** @param {Box} box @returns {boolean} whether it was free; then it is taken */
  take(box) {
    if (this.#taken.some((t) => t.left < box.right && box.left < t.right && t.top < box.bottom && box.top < t.bottom)) return false;
    this.#taken.push(box);
    return true;
  }
}
