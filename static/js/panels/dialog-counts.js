// How the counts were made: which plane holds how many, and whether more
// could fit.

/** @import {State} from '../model/store.js' */
/** @import {CandidateResult, Doc, LayoutResult, PlaneLayoutResult, Tidiness} from '../model/types.js' */
/** @import {Context} from './props.js' */

import { isLit, isWidened } from '../model/outcome.js';
import { isUnset } from '../model/station.js';
import { formatArea } from '../model/units.js';
import { h } from './dom.js';
import { showForm } from './form-dialog.js';
import { layoutOf, limitOf, refusals, ridgeWords } from './tally-model.js';
import { handWords, kilowatts, letterOf, offerWords, planeName, powerUnit, shadeWords, valueOf } from './words.js';

/** @param {Context} context */
export function openCounts(context) {
  const table = h('div', { class: 'd-scroll', tabindex: '0', role: 'region', 'aria-label': 'Counts by plane' });
  const ridge = h('div', { 'data-testid': 'counts-ridge' });
  const offers = h('p', { 'data-testid': 'counts-offers' });
  const refused = h('div', { 'data-testid': 'counts-refused' });
  const stale = h('p', { class: 'problem', 'data-testid': 'counts-stale' }, 'The drawing has changed since: these counts are of the earlier one.');
  /** @type {State['result']} */ let drawn = null;
  showForm(context, {
    id: 'counts',
    title: 'How the counts are made',
    body: [
      stale,
      table,
      ridge,
      refused,
      h('p', {}, 'Modules lie in rows, in columns, in one grid or so that most fit, as the rules say, inside what edges, paths and keep-outs leave free. Each layout is checked once more by another reckoning before it is shown. While the drawing changes the count is a quick one; once it rests, a longer search follows.'),
      h('p', {}, 'A ', h('strong', {}, 'rail run'), ' is modules side by side in one row, which share their rails. A ', h('strong', {}, 'block'), ' is rail runs one above the other that start and end together. Fewer of both, and one orientation, are less work and look calmer.'),
      h('p', {}, h('strong', {}, 'Proved'), ' means that the count reaches a limit that no arrangement square to the eave can pass. Where it does not, the table gives the limit after “at most”: more might fit, up to that. “Room for” stands where fewer are asked for.'),
      offers,
      h('p', {}, h('strong', {}, 'Limited'), ' means that a plane is held at the number of modules set for it, though more may fit.'),
      h('p', {}, h('strong', {}, 'In shade'), ' counts modules on areas marked as a last resort. They are used only when nothing else is left.'),
      h('p', { class: 'p-hint' }, 'Counts are a plan, not a promise: the roof structure, the wiring and the local code are for licensed people to check.'),
    ],
    update(state) {
      stale.hidden = state.result === null || state.resultOf === state.doc;
      if (state.result === drawn && drawn !== null) return;
      drawn = state.result;
      ridge.replaceChildren(...ridgeNotes(state.result?.candidates ?? []));
      offers.textContent = offersWords(state.result?.candidates ?? []);
      offers.hidden = offers.textContent === '';
      refused.replaceChildren(...refusedNotes(state));
      table.replaceChildren(state.result ? countsTable(state, state.result.candidates) : h('p', {}, 'Nothing is counted yet.'));
    },
  });
}

/** @param {CandidateResult[]} candidates @returns {HTMLElement[]} a line when some keep the wider strip along the ridge */
function ridgeNotes(candidates) {
  const parts = candidates.flatMap((c, i) => (isWidened(c) ? [{ letter: letterOf(i), result: c }] : []));
  if (parts.length === 0) return [];
  return [h('p', {}, h('strong', {}, 'Ridge strip widened'), ` for ${ridgeWords(parts)}`)];
}

/** @param {CandidateResult[]} candidates @returns {string} what is known to hold more, '' for nothing */
export function offersWords(candidates) {
  const parts = candidates.flatMap((c, i) => {
    const layout = layoutOf(c);
    return c.offer && layout ? [`${letterOf(i)}: ${offerWords(c.offer, layout.tidiness.turns)}`] : [];
  });
  return parts.length > 0 ? `The style most modules is known to hold more than is counted here. ${parts.join('. ')}.` : '';
}

/** @param {State} state @returns {HTMLElement[]} the modules placed by hand that do not count */
function refusedNotes({ doc, result, resultOf }) {
  const lines = (result?.candidates ?? []).flatMap((c, i) => refusals(resultOf ?? doc, layoutOf(c)).map((words) => h('li', {}, `${letterOf(i)}, ${words}`)));
  if (lines.length === 0) return [];
  return [h('p', {}, h('strong', {}, 'Not allowed'), ', and therefore not counted:'), h('ul', {}, ...lines)];
}

/** The rows on how even a layout is. @type {readonly [string, keyof Tidiness][]} */
const TIDY_ROWS = Object.freeze([['Rail runs', 'rail_runs'], ['Blocks', 'blocks'], ['Orientations', 'turns']]);

/**
 * @param {State} state
 * @param {CandidateResult[]} candidates
 */
function countsTable(state, candidates) {
  const planes = state.doc.planes.filter((plane) => plane.use);
  const head = h('tr', {}, h('th', { scope: 'col' }, 'Plane'), ...candidates.map((c, i) => h('th', { scope: 'col', class: 'num' }, `${letterOf(i)} ${c.pmax_w} W`)));
  const rows = planes.map((plane) =>
    h('tr', {}, h('th', { scope: 'row' }, planeName(state.doc, plane)), ...candidates.map((c) => partCell(state.resultOf ?? state.doc, layoutOf(c)?.by_plane.find((part) => part.plane_id === plane.id)))),
  );
  const total = h('tr', { class: 'd-total' }, h('th', { scope: 'row' }, 'All planes'), ...candidates.map((c) => totalCell(layoutOf(c))));
  const tidy = TIDY_ROWS.map(([label, part]) => h('tr', {}, h('th', { scope: 'row' }, label), ...candidates.map((c) => h('td', { class: 'num' }, String(layoutOf(c)?.tidiness[part] ?? 0)))));
  const unit = powerUnit(state.doc.site);
  const power = h('tr', {}, h('th', { scope: 'row' }, `Rated power, ${unit}`), ...candidates.map((c) => h('td', { class: 'num' }, kilowatts(layoutOf(c)?.pdc_w ?? 0))));
  const free = h('tr', {}, h('th', { scope: 'row' }, 'Usable area left free'), ...candidates.map((c) => h('td', { class: 'num' }, formatArea(layoutOf(c)?.free_area_m2 ?? 0, state.doc.site.units))));
  return h('table', { class: 'ruled', 'data-testid': 'counts-table' }, h('thead', {}, head), h('tbody', {}, ...rows, total, ...tidy, power, free, ...valueRows(state.resultOf ?? state.doc, candidates, isLit(state.result))));
}

/** @param {Doc} doc that was counted @param {CandidateResult[]} candidates @param {boolean} lit @returns {HTMLElement[]} whether the places chosen for a size are those of most value */
function valueRows(doc, candidates, lit) {
  const worths = candidates.map(({ size }) => size && valueOf(size, lit || !isUnset(doc.site)));
  if (!worths.some((worth) => worth?.known)) return [];
  const cells = worths.map((worth) => h('td', { class: 'num', title: worth?.points }, h('span', { class: 'unit' }, worth?.known || '–')));
  return [h('tr', {}, h('th', { scope: 'row' }, 'Places chosen'), ...cells)];
}

/** @param {Doc} doc that was counted @param {PlaneLayoutResult|undefined} part */
function partCell(doc, part) {
  if (!part) return h('td', { class: 'num' }, '–');
  // What a person placed is not held against what the plane could hold.
  const said = part.hand === 'by_hand' ? handWords(part) : [handWords(part), knownWords(doc, part)].filter(Boolean).join(', ');
  return h('td', { class: 'num' }, String(part.count), ...below(shadeWords(part.in_shade), said));
}

/** @param {LayoutResult|undefined} layout */
function totalCell(layout) {
  const gained = layout?.gained ?? 0;
  return h('td', { class: 'num' }, layout ? String(layout.count) : '–', ...below(shadeWords(layout?.in_shade ?? 0), gained > 0 ? `+${gained} by the longer search` : ''));
}

/** @param {...string} lines @returns {HTMLElement[]} each on its own line under a figure; '' takes none */
function below(...lines) {
  return lines.filter(Boolean).flatMap((words) => [h('br'), h('span', { class: 'unit' }, words)]);
}

/** @param {Doc} doc @param {PlaneLayoutResult} part @returns {string} how its count stands to what the plane can hold */
export function knownWords(doc, part) {
  if (limitOf(doc, part) !== null) return 'limited';
  if (part.count === part.bound) return 'proved';
  // Asked for a size, a plane need not be full.
  return part.proved ? `room for ${part.bound}` : `at most ${part.bound}`;
}
