// One way to show a dialog: a title, a body, a row of buttons. Focus goes in
// when it opens and back where it was when it closes.

/** @import {Child} from './dom.js' */

import { button, h } from './dom.js';

/**
 * @typedef {object} DialogParts
 * @property {string} id for tests and styles
 * @property {string} title
 * @property {Child[]} body
 * @property {HTMLElement[]} [actions] beside the button that closes
 * @property {string} [closeLabel]
 * @property {() => void} [onClose]
 */
/** @typedef {{element: HTMLDialogElement, close: () => void}} Shown */

/**
 * @param {HTMLElement} host
 * @param {DialogParts} parts
 * @returns {Shown}
 */
export function showDialog(host, { id, title, body, actions = [], closeLabel = 'Done', onClose }) {
  host.querySelector(`dialog[data-testid="${id}"]`)?.remove();
  const headingId = `${id}-title`;
  const heading = h('h2', { id: headingId, tabindex: '-1', autofocus: true }, title);
  const done = button(closeLabel, () => element.close(), { 'data-testid': `${id}-close` });
  const element = h(
    'dialog',
    { class: 'p-dialog', 'aria-labelledby': headingId, 'data-testid': id },
    heading,
    h('div', { class: 'p-dialog-body' }, ...body),
    h('div', { class: 'dialog-actions' }, ...actions, done),
  );
  element.addEventListener('close', () => {
    element.remove();
    onClose?.();
  });
  host.append(element);
  element.showModal();
  return { element, close: () => element.close() };
}
