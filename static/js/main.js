// Builds the roof editor out of its parts and starts it.

import { Store } from './model/store.js';
import { fitted } from './model/camera.js';
import { viewOf } from './model/geometry.js';
import { ACTIONS, actionForKey, actionOf, keyName, runAction } from './modes/actions.js';
import { Gestures } from './modes/gestures.js';
import { Modes } from './modes/machine.js';
import { select } from './modes/select.js';
import { mountBoard } from './view/board.js';
import { ask, showKeys } from './view/dialogs.js';
import { listenKeys, listenPointer } from './view/input.js';
import { mountModeBar } from './view/mode-bar.js';
import { mountTiming } from './view/timing.js';
import { mountToolbar } from './view/toolbar.js';
import { mountAnnouncer, mountStatus } from './view/words.js';
import { mountPanels } from './panels/index.js';
import { startSync } from './sync/index.js';

/** @import {App} from './modes/machine.js' */
/** @import {Doc} from './model/types.js' */

/** @param {string} id @returns {HTMLElement} */
function part(id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no #${id}`);
  return found;
}

/** @returns {{id: string, version: number, doc: Doc}} */
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

/** @param {App} app the first time the board has a size, show the whole roof */
function fitOnce(app) {
  const stop = app.store.subscribe(({ doc, ui }) => {
    if (ui.board.widthPx === 0) return;
    stop();
    app.store.setUi({ camera: fitted(viewOf(ui), doc) });
  });
}

function start() {
  const { id, version, doc } = boot();
  const store = new Store(doc, version);
  const { app, board } = build(id, store);
  listen(app, board);
  fitOnce(app);
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
    app.modes.active.key({ key, shift: false, alt: false, ctrl: false });
    app.view.focusBoard();
  });
  mountPanels(app);
  startSync(app);
  app.view.focusBoard();
}

start();
