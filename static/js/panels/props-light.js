// The light as the properties tell it: where the weather is from, one module
// through the year, a limit of light, and what each thing around costs.

/** @import {State} from '../model/store.js' */
/** @import {Field} from './field.js' */
/** @import {Context, Form} from './props.js' */

import { addShadeAreas, setTarget } from '../commands/index.js';
import { isUnset } from '../model/station.js';
import { stepLitModule } from '../modes/light.js';
import { button, h, setText } from './dom.js';
import { textField } from './field.js';
import { MONTHS, litOf, monthsNote, proposalWords, shownYield, whole, worthWords } from './light-words.js';
import { parseNumberIn } from './measures.js';
import { group, note, notes, part } from './parts.js';
import { bothUnits, yearWarnings } from './station-words.js';
import { trim } from './words.js';

/** @param {Context} context @returns {Form} */
export function lightForm(context) {
  const parts = [sourcePart(context), modulePart(context), limitPart(context), worthPart(context)];
  return {
    title: () => 'Light',
    elements: parts.map((p) => p.element),
    update: (state) => parts.forEach((p) => p.update(state)),
  };
}

/** @param {Context} context @returns {Field} */
function sourcePart(context) {
  const words = note('light-source', ({ doc, light }) => bothUnits(light.map.value?.words ?? '', doc.site.units), '');
  const place = group(h('div', { class: 'p-group' }), [button('Open the site', () => context.open('site'), { 'data-testid': 'light-site' })], ({ doc }) => isUnset(doc.site));
  const open = button('Weather and losses', () => context.open('weather'), { 'data-testid': 'light-weather' });
  return part('Light of a typical year', [
    words,
    notes('light-warnings', yearWarnings, 'd-warnings'),
    h('p', { class: 'p-hint' }, 'A reckoning for a typical year, no promise for any one. The figure on a module is its share of the light that the plane would have with nothing around.'),
    place,
    open,
  ]);
}

// ---- one module ----

/** @param {Context} context @returns {Field} */
function modulePart(context) {
  const title = h('p', { class: 'l-module', 'data-testid': 'lit-title' });
  const facts = h('p', { 'data-testid': 'lit-facts' });
  const months = h('table', { class: 'ruled l-months', 'data-testid': 'lit-months' });
  const why = h('p', { class: 'p-hint', 'data-testid': 'lit-why' });
  const hint = h('p', { class: 'p-hint' }, 'Click a module on the roof, or go through them here.');
  const steps = h('div', { class: 'p-buttons' },
    button('Previous', () => stepLitModule(context, -1), { 'data-testid': 'lit-previous' }),
    button('Next', () => stepLitModule(context, 1), { 'data-testid': 'lit-next' }));
  let drawn = '';
  return {
    element: h('section', { class: 'd-part' }, h('h3', {}, 'One module through the year'), hint, title, facts, months, why, steps),
    update(state) {
      const lit = litOf(state);
      hint.hidden = lit !== null;
      for (const element of [title, facts, months, why]) element.hidden = lit === null;
      if (!lit) return;
      setText(title, lit.title);
      const { found } = lit;
      const share = found ? found.access * 100 : lit.openPct;
      setText(facts, [
        share !== null && `${Math.round(share)} % of open light`,
        lit.kwhM2 !== null && `${whole(lit.kwhM2)} kWh/m² a year`,
        found && `makes ${whole(found.ac_kwh)} kWh a year`,
      ].filter(Boolean).join('; '));
      const key = JSON.stringify(found?.monthly_access ?? []);
      months.hidden = !found;
      setText(why, found && state.light.yields.of === state.doc ? '' : monthsNote(state));
      why.hidden = why.textContent === '';
      if (key === drawn) return;
      drawn = key;
      months.replaceChildren(...(found ? monthTable(found.monthly_access) : []));
    },
  };
}

/** @param {number[]} shares of open light, twelve @returns {HTMLElement[]} */
function monthTable(shares) {
  return [
    h('caption', { class: 'visually-hidden' }, 'Share of open light by month'),
    h('tbody', {}, ...shares.map((share, i) =>
      h('tr', {}, h('th', { scope: 'row' }, MONTHS[i]), h('td', { class: 'l-bar' }, h('meter', { min: 0, max: 1, value: share, 'aria-hidden': 'true' })), h('td', { class: 'num' }, `${Math.round(share * 100)} %`)))),
  ];
}

// ---- the limit ----

/** @param {Context} context @returns {Field} */
function limitPart(context) {
  const { store } = context;
  const limit = textField({
    name: 'light-limit', label: 'Leave out places under', unit: '% of open light', inputmode: 'decimal',
    read: ({ ui }) => trim(ui.light.limitPct, 1),
    commit: (text) => store.setLightUi({ limitPct: parseNumberIn(text, { min: 0, max: 100 }), proposal: null }),
  });
  const use = button('Count without them', () => store.run('Limit light', setTarget({ patch: { min_access_pct: store.state.ui.light.limitPct } })), { 'data-testid': 'light-use-limit' });
  const drop = button('', () => store.run('Take the limit of light away', setTarget({ patch: { min_access_pct: 0 } })), { 'data-testid': 'light-drop-limit' });
  const propose = button('Propose a shade area', () => void showProposal(context), { 'data-testid': 'light-propose' });
  const take = button('Mark as shade', () => takeProposal(context), { class: 'primary', 'data-testid': 'light-take' });
  const leave = button('Leave it', () => store.setLightUi({ proposal: null }), { 'data-testid': 'light-leave' });
  const said = note('light-proposal', ({ ui }) => (ui.light.proposal ? proposalWords(ui.light.proposal.length) : ''), '');
  const asked = h('div', { class: 'p-buttons' }, take, leave);
  const inUse = note('light-limit-in-use', ({ doc }) => (doc.target.min_access_pct > 0 ? `In use: places under ${trim(doc.target.min_access_pct, 1)} % are left out of the counts.` : ''), '');
  const field = part('Dark places', [limit, h('div', { class: 'p-buttons' }, use, propose), said, asked, inUse, drop]);
  return {
    element: field.element,
    update(state) {
      field.update(state);
      const { proposal, limitPct } = state.ui.light;
      const isNew = asked.hidden && proposal !== null;
      asked.hidden = proposal === null;
      take.hidden = !proposal?.length;
      setText(leave, proposal?.length ? 'Leave it' : 'Close');
      use.disabled = limitPct === 0 || state.doc.target.min_access_pct === limitPct;
      drop.hidden = state.doc.target.min_access_pct === 0;
      setText(drop, 'Count them again');
      if (isNew) asked.scrollIntoView?.({ block: 'nearest' });
      propose.disabled = !state.light.map.value;
    },
  };
}

/** @param {Context} context */
async function showProposal(context) {
  const { store } = context;
  const { doc, ui } = store.state;
  try {
    const proposal = await context.shadeUnder(doc, ui.light.limitPct);
    if (store.state.doc === doc) store.setLightUi({ proposal });
  } catch (fault) {
    store.setUi({ status: `No shade area can be proposed: ${fault instanceof Error ? fault.message : fault}` });
  }
}

/** @param {Context} context */
function takeProposal({ store }) {
  const areas = store.state.ui.light.proposal ?? [];
  store.setLightUi({ proposal: null });
  store.run('Mark proposed shade', addShadeAreas({ areas }));
}

// ---- worth ----

/** @param {Context} context @returns {Field} */
function worthPart(context) {
  const ask = button('Work it out', () => context.light()?.askWorths(), { 'data-testid': 'worths-ask' });
  const stop = button('Cancel', () => context.light()?.stopWorths(), { 'data-testid': 'worths-stop' });
  const list = h('ul', { class: 'l-worths', 'data-testid': 'worths' });
  const said = h('p', { class: 'p-hint', 'aria-live': 'polite', 'data-testid': 'worths-note' });
  /** @type {unknown} */ let drawn = null;
  return {
    element: h('section', { class: 'd-part' }, h('h3', {}, 'What each thing around costs'), list, said, h('div', { class: 'p-buttons' }, ask, stop)),
    update(state) {
      const { worths } = state.light;
      ask.hidden = worths.step === 'asking' || (worths.value !== null && worths.of === state.doc);
      stop.hidden = worths.step !== 'asking';
      setText(said, worthsNote(state));
      said.hidden = said.textContent === '';
      const { value } = worths;
      if (value === drawn) return;
      drawn = value;
      const total = shownYield(state)?.total.ac_year ?? 0;
      list.replaceChildren(...(value ?? []).map((worth) => h('li', {}, worthWords(worth, total, state.doc.site.units))));
    },
  };
}

/** @param {State} state @returns {string} */
function worthsNote(state) {
  const { worths } = state.light;
  if (worths.step === 'asking') return 'Reckoning the year once for each thing. The drawing stays usable.';
  if (worths.step === 'failed') return `The worth is not known: ${worths.message}`;
  if (worths.value === null) return 'What the modules drawn would make more without each tree, building or chimney. It takes some seconds.';
  if (worths.of !== state.doc) return 'The drawing has changed since.';
  return worths.value.length === 0 ? 'Nothing around casts a shadow on these modules.' : 'One at a time, the others left as they are. Trees and buildings have owners; ask before anything is cut.';
}
