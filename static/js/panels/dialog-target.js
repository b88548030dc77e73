// The question asked of every candidate.

/** @import {State} from '../model/store.js' */
/** @import {Doc, LayoutResult, Result, Target} from '../model/types.js' */
/** @import {Context} from './props.js' */

import { setTarget } from '../commands/index.js';
import { isLit } from '../model/outcome.js';
import { isUnset } from '../model/station.js';
import { button, h } from './dom.js';
import { radioField, textField, updateAll } from './field.js';
import { showForm } from './form-dialog.js';
import { parseNumberIn } from './measures.js';
import { kilowattsTyped, parseKilowatts } from './watts.js';
import { FACING_WORDS, blocksOf, facingMissing } from './tally-model.js';
import { letterOf, plural, powerUnit, shadeWords, trim, valueOf } from './words.js';

/** @param {Context} context */
export function openTarget(context) {
  const { store } = context;
  const mode = radioField({
    name: 'target-mode', label: 'Asked of each module type', path: 'target.mode',
    choices: [['fill', 'Fill the roof: how much fits'], ['size', 'Meet a size: how many modules it takes']],
    read: ({ doc }) => doc.target.mode,
    commit: (value) => store.run('Change the question', setTarget({ patch: asked(store.state, /** @type {Target['mode']} */ (value)) })),
  });
  const size = textField({
    name: 'target-size', label: 'Size', path: 'target.size_w', inputmode: 'decimal',
    unit: ({ doc }) => powerUnit(doc.site),
    hint: 'Rated power of all modules together, before losses.',
    read: ({ doc }) => kilowattsTyped(doc.target.size_w),
    commit: (text) => store.run('Change size', setTarget({ patch: { mode: 'size', size_w: parseKilowatts(text) } })),
  });
  const blocks = textField({
    name: 'target-blocks', label: 'At most', unit: 'blocks', path: 'target.max_blocks', inputmode: 'numeric', placeholder: 'no limit',
    hint: 'A block is rows that start and end together. The limit never costs a module, but may put some in shade: where so few blocks do not do, the fewest that do are used.',
    read: ({ doc }) => String(doc.target.max_blocks || ''),
    commit: (text) => store.run('Limit blocks', setTarget({ patch: { max_blocks: parseBlocks(text) } })),
  });
  const light = textField({
    name: 'target-light', label: 'Leave out places under', unit: '% of open light', path: 'target.min_access_pct', inputmode: 'decimal', placeholder: 'none',
    hint: 'Of the yearly light that the plane would have with nothing around. The Light view shows it.',
    read: ({ doc }) => (doc.target.min_access_pct > 0 ? trim(doc.target.min_access_pct, 1) : ''),
    commit: (text) => store.run('Limit light', setTarget({ patch: { min_access_pct: parseShare(text) } })),
  });
  const values = h('div', { class: 'p-group', 'data-testid': 'target-values', 'aria-live': 'polite' });
  /** @type {State['result']} */ let drawn = null;
  showForm(context, {
    id: 'target',
    title: 'Fill the roof or meet a size',
    body: [mode.element, h('div', { class: 'p-group p-pairs' }, size.element, blocks.element), light.element, values],
    update(state) {
      updateAll([mode, size, blocks, light])(state);
      const sized = state.doc.target.mode === 'size';
      size.element.hidden = blocks.element.hidden = !sized;
      if (state.result !== drawn) {
        drawn = state.result;
        values.replaceChildren(...valueParts(state.resultOf ?? state.doc, drawn, () => context.open('site')));
      }
      values.hidden = !sized || state.doc.target.size_w === 0 || values.childElementCount === 0;
    },
  });
}

/**
 * Which places were chosen, and whether others would be of more value.
 * @param {Doc} doc that was counted
 * @param {Result|null} result
 * @param {() => void} openSite
 * @returns {HTMLElement[]}
 */
function valueParts(doc, result, openSite) {
  const lit = isLit(result);
  const facingCounts = lit || !isUnset(doc.site);
  const rows = (result?.candidates ?? []).flatMap(({ size, fill }, i) => {
    const worth = size && valueOf(size, facingCounts);
    if (!worth) return [];
    const words = [placesWords(doc, size.layout, lit), blocksOf(doc, size, fill).text, worth.known].filter(Boolean).join('; ');
    return [h('li', { title: worth.points }, h('b', {}, letterOf(i)), ` ${words}`)];
  });
  if (rows.length === 0) return [];
  const order = lit ? 'then those with most light in a typical year' : facingCounts ? 'then the planes that face the noon sun best, then those farthest from shade' : 'then those farthest from shade';
  return [
    ...(facingMissing(doc) && !lit ? [h('p', { class: 'p-hint' }, `${FACING_WORDS[0].toUpperCase()}${FACING_WORDS.slice(1)}. `, button('Open the site', openSite, { class: 'quiet', 'data-testid': 'target-site' }))] : []),
    h('p', {}, `Places out of shade are taken first, ${order}.`),
    h('ul', {}, ...rows),
  ];
}

/**
 * @param {Doc} doc that was counted
 * @param {LayoutResult} layout
 * @param {boolean} [lit] counted with the light on the roof, which makes the facing beside the point
 * @returns {string} '12 modules in 3 blocks; 9 of them face the noon sun best; none in shade'
 */
export function placesWords(doc, layout, lit = false) {
  const best = layout.by_plane.filter(({ plane_id }) => sunniest(doc).includes(plane_id)).reduce((sum, { count }) => sum + count, 0);
  return [
    `${plural(layout.count, 'module')} in ${plural(layout.tidiness.blocks, 'block')}`,
    lit || isUnset(doc.site) ? '' : best === layout.count ? 'all face the noon sun best' : `${best} of them face the noon sun best`,
    shadeWords(layout.in_shade) || 'none in shade',
  ].filter(Boolean).join('; ');
}

/**
 * The used planes that face the noon sun of an equinox most squarely, to a
 * tenth of the cosine of its incidence, as package project ranks them.
 * @param {Doc} doc
 * @returns {string[]} plane IDs
 */
function sunniest({ site, planes }) {
  const rad = Math.PI / 180;
  const towardsDeg = site.lat_deg < 0 ? 0 : 180;
  const elevation = (90 - Math.abs(site.lat_deg)) * rad;
  const ranks = planes.filter((plane) => plane.use).map(({ id, pitch_deg, azimuth_deg }) => {
    const pitch = pitch_deg * rad;
    const cos = Math.cos(pitch) * Math.sin(elevation) + Math.sin(pitch) * Math.cos(elevation) * Math.cos((azimuth_deg - towardsDeg) * rad);
    return { id, tenths: Math.floor(cos * 10 + WHOLE_TENTH_SLACK) };
  });
  const most = Math.max(...ranks.map(({ tenths }) => tenths));
  return ranks.filter(({ tenths }) => tenths === most).map(({ id }) => id);
}

/** Keeps a cosine of whole tenths from falling below it by rounding, as in package project. */
const WHOLE_TENTH_SLACK = 1e-9;

/** The most that a limit of blocks can be, as the project file has it. */
const MOST_BLOCKS = 100;

/**
 * @param {string} text
 * @returns {number} 0, no limit, for nothing typed
 */
export function parseBlocks(text) {
  return text.trim() === '' ? 0 : parseNumberIn(text, { min: 0, max: MOST_BLOCKS, whole: true });
}

/**
 * @param {string} text
 * @returns {number} percent; 0, no limit, for nothing typed
 */
export function parseShare(text) {
  return text.trim() === '' ? 0 : parseNumberIn(text, { min: 0, max: 100 });
}

/** What is first proposed where no module fits yet: a usual size of a small house, common practice, no source. */
const FIRST_SIZE_W = 5000;

/**
 * The change of question. A size never typed starts at the largest whole
 * kilowatt that some candidate reaches on the roof.
 * @param {State} state
 * @param {Target['mode']} mode
 * @returns {Partial<Target>}
 */
export function asked({ doc, result }, mode) {
  if (mode !== 'size' || doc.target.size_w > 0) return { mode };
  const mostW = Math.max(0, ...(result?.candidates.map((c) => c.fill.pdc_w) ?? []));
  return { mode, size_w: Math.floor(mostW / 1000) * 1000 || FIRST_SIZE_W };
}
