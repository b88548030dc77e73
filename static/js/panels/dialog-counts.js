// How the counts were made: which plane holds how many, and whether more
// could fit.

/** @import {State} from '../model/store.js' */
/** @import {CandidateResult, PlaneLayoutResult} from '../model/types.js' */
/** @import {Context} from './props.js' */

import { formatArea } from '../model/units.js';
import { h } from './dom.js';
import { showForm } from './form-dialog.js';
import { layoutOf } from './tally-model.js';
import { letterOf, planeName, shadeWords } from './words.js';

/** @param {Context} context */
export function openCounts(context) {
  const table = h('div', { class: 'd-scroll', tabindex: '0', role: 'region', 'aria-label': 'Counts by plane' });
  /** @type {State['result']} */ let drawn = null;
  showForm(context, {
    id: 'counts',
    title: 'How the counts are made',
    body: [
      table,
      h('p', {}, 'Modules lie in straight rows or in one grid, as the rules say, inside what edges, paths and keep-outs leave free. Each layout is checked once more by another reckoning before it is shown.'),
      h('p', {}, h('strong', {}, 'Proved'), ' means that the count reaches a limit that no arrangement square to the eave can pass. Where it does not, the table gives the limit after “at most”: a cleverer arrangement might hold more, but none is known here. A plane’s own limit on modules is not part of it.'),
      h('p', {}, h('strong', {}, 'In shade'), ' counts modules on areas marked as a last resort. They are used only when nothing else is left.'),
      h('p', { class: 'p-hint' }, 'Counts are a plan, not a promise: the roof structure, the wiring and the local code are for licensed people to check.'),
    ],
    update(state) {
      if (state.result === drawn && drawn !== null) return;
      drawn = state.result;
      table.replaceChildren(state.result ? countsTable(state, state.result.candidates) : h('p', {}, 'Nothing is counted yet.'));
    },
  });
}

/**
 * @param {State} state
 * @param {CandidateResult[]} candidates
 */
function countsTable(state, candidates) {
  const planes = state.doc.planes.filter((plane) => plane.use);
  const head = h('tr', {}, h('th', { scope: 'col' }, 'Plane'), ...candidates.map((c, i) => h('th', { scope: 'col', class: 'num' }, `${letterOf(i)} ${c.pmax_w} W`)));
  const rows = planes.map((plane) =>
    h('tr', {}, h('th', { scope: 'row' }, planeName(state.doc, plane)), ...candidates.map((c) => partCell(layoutOf(c)?.by_plane.find((part) => part.plane_id === plane.id)))),
  );
  const total = h('tr', { class: 'd-total' }, h('th', { scope: 'row' }, 'All planes'), ...candidates.map((c) => h('td', { class: 'num' }, countWords(layoutOf(c)))));
  const free = h('tr', {}, h('th', { scope: 'row' }, 'Area left free'), ...candidates.map((c) => h('td', { class: 'num' }, formatArea(layoutOf(c)?.free_area_m2 ?? 0, state.doc.site.units))));
  return h('table', { class: 'ruled', 'data-testid': 'counts-table' }, h('thead', {}, head), h('tbody', {}, ...rows, total, free));
}

/** @param {PlaneLayoutResult|undefined} part */
function partCell(part) {
  if (!part) return h('td', { class: 'num' }, '–');
  const proved = part.proved ? 'proved' : `at most ${part.bound}`;
  return h('td', { class: 'num' }, countWords(part), h('br'), h('span', { class: 'unit' }, proved));
}

/** @param {{count: number, in_shade: number}|undefined} part */
function countWords(part) {
  return part ? [String(part.count), shadeWords(part.in_shade)].filter(Boolean).join(', ') : '–';
}
