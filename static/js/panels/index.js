// The panels around the drawing: tally strip, properties, dialogs.

/** @import {Store} from '../model/store.js' */
/** @import {App} from '../modes/machine.js' */
/** @import {Selection} from '../model/types.js' */
/** @import {Context, DialogName} from './props.js' */
/** @import {Place} from './places.js' */
/** @import {LightSync} from '../sync/light.js' */
/** @import {LightApi} from '../sync/light-api.js' */

import { actionOf, runAction } from '../modes/actions.js';
import { modules } from '../modes/modules.js';
import { clearRefused } from '../modes/modules-edits.js';
import { aroundOf } from '../model/around.js';
import { pickSelection } from '../model/selection.js';
import { catalogOf } from './catalog.js';
import { openCandidates } from './dialog-candidates.js';
import { openCost } from './dialog-cost.js';
import { openCounts } from './dialog-counts.js';
import { openLoads } from './dialog-loads.js';
import { openHorizon } from './dialog-horizon.js';
import { openRules } from './dialog-rules.js';
import { openSite } from './dialog-site.js';
import { openTarget } from './dialog-target.js';
import { openWeather } from './dialog-weather.js';
import { openWiring } from './dialog-wiring.js';
import { setText } from './dom.js';
import { createLightStrip } from './light-strip.js';
import { parsePath } from './places.js';
import { createProducts } from './products.js';
import { createProps } from './props.js';
import { createTally } from './tally.js';

/** Below this width properties begin as a closed sheet. */
const ROOMY_PX = 900;

/** Actions of the properties after which the drawing is worked on. */
const BOARD_ACTIONS = new Set(['surroundings', 'place-tree', 'draw-block', 'modules', 'add-module', 'select-row']);

/**
 * @typedef {object} Panels
 * @property {(name: DialogName) => void} open
 * @property {(path: string) => void} jumpTo shows the field that a document path names
 * @property {() => void} openProps
 */

/**
 * Fills the panels and keeps them in step with the store. Adds itself to the
 * app, so that other parts can lead to a field.
 * @param {App & {panels?: Panels, light?: LightSync}} app
 * @param {LightApi} lightApi
 * @returns {Panels}
 */
export function mountPanels(app, lightApi) {
  const { store } = app;
  const dialogs = place('dialogs');
  const catalog = catalogOf(document);
  /** @type {Context} */
  const context = {
    id: app.id, store, dialogs, open, pickEave, jumpTo,
    light: () => app.light,
    shadeUnder: lightApi.shade,
    importWeather: lightApi.importWeather,
    products: createProducts(window.fetch.bind(window)),
    act(id) {
      const why = runAction(actionOf(id), app);
      // Work on the drawing goes on with the keys of the board.
      if (!why && BOARD_ACTIONS.has(id)) app.view.focusBoard();
    },
    clearRefused: (planeId, place, what) => clearRefused(app, planeId, place, what),
    showModule(planeId, place) {
      store.setUi({ selection: pickSelection(planeId, [place]) });
      app.modes.go(modules(app));
      app.view.focusBoard();
    },
  };
  const props = createProps(place('props'), context, isRoomy());
  const tally = createTally({
    host: place('tally'), store,
    open,
    opener: props.opener,
    openProps: () => {
      store.setUi({ selection: { items: [], corner: null, edge: null } });
      props.open();
    },
  });

  function pickEave() {
    if (!isRoomy()) props.close();
    runAction(actionOf('pick-eave'), app);
    app.view.focusBoard();
  }

  /** @param {DialogName} name */
  function open(name) {
    switch (name) {
      case 'site': return openSite(context);
      case 'rules': return openRules(context);
      case 'target': return openTarget(context);
      case 'counts': return openCounts(context);
      case 'candidates': return openCandidates(context, catalog);
      case 'wiring': return openWiring(context);
      case 'loads': return openLoads(context);
      case 'cost': return openCost(context);
      case 'weather': return openWeather(context);
      case 'horizon': return openHorizon(context);
    }
  }

  /** @param {string} path */
  function jumpTo(path) {
    const where = parsePath(path);
    if (!where) return;
    if (where.part === 'planes' || where.part === 'keep_outs') {
      const selection = selectionOf(store, where);
      if (!selection) return;
      store.setUi({ selection, around: false });
      props.open();
    } else if (where.part === 'surroundings') {
      jumpAround(where.field);
    } else {
      open(where.part === 'yield' ? 'weather' : where.part);
    }
    focusField(fieldPath(where));
  }

  /** @param {string} field such as trees[2].top_m */
  function jumpAround(field) {
    const found = /^(trees|buildings)\[(\d+)\]/.exec(field);
    if (!found) return open('horizon');
    const tree = found[1] === 'trees';
    const thing = aroundOf(store.state.doc)[tree ? 'trees' : 'buildings'][Number(found[2])];
    if (!thing) return;
    store.setUi({ around: true, selection: { items: [{ type: tree ? 'tree' : 'building', id: thing.id }], corner: null, edge: null } });
    props.open();
  }

  const strip = createLightStrip({ strip: place('light'), board: place('board'), store, light: () => app.light });
  const label = document.querySelector('.top-label');
  function draw() {
    props.update(store.state);
    tally(store.state);
    strip(store.state);
    if (label) setText(label, store.state.doc.site.label);
  }
  store.subscribe(draw);
  draw();
  commitBeforeLeaving();
  const panels = { open, jumpTo, openProps: props.open };
  app.panels = panels;
  return panels;
}

/** @returns {boolean} whether properties have room beside the drawing */
function isRoomy() {
  return window.innerWidth >= ROOMY_PX;
}

/**
 * @param {Store} store
 * @param {Place} where a plane or keep-out
 * @returns {Selection|null} null when it is gone
 */
function selectionOf({ state }, { part, index, corner, field }) {
  const type = part === 'planes' ? 'plane' : 'keepout';
  const item = part === 'planes' ? state.doc.planes[index] : state.doc.keep_outs[index];
  if (!item) return null;
  const isCorner = corner >= 0 && field !== 'edge' && field !== 'street';
  return { items: [{ type, id: item.id }], corner: isCorner ? corner : null, edge: corner >= 0 && !isCorner ? corner : null };
}

/**
 * @param {Place} where
 * @returns {string} the data-path of its field
 */
function fieldPath({ part, index, corner, field }) {
  if (part === 'candidates') return `candidates[${index}].${field}`;
  if (part === 'planes' || part === 'keep_outs') {
    if (corner < 0) return `${part}.${field}`;
    return field === 'edge' || field === 'street' ? `planes.ring[${corner}].${field}` : `corner.${field || 'x_m'}`;
  }
  return `${part}.${field}`;
}

/** @param {string} path */
function focusField(path) {
  const field = document.querySelector(`[data-path="${CSS.escape(path)}"]`);
  if (!(field instanceof HTMLElement)) return;
  for (let fold = field.closest('details'); fold; fold = fold.parentElement?.closest('details') ?? null) fold.open = true;
  field.focus();
}

/**
 * A press on the drawing changes the selection before the field that was left
 * reports its change. Leaving the field first keeps what was typed.
 */
function commitBeforeLeaving() {
  document.addEventListener(
    'pointerdown',
    (event) => {
      const field = document.activeElement;
      if (field instanceof HTMLInputElement && field.closest('#props') && event.target !== field) field.blur();
    },
    { capture: true },
  );
}

/**
 * @param {string} id
 * @returns {HTMLElement}
 */
function place(id) {
  const element = document.getElementById(id);
  if (!element) throw new Error(`the page has no #${id}`);
  return element;
}
