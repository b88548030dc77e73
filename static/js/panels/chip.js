// A candidate's mark: its letter on paper, framed by its colour and pattern,
// so that it can be told apart in grey and without colour.

import { svg } from './dom.js';

const SIZE = 32;
/** Side of the paper that carries the letter. */
const INNER = 16;

/** @type {Record<string, {size: number, draw: () => SVGElement[]}>} */
const PATTERNS = {
  A: { size: 6, draw: () => [svg('rect', { width: 6, height: 6, class: 'chip-ink' })] },
  B: { size: 6, draw: () => [svg('path', { d: 'M-1 1 1-1M0 6 6 0M5 7 7 5', class: 'chip-line' })] },
  C: { size: 5.5, draw: () => [svg('circle', { cx: 2.75, cy: 2.75, r: 1.6, class: 'chip-ink' })] },
  D: { size: 6, draw: () => [svg('path', { d: 'M0 0 6 6M0 6 6 0', class: 'chip-line chip-fine' })] },
  E: { size: 8, draw: () => [svg('circle', { cx: 4, cy: 4, r: 2.5, class: 'chip-ring' })] },
};

/**
 * @param {string} letter A to E
 * @param {string} where makes the pattern's ID unique on the page
 * @returns {SVGSVGElement} hidden from screen readers; say the letter beside it
 */
export function chip(letter, where) {
  const { size, draw } = PATTERNS[letter] ?? PATTERNS.A;
  const pattern = `chip-${where}-${letter}`;
  const inset = (SIZE - INNER) / 2;
  return svg(
    'svg',
    { class: `chip letter-${letter}`, viewBox: `0 0 ${SIZE} ${SIZE}`, width: SIZE, height: SIZE, 'aria-hidden': 'true' },
    svg('pattern', { id: pattern, width: size, height: size, patternUnits: 'userSpaceOnUse' }, ...draw()),
    svg('rect', { x: 0.5, y: 0.5, width: SIZE - 1, height: SIZE - 1, rx: 4, class: 'chip-frame', fill: `url(#${pattern})` }),
    svg('rect', { x: inset, y: inset, width: INNER, height: INNER, rx: 2, class: 'chip-paper' }),
    svg('text', { x: SIZE / 2, y: SIZE / 2 + 5, 'text-anchor': 'middle', class: 'chip-letter' }, letter),
  );
}
