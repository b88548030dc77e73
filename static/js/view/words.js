// The status line and the spoken notes.

import { html } from './svg.js';

/** @import {Store} from '../model/store.js' */

/** @param {HTMLElement|null} host `#status` @param {Store} store */
export function mountStatus(host, store) {
  if (!host) return;
  const show = () => {
    if (host.textContent !== store.state.ui.status) host.textContent = store.state.ui.status;
  };
  host.dataset.testid = 'status';
  store.subscribe(show);
  show();
}

/**
 * A region that a screen reader speaks; it says each undo step.
 * @param {HTMLElement} host
 * @param {Store} store
 */
export function mountAnnouncer(host, store) {
  const region = html('div', { class: 'visually-hidden', 'aria-live': 'polite', 'data-testid': 'announcer' });
  host.append(region);
  store.subscribe((now, before) => {
    if (now.lastStep && now.lastStep !== before.lastStep) region.textContent = `${WAYS[now.lastStep.way]}${now.lastStep.label}.`;
  });
}

const WAYS = Object.freeze({ done: '', undone: 'Undone: ', redone: 'Redone: ' });
