// Obstructions hatched and outlined, shade areas dashed.

import { footprint, toScreen, viewOf } from '../model/geometry.js';
import { liveSelection } from '../model/selection.js';
import { pathOf, svg } from './svg.js';

/** @import {State} from '../model/store.js' */

/** @param {State} state @returns {unknown[]} */
export function keepOutInputs({ doc, ui }) {
  return [doc.keep_outs, doc.planes, ui.camera, ui.board, ui.viewBearingDeg, ui.selection];
}

/** @param {State} state @returns {Node[]} shade below obstructions */
export function drawKeepOuts(state) {
  const { doc, ui } = state;
  const view = viewOf(ui);
  const chosen = new Set(liveSelection(state).items.filter((i) => i.type === 'keepout').map((i) => i.id));
  const shadeFirst = [...doc.keep_outs].sort((a, b) => Number(b.kind === 'shade') - Number(a.kind === 'shade'));
  return shadeFirst.map((k) => {
    const d = pathOf(footprint(doc, k).map((p) => toScreen(view, p)));
    const shade = k.kind === 'shade';
    return svg(
      'g',
      { class: `keepout ${shade ? `shade ${k.shade}` : 'obstruction'}${chosen.has(k.id) ? ' selected' : ''}`, 'data-testid': 'keepout', 'data-id': k.id, 'data-kind': k.kind },
      shade
        ? [svg('path', { class: 'shade-area', d })]
        : [svg('path', { class: 'obstruction-ground', d }), svg('path', { class: 'obstruction-area', d, fill: 'url(#hatch)' })],
    );
  });
}
