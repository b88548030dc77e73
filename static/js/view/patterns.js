// The pattern of each candidate, so that they differ by more than colour:
// A solid, B diagonal hatch, C dots, D crosshatch, E rings. The tile is in
// pixels; the board scales it against the zoom.

import { svg } from './svg.js';

/** Side of a pattern tile on the screen. */
export const TILE_PX = 8;

/** @param {string} letter 'A' to 'E' @returns {Node[]} */
function marks(letter) {
  const t = TILE_PX;
  const diagonal = `M-1 1L1 -1M0 ${t}L${t} 0M${t - 1} ${t + 1}L${t + 1} ${t - 1}`;
  const other = `M-1 ${t - 1}L1 ${t + 1}M0 0L${t} ${t}M${t - 1} -1L${t + 1} 1`;
  switch (letter) {
    case 'B':
      return [svg('path', { class: 'tile-line', d: diagonal })];
    case 'C':
      return [[2, 2], [6, 6]].map(([cx, cy]) => svg('circle', { class: 'tile-dot', cx, cy, r: 1.1 }));
    case 'D':
      return [svg('path', { class: 'tile-line', d: diagonal + other })];
    case 'E':
      return [svg('circle', { class: 'tile-line', cx: t / 2, cy: t / 2, r: 2.4 })];
    default:
      return [];
  }
}

/** @returns {SVGDefsElement} patterns `module-A` to `module-E`, what is refused, and the hatch of obstructions */
export function patternDefs() {
  const modules = ['A', 'B', 'C', 'D', 'E'].map((letter) =>
    svg('pattern', { id: `module-${letter}`, class: `cand-${letter}`, patternUnits: 'userSpaceOnUse', width: TILE_PX, height: TILE_PX }, [
      svg('rect', { class: letter === 'A' ? 'tile-solid' : 'tile-ground', width: TILE_PX, height: TILE_PX }),
      ...marks(letter),
    ]),
  );
  // Hatched both ways and so unlike any candidate's tile in grey too; one for
  // the modules' own frame, one for what is drawn on the screen over it.
  const refused = ['module-refused', 'ghost-refused'].map((id) =>
    svg('pattern', { id, patternUnits: 'userSpaceOnUse', width: TILE_PX, height: TILE_PX }, [
      svg('path', { class: 'refused-line', d: `M-1 1L1 -1M0 ${TILE_PX}L${TILE_PX} 0M${TILE_PX - 1} ${TILE_PX + 1}L${TILE_PX + 1} ${TILE_PX - 1}` }),
      svg('path', { class: 'refused-line', d: `M0 ${TILE_PX / 2}H${TILE_PX}` }),
    ]),
  );
  const hatch = svg('pattern', { id: 'hatch', patternUnits: 'userSpaceOnUse', width: 6, height: 6, patternTransform: 'rotate(45)' }, [
    svg('path', { class: 'hatch-line', d: 'M0 3H6' }),
  ]);
  return svg('defs', {}, [...modules, ...refused, hatch]);
}
