// A dialog whose fields follow the document while it is open. Each field
// commits on its own, so that counts answer at once and undo takes back one
// field at a time.

/** @import {State} from '../model/store.js' */
/** @import {Child} from './dom.js' */
/** @import {Context} from './props.js' */

import { showDialog } from './dialog.js';

/**
 * @param {Context} context
 * @param {{id: string, title: string, body: Child[], actions?: HTMLElement[], update: (state: State) => void}} parts
 */
export function showForm({ store, dialogs }, { update, ...parts }) {
  const stop = store.subscribe(update);
  update(store.state);
  return showDialog(dialogs, { ...parts, onClose: stop });
}
