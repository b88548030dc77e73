// The roof as a whole: what is drawn, and the ways to its site and rules.

/** @import {State} from '../model/store.js' */
/** @import {Item} from '../model/types.js' */
/** @import {Field} from './field.js' */
/** @import {Context, Form} from './props.js' */

import { setPlane } from '../commands/index.js';
import { aroundItems, buildingOf, isAround, treeOf } from '../model/around.js';
import { nameOf, outlineOf } from '../model/selection.js';
import { allItems } from '../model/ids.js';
import { boundsOf } from '../model/geometry.js';
import { formatArea, formatLength } from '../model/units.js';
import { button, h, setText } from './dom.js';
import { checkField, fact, updateAll } from './field.js';
import { remarks } from './findings.js';
import { turnField } from './item-actions.js';
import { KEEP_OUT_KINDS, facing, keepOutName, labelOf, pitchBoth, planeName } from './words.js';

/** @param {Context} context @returns {Form} */
export function roofForm(context) {
  const { doc } = context.store.state;
  const planes = doc.planes.map(({ id }) => planeRow(context, id));
  const keepOuts = doc.keep_outs.map(({ id }) => keepOutRow(context, id));
  const totals = totalFacts();
  const turn = turnField(context, 'roof-turn', 'Turn the whole roof by', () => allItems(context.store.state.doc));
  const list = remarks(context);
  const around = aroundItems(doc).map((item) => aroundRow(context, item));
  return {
    title: () => 'Roof',
    elements: [
      list.element,
      h('div', { class: 'p-buttons p-group' },
        button('Site', () => context.open('site'), { 'data-testid': 'open-site' }),
        button('Rules', () => context.open('rules'), { 'data-testid': 'open-rules' })),
      h('div', { class: 'p-buttons p-group' },
        button('Wiring', () => context.open('wiring'), { 'data-testid': 'open-wiring' }),
        button('Loads', () => context.open('loads'), { 'data-testid': 'open-loads' }),
        button('Cost', () => context.open('cost'), { 'data-testid': 'open-cost' })),
      h('div', { class: 'p-buttons p-group' },
        button('Weather', () => context.open('weather'), { 'data-testid': 'open-weather' }),
        button('Horizon', () => context.open('horizon'), { 'data-testid': 'open-horizon' })),
      doc.planes.length > 0
        ? h('ul', { class: 'p-list', 'aria-label': 'Roof planes' }, ...planes.map((row) => row.element))
        : h('p', { class: 'p-empty' }, 'No roof planes yet. Draw the first one on the sheet: click its corners, then the first corner again.'),
      h('dl', { class: 'p-facts' }, ...totals.map((field) => field.element)),
      keepOuts.length > 0 && h('h3', {}, 'Keep-outs'),
      keepOuts.length > 0 && h('ul', { class: 'p-list' }, ...keepOuts.map((row) => row.element)),
      h('h3', {}, 'Surroundings'),
      around.length > 0
        ? h('ul', { class: 'p-list' }, ...around.map((row) => row.element))
        : h('p', { class: 'p-empty' }, 'No trees or buildings drawn that shade the roof.'),
      button('Draw surroundings', () => context.act('surroundings'), { 'data-testid': 'roof-surroundings' }),
      doc.planes.length > 0 && h('div', { class: 'p-group' }, turn.element),
      h('p', { class: 'p-safety' }, 'Measure from the ground or from drawings. The seller stays off the roof.'),
    ],
    update: updateAll([list, ...planes, ...totals, ...keepOuts, ...around, turn]),
  };
}

/** @returns {Field[]} */
function totalFacts() {
  /** @param {State} state @param {number|undefined} areaM2 */
  const area = (state, areaM2) => (areaM2 === undefined ? '–' : formatArea(areaM2, state.doc.site.units));
  return [
    fact('roof-plan-area', 'Roof seen from above', (state) => area(state, state.result?.plan_area_m2)),
    fact('roof-usable-area', 'Usable area', (state) =>
      area(state, state.result?.planes.filter((p) => p.use).reduce((sum, p) => sum + p.usable_area_m2, 0))),
  ];
}

/**
 * @param {Context} context
 * @param {Item} item
 */
function selectItem({ store }, item) {
  store.setUi({ around: isAround(item), selection: { items: [item], corner: null, edge: null } });
}

/** @param {Context} context @param {string} id @returns {Field} */
function planeRow(context, id) {
  const name = h('span', { class: 'p-row-name' });
  const about = h('span', { class: 'p-hint' });
  const open = h('button', { type: 'button', class: 'quiet p-row', 'data-testid': `roof-plane-${id}`, onClick: () => selectItem(context, { type: 'plane', id }) }, name, about);
  const use = checkField({
    name: `roof-use-${id}`, label: 'Use', bare: true,
    read: (state) => state.doc.planes.find((p) => p.id === id)?.use ?? false,
    commit: (on) => context.store.run(on ? 'Use plane' : 'Leave plane out', setPlane({ id, patch: { use: on } })),
  });
  return {
    element: h('li', {}, open, use.element),
    update(state) {
      const plane = state.doc.planes.find((p) => p.id === id);
      if (!plane) return;
      const area = state.result?.planes.find((p) => p.id === id)?.slope_area_m2;
      setText(name, planeName(state.doc, plane));
      setText(about, [facing(plane.azimuth_deg, plane.pitch_deg), pitchBoth(plane.pitch_deg), area !== undefined && formatArea(area, state.doc.site.units)].filter(Boolean).join(' · '));
      use.update(state);
    },
  };
}

/** @param {Context} context @param {string} id @returns {Field} */
function keepOutRow(context, id) {
  const name = h('span', { class: 'p-row-name' });
  const about = h('span', { class: 'p-hint' });
  const open = h('button', { type: 'button', class: 'quiet p-row', 'data-testid': `roof-keepout-${id}`, onClick: () => selectItem(context, { type: 'keepout', id }) }, name, about);
  return {
    element: h('li', {}, open),
    update(state) {
      const keepOut = state.doc.keep_outs.find((k) => k.id === id);
      if (!keepOut) return;
      setText(name, keepOutName(state.doc, keepOut));
      const kind = labelOf(KEEP_OUT_KINDS, keepOut.kind);
      setText(about, keepOut.label.startsWith(kind) ? '' : kind);
    },
  };
}

/** @param {Context} context @param {Item} item @returns {Field} a tree or a building */
function aroundRow(context, item) {
  const name = h('span', { class: 'p-row-name' });
  const about = h('span', { class: 'p-hint' });
  const open = h('button', { type: 'button', class: 'quiet p-row', 'data-testid': `roof-around-${item.id}`, onClick: () => selectItem(context, item) }, name, about);
  return {
    element: h('li', {}, open),
    update({ doc }) {
      const ring = outlineOf(doc, item);
      if (ring.length === 0) return;
      setText(name, nameOf(doc, item));
      const { min, max } = boundsOf(ring);
      const top = treeOf(doc, item.id)?.top_m ?? buildingOf(doc, item.id)?.top_m ?? 0;
      setText(about, `${formatLength(top, doc.site.units)} high, ${formatLength(max.x_m - min.x_m, doc.site.units)} across`);
    },
  };
}
