// Scale bar and north arrow: always there, never in the way.

import { viewOf } from '../model/geometry.js';
import { M_PER_FT } from '../model/units.js';
import { n, svg } from './svg.js';

/** @import {State} from '../model/store.js' */
/** @import {Board} from '../model/types.js' */
/** @import {Box} from './label-room.js' */

const BAR_MAX_PX = 130;
const MARGIN_PX = 20;
const NORTH_PX = 30;

/** @param {State} state @returns {unknown[]} */
export function furnitureInputs({ doc, ui }) {
  return [ui.camera.pxPerM, ui.board, ui.viewBearingDeg, doc.site.units];
}

/** @param {Board} board @returns {Box[]} where scale bar and north arrow stand, for labels to keep out of */
export function furnitureBoxes({ widthPx, heightPx }) {
  const edge = MARGIN_PX / 2;
  return [
    { left: edge, top: heightPx - MARGIN_PX - 26, right: MARGIN_PX + BAR_MAX_PX, bottom: heightPx },
    { left: widthPx - NORTH_PX - MARGIN_PX - edge, top: 0, right: widthPx, bottom: NORTH_PX + MARGIN_PX * 2 },
  ];
}

/** @param {State} state @returns {Node[]} */
export function drawFurniture({ doc, ui }) {
  const view = viewOf(ui);
  return [scaleBar(view.camera.pxPerM, view.board.heightPx, doc.site.units), northArrow(view.bearingDeg, view.board.widthPx)];
}

/** @param {number} pxPerM @param {'metric'|'imperial'} units @returns {{lengthM: number, text: string}} the longest round length that fits */
export function barLength(pxPerM, units) {
  const unitM = units === 'imperial' ? M_PER_FT : 1;
  const most = BAR_MAX_PX / (pxPerM * unitM);
  const power = 10 ** Math.floor(Math.log10(most));
  const times = [5, 2, 1].find((t) => t * power <= most) ?? 1;
  const count = Number((times * power).toPrecision(3));
  return { lengthM: count * unitM, text: `${count} ${units === 'imperial' ? 'ft' : 'm'}` };
}

/** @param {number} pxPerM @param {number} heightPx @param {'metric'|'imperial'} units @returns {SVGGElement} */
function scaleBar(pxPerM, heightPx, units) {
  const { lengthM, text } = barLength(pxPerM, units);
  const px = lengthM * pxPerM;
  const d = `M0 -6V0H${n(px)}V-6M${n(px / 2)} -4V0`;
  return svg('g', { class: 'scale-bar', transform: `translate(${MARGIN_PX} ${n(heightPx - MARGIN_PX)})`, 'data-testid': 'scale-bar' }, [
    svg('path', { class: 'bar-halo', d }),
    svg('path', { class: 'bar-line', d }),
    svg('text', { class: 'label bar-text', x: n(px / 2), y: -16 }, [text]),
  ]);
}

/** @param {number} bearingDeg that points up @param {number} widthPx @returns {SVGGElement} */
function northArrow(bearingDeg, widthPx) {
  const mid = { x: widthPx - MARGIN_PX - NORTH_PX / 2, y: MARGIN_PX + NORTH_PX / 2 + 8 };
  const half = NORTH_PX / 2;
  const turn = `rotate(${n(-bearingDeg)})`;
  const a = (-bearingDeg * Math.PI) / 180;
  const letter = { x: Math.sin(a) * (half + 9), y: -Math.cos(a) * (half + 9) };
  return svg('g', { class: 'north', transform: `translate(${n(mid.x)} ${n(mid.y)})`, 'data-testid': 'north', 'data-bearing': n(bearingDeg) }, [
    svg('g', { transform: turn }, [
      svg('path', { class: 'north-dark', d: `M0 ${-half}L6 ${half}L0 ${half - 6}Z` }),
      svg('path', { class: 'north-light', d: `M0 ${-half}L-6 ${half}L0 ${half - 6}Z` }),
    ]),
    svg('text', { class: 'label north-text', x: n(letter.x), y: n(letter.y) }, ['N']),
  ]);
}
