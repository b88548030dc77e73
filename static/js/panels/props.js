// The properties column: what is selected decides which form it holds. On a
// small screen it is a sheet over the drawing.

/** @import {Store, State} from '../model/store.js' */
/** @import {Child} from './dom.js' */
/** @import {Field} from './field.js' */
/** @import {Products} from './products.js' */
/** @import {Doc, ModulePlace, ShadeArea, WeatherFile} from '../model/types.js' */
/** @import {LightSync} from '../sync/light.js' */

import { aroundOf } from '../model/around.js';
import { livePicks, liveSelection } from '../model/selection.js';
import { NOTHING } from '../model/store.js';
import { button, h, setText } from './dom.js';
import { buildingForm, treeForm } from './props-around.js';
import { cornerForm } from './props-corner.js';
import { keepOutForm } from './props-keepout.js';
import { lightForm } from './props-light.js';
import { handSection, modulesForm, refusedList } from './props-modules.js';
import { planeForm } from './props-plane.js';
import { roofForm } from './props-roof.js';
import { severalForm } from './props-several.js';

/** @typedef {'site'|'rules'|'candidates'|'target'|'counts'|'wiring'|'loads'|'cost'|'weather'|'horizon'} DialogName */
/**
 * What forms and dialogs need of the page.
 * @typedef {object} Context
 * @property {string} id of the project
 * @property {Store} store
 * @property {HTMLElement} dialogs where dialogs go
 * @property {Products} products what the catalog and the table of stations have
 * @property {(name: DialogName) => void} open
 * @property {() => void} pickEave starts picking the eave on the drawing
 * @property {(path: string) => void} jumpTo shows the field that a document path names
 * @property {(id: string) => void} act runs an action of the editor
 * @property {(planeId: string, place: ModulePlace, what: 'remove'|'unlock') => void} clearRefused of a module that the roof does not allow
 * @property {(planeId: string, place: ModulePlace) => void} showModule selects a module on the drawing
 * @property {() => LightSync|undefined} light what can be done about the light on the roof; undefined until it is followed
 * @property {(doc: Doc, pct: number) => Promise<ShadeArea[]>} shadeUnder the parts of the roof under a share of open light
 * @property {(file: Blob, name: string) => Promise<WeatherFile>} importWeather both reject with an Error in words for the person
 */
/**
 * @typedef {object} Form
 * @property {(state: State) => string} title
 * @property {Child[]} elements
 * @property {(state: State) => void} update
 */
/**
 * @typedef {object} Column
 * @property {(state: State) => void} update
 * @property {() => void} open
 * @property {() => void} close
 * @property {HTMLElement} opener the button that opens it, for a place that is always visible
 */

/**
 * @param {HTMLElement} host
 * @param {Context} context
 * @param {boolean} open at first
 * @returns {Column}
 */
export function createProps(host, context, open) {
  const { store } = context;
  const title = h('h2', { class: 'p-title', tabindex: '-1', 'data-testid': 'props-title' });
  const roof = button('Roof', () => store.setUi({ selection: NOTHING }), { class: 'quiet', 'data-testid': 'props-roof', title: 'Select nothing and see the whole roof' });
  const close = button('Close', () => {
    setOpen(false);
    opener.focus();
  }, { class: 'quiet', 'data-testid': 'props-close', 'aria-label': 'Close properties' });
  const opener = button('Properties', () => {
    setOpen(true);
    title.focus();
  }, { class: 'quiet p-opener', 'data-testid': 'props-open', 'aria-controls': host.id });
  const body = h('div', { class: 'p-body' });
  const sheet = h('div', { class: 'p-sheet' }, h('div', { class: 'p-head' }, title, roof, close), body);
  host.replaceChildren(sheet);
  setOpen(open);

  /** @type {Form|null} */ let form = null;
  let shown = '';

  /** @param {boolean} on */
  function setOpen(on) {
    host.dataset.open = String(on);
    sheet.hidden = !on;
    opener.hidden = on;
  }

  /** @param {State} state */
  function update(state) {
    const key = formKey(state);
    if (key !== shown || !form) {
      shown = key;
      const focused = body.contains(document.activeElement) ? document.activeElement?.getAttribute('data-testid') : null;
      const next = formFor(context, state);
      form = next;
      body.replaceChildren(h('div', {}, ...next.elements));
      body.scrollTop = 0;
      next.update(state);
      if (focused) focusAgain(focused);
    } else {
      form.update(state);
    }
    setText(title, form.title(state));
    roof.hidden = liveSelection(state).items.length === 0 && !livePicks(state);
  }

  /** @param {string} testId of the field that had the focus before the form was built anew */
  function focusAgain(testId) {
    const field = body.querySelector(`[data-testid="${testId}"]`);
    (field instanceof HTMLElement ? field : title).focus();
  }

  return { update, open: () => setOpen(true), close: () => setOpen(false), opener };
}

/**
 * Changes when another form is needed, or the same one with other parts.
 * @param {State} state
 * @returns {string}
 */
function formKey(state) {
  const { items, corner } = liveSelection(state);
  if (livePicks(state)) return 'modules';
  if (items.length === 0 && state.ui.light.on) return 'light';
  const { trees, buildings } = aroundOf(state.doc);
  if (items.length === 0) return `roof ${trees.map((t) => t.id)} ${buildings.map((b) => b.id)} ${state.doc.planes.map((p) => p.id)} ${state.doc.keep_outs.map((k) => k.id)}`;
  if (items.length > 1) return 'several';
  const [{ type, id }] = items;
  const keepOut = type === 'keepout' ? state.doc.keep_outs.find((k) => k.id === id) : undefined;
  const plane = type === 'plane' ? state.doc.planes.find((p) => p.id === id) : undefined;
  const building = type === 'building' ? buildings.find((b) => b.id === id) : undefined;
  const movable = corner !== null && (plane || building || keepOut?.shape === 'polygon');
  return [type, id, movable ? corner : '', keepOut?.shape, keepOut?.kind === 'shade', plane?.ring.length, building?.ring.length].join(' ');
}

/**
 * @param {Context} context
 * @param {State} state
 * @returns {Form}
 */
function formFor(context, state) {
  const { items, corner } = liveSelection(state);
  if (livePicks(state)) return modulesForm(context);
  if (items.length === 0) return state.ui.light.on ? lightForm(context) : roofForm(context);
  if (items.length > 1) return severalForm(context);
  const [item] = items;
  const movable = item.type === 'plane' || item.type === 'building' || state.doc.keep_outs.find((k) => k.id === item.id)?.shape === 'polygon';
  if (corner !== null && movable) return cornerForm(context, item, corner);
  if (item.type === 'keepout') return keepOutForm(context, item.id);
  if (item.type === 'tree') return treeForm(context, item.id);
  if (item.type === 'building') return buildingForm(context, item.id);
  return joined(planeForm(context, item.id), [refusedList(context, () => item.id)], [handSection(context, () => item.id)]);
}

/** @param {Form} form @param {Field[]} above @param {Field[]} below @returns {Form} one form with more on top and at the end */
function joined(form, above, below) {
  return {
    title: form.title,
    elements: [...above.map((f) => f.element), ...form.elements, ...below.map((f) => f.element)],
    update(state) {
      form.update(state);
      for (const field of [...above, ...below]) field.update(state);
    },
  };
}
