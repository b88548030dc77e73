// Joins store, server and browser: counts that follow the drawing, and saves.

/** @import {Store, Save} from '../model/store.js' */
/** @import {Evaluator} from './evaluate.js' */
/** @import {Sunlight} from '../model/types.js' */

import { browserClock } from './clock.js';
import { createApi } from './api.js';
import { addressesOf, createCounting, startWorker } from './counting.js';
import { createEvaluator } from './evaluate.js';
import { followLight } from './light.js';
import { createLightApi } from './light-api.js';
import { createLocal } from './local.js';
import { createSaveState } from './savestate.js';
import { claimWriter } from './writer.js';
import { Saver } from './save.js';
import { showConflict } from './conflict.js';
import { showRefused } from './refused.js';

/**
 * @typedef {object} Sync
 * @property {Saver} saver
 * @property {Evaluator} evaluator
 */

/**
 * @param {{store: Store, id: string, panels?: {jumpTo: (path: string) => void}, light?: import('./light.js').LightSync}} app
 * @param {string} savedAt when the server's version was saved
 * @returns {Promise<Sync>} once edits left behind by an earlier page are taken up
 */
export async function startSync(app, savedAt) {
  const { store, id } = app;
  const host = /** @type {HTMLElement} */ (document.getElementById('dialogs'));
  const api = createApi(window.fetch.bind(window), id);
  const clock = browserClock();
  const lightText = writtenOnce();
  const count = createCounting({
    start: startWorker,
    addresses: addressesOf(document),
    doc: store.state.doc,
    server: api.evaluate,
    clock,
    light: () => lightText(store.state.light.map.value),
    onReady() {
      performance.mark('counting-here');
      evaluator.retryNow();
    },
  });
  const evaluator = createEvaluator({
    send: count.drag,
    sendDeep: count.deep,
    onResult: (doc, { result, problems }, budget) => store.setResult(doc, result, problems, budget),
    onLooking: (isLooking) => document.getElementById('tally')?.toggleAttribute('data-looking', isLooking),
    clock,
  });
  evaluator.submit(store.state.doc);
  store.subscribe((state, before) => {
    if (state.doc !== before.doc || state.inGesture !== before.inGesture) evaluator.submit(state.doc, !state.inGesture);
    if (state.light.map.value?.key !== before.light.map.value?.key) evaluator.again();
  });
  const light = followLight({ store, api: createLightApi(window.fetch.bind(window)), clock });
  window.addEventListener('online', light.retryNow);
  app.light = light;

  const saver = new Saver({ store, project: id, savedAt, api, local: createLocal(() => indexedDB), clock });

  /** @param {Save['state']} state */
  function open(state) {
    if (state === 'conflict') showConflict({ host, saver, evaluate: (doc) => api.evaluate(doc, 'deep', store.state.light.map.value !== null), version: store.state.save.version });
    if (state === 'refused') {
      const jump = (/** @type {string} */ path) => app.panels?.jumpTo(path);
      showRefused({ host, doc: store.state.doc, problems: saver.problems, jump, saveCopy: () => api.uploadCopy(saver.mine) });
    }
  }
  const place = document.getElementById('savestate');
  const draw = place ? createSaveState(place, { losesOnLeave: () => saver.losesOnLeave, open }) : () => {};
  draw(store.state);
  store.subscribe((state, before) => {
    if (state.save === before.save) return;
    draw(state);
    if (state.save.state === 'conflict' && before.save.state !== 'conflict') open('conflict');
  });
  followPage(saver, evaluator);
  await saver.start(await claimWriter({ locks: navigator.locks, storage: () => sessionStorage, newName: newWriter }));
  return { saver, evaluator };
}

/** @returns {(light: Sunlight|null) => string} as JSON, written once for each; '' for none */
function writtenOnce() {
  /** @type {WeakMap<Sunlight, string>} */
  const texts = new WeakMap();
  return (light) => {
    if (!light) return '';
    const { key, words, planes } = light;
    const text = texts.get(light) ?? JSON.stringify({ key, words, planes });
    texts.set(light, text);
    return text;
  };
}

/**
 * @param {Saver} saver
 * @param {Evaluator} evaluator
 */
function followPage(saver, evaluator) {
  window.addEventListener('online', () => {
    saver.sendNow();
    evaluator.retryNow();
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') saver.sendNow();
  });
  window.addEventListener('beforeunload', (event) => {
    if (saver.losesOnLeave) event.preventDefault();
  });
}

/** @returns {string} */
function newWriter() {
  return Array.from(crypto.getRandomValues(new Uint32Array(4)), (n) => n.toString(36)).join('');
}
