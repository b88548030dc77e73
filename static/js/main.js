// Builds the roof editor out of its parts and starts it.

import { Store } from './model/store.js';
import { fittedTo, sameCamera } from './model/camera.js';
import { ACTIONS, actionForKey, actionOf, keyName, runAction } from './modes/actions.js';
import { Gestures } from './modes/gestures.js';
import { Modes } from './modes/machine.js';
import { takeUpOutline } from './modes/take-up.js';
import { select } from './modes/select.js';
import { mountBoard } from './view/board.js';
import { ask, showKeys } from './view/dialogs.js';
import { listenKeys, listenPointer } from './view/input.js';
import { mountModeBar } from './view/mode-bar.js';
import { mountTiming } from './view/timing.js';
import { mountToolbar } from './view/toolbar.js';
import { mountAnnouncer, mountStatus } from './view/words.js';
import { mountPanels } from './panels/index.js';
import { createLightApi } from './sync/light-api.js';
import { keepOutline, keptOutline } from './sync/outline.js';
import { startSync } from './sync/index.js';

/** @import {App} from './modes/machine.js' */
/** @import {Doc} from './model/types.js' */

/** @param {string} id @returns {HTMLElement} */
function part(id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no #${id}`);
  return found;
}

/** @returns {{id: string, version: number, saved_at: string, doc: Doc}} */
function boot() {
  return JSON.parse(part('boot').textContent ?? '');
}

/** @param {string} id @param {Store} store @returns {{app: App, board: SVGSVGElement}} */
function build(id, store) {
  const board = mountBoard(part('board'), store).element;
  const dialogs = part('dialogs');
  const view = {
    ask: (/** @type {import('./modes/machine.js').Form} */ form) => ask(dialogs, form),
    showKeys: (/** @type {import('./modes/actions.js').Action[]} */ actions) => showKeys(dialogs, actions),
    focusBoard: () => board.focus({ preventScroll: true }),
  };
  /** @type {App} */
  const app = { id, store, view, modes: new Modes(), runAction: (actionId) => runAction(actionOf(actionId), app) };
  app.modes.go(select(app));
  return { app, board };
}

/** @param {App} app @param {SVGSVGElement} board */
function listen(app, board) {
  const gestures = new Gestures(app);
  const timing = mountTiming(app.store);
  listenPointer(board, gestures, timing.moved);
  listenKeys(board, {
    key(e) {
      if (app.modes.active.key(e)) return true;
      const action = e.alt ? null : actionForKey(keyName(e));
      if (!action) return false;
      runAction(action, app);
      return true;
    },
    space: (held) => gestures.space(held),
  });
}

/**
 * Shows the whole roof at first, and again when the board changes its size,
 * as long as the view is still the one that shows the whole roof.
 * @param {Store} store
 */
function keepFitted(store) {
  store.subscribe(({ doc, ui, inGesture }, before) => {
    if (ui.board === before.ui.board || ui.board.widthPx === 0) return;
    const first = before.ui.board.widthPx === 0;
    const still = !inGesture && (ui.mode === 'select' || ui.mode === 'modules') && sameCamera(ui.camera, fittedTo(before.ui, doc));
    if (first || still) store.setUi({ camera: fittedTo(ui, doc) });
  });
}

function start() {
  const { id, version, saved_at: savedAt, doc } = boot();
  const store = new Store(doc, version);
  const { app, board } = build(id, store);
  listen(app, board);
  keepFitted(store);
  mountStatus(part('status'), store);
  mountAnnouncer(document.body, store);
  mountToolbar(part('actions'), {
    actions: ACTIONS,
    store,
    run(actionId, byPointer) {
      // Drawing goes on with the keys of the board.
      const why = app.runAction(actionId);
      if (!why && (byPointer || store.state.ui.mode !== 'select') && !document.querySelector('dialog[open]')) app.view.focusBoard();
    },
  });
  mountModeBar(part('board'), store, (key) => {
    const shift = key.length === 1 && key !== key.toLowerCase();
    const pressed = { key, shift, alt: false, ctrl: false };
    const action = app.modes.active.key(pressed) ? null : actionForKey(keyName(pressed));
    if (action) runAction(action, app);
    app.view.focusBoard();
  });
  mountPanels(app, createLightApi(window.fetch.bind(window)));
  startSync(app, savedAt);
  const left = keptOutline(id, () => sessionStorage);
  if (left) takeUpOutline(app, left);
  keepOutline(store, id, () => sessionStorage);
  app.view.focusBoard();
}

start();
