// The save state in the header: a mark of its own form and a word for each
// state, and a button where the person can do something about it.

/** @import {Save, State} from '../model/store.js' */

import { h, setAttribute, setText, svg } from '../panels/dom.js';

/** @typedef {Save['state']} SaveState */

/** @type {Record<SaveState, string>} */
const MARKS = {
  saved: 'M3 8.5 6.5 12 13 4.5',
  saving: 'M3.5 8h.01M8 8h.01M12.5 8h.01',
  offline: 'M8 2.5a5.5 5.5 0 1 0 0 11 5.5 5.5 0 0 0 0-11M4 12 12 4',
  conflict: 'M2.5 5.5h7v8h-7zM6.5 5.5v-3h7v8h-4',
  refused: 'M8 2 14.5 13.5h-13zM8 6.5v3M8 11.7h.01',
};

/** @type {Record<SaveState, string>} */
const WORDS = {
  saved: 'Saved',
  saving: 'Saving',
  offline: 'Offline, edits kept in this browser',
  conflict: 'Two versions: choose one',
  refused: 'Not saved: see why',
};

/**
 * @param {Save} save
 * @param {boolean} losesOnLeave the browser keeps no edits
 * @returns {string}
 */
export function saveWords({ state }, losesOnLeave) {
  if (state === 'offline' && losesOnLeave) return 'Offline, not kept: leave this page open';
  return WORDS[state];
}

/**
 * @param {HTMLElement} host
 * @param {{losesOnLeave: () => boolean, open: (state: SaveState) => void}} parts
 * @returns {(state: State) => void} draws the state
 */
export function createSaveState(host, { losesOnLeave, open }) {
  const path = svg('path', { fill: 'none', stroke: 'currentColor', 'stroke-width': 1.8, 'stroke-linecap': 'round', 'stroke-linejoin': 'round' });
  const mark = svg('svg', { viewBox: '0 0 16 16', width: 16, height: 16, 'aria-hidden': 'true' }, path);
  const word = h('span', { 'data-testid': 'savestate-word' });
  /** @type {SaveState} */ let shown = 'saved';
  const press = h('button', { type: 'button', class: 'quiet s-state', 'data-testid': 'savestate-button', onClick: () => open(shown) }, mark, word);
  const plain = h('span', { class: 's-state' });
  // Saving and saved come and go with every edit; only what needs a person,
  // and its end, is read out.
  const speech = h('span', { class: 'visually-hidden', role: 'status' });
  let alarmed = false;
  host.removeAttribute('role');
  host.replaceChildren(plain, speech);

  return ({ save }) => {
    shown = save.state;
    const words = saveWords(save, losesOnLeave());
    setText(word, words);
    setAttribute(path, 'd', MARKS[save.state]);
    setAttribute(host, 'data-state', save.state);
    const place = save.state === 'conflict' || save.state === 'refused' ? press : plain;
    if (host.firstChild !== place) host.replaceChild(place, /** @type {Node} */ (host.firstChild));
    if (mark.parentNode !== place) place.append(mark, word);
    const alarm = save.state !== 'saved' && save.state !== 'saving';
    if (alarm) setText(speech, words);
    else if (alarmed && save.state === 'saved') setText(speech, words);
    if (alarm || save.state === 'saved') alarmed = alarm;
  };
}
