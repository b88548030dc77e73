// Why the server did not take a save, with a way to each place.

/** @import {Doc, Finding} from '../model/types.js' */

import { button, h, setText } from '../panels/dom.js';
import { showDialog } from '../panels/dialog.js';
import { sentence } from '../panels/findings.js';
import { placeOf } from '../panels/places.js';

/**
 * @param {object} parts
 * @param {HTMLElement} parts.host
 * @param {Doc} parts.doc
 * @param {Finding[]} parts.problems
 * @param {(path: string) => void} parts.jump shows the field a path names
 * @param {() => Promise<string>} parts.saveCopy makes a new project of the drawing; answers its address
 */
export function showRefused({ host, doc, problems, jump, saveCopy }) {
  const after = h('p', { role: 'status', 'data-testid': 'refused-copy-result' });
  const copy = button('Save as a new project', async () => {
    try {
      const address = await saveCopy();
      after.replaceChildren('Saved as a project of its own: ', h('a', { href: address }, 'open it'), '.');
    } catch {
      setText(after, 'The server did not take it as a new project either. Your edits stay in this browser.');
    }
  }, { 'data-testid': 'refused-copy' });
  const shown = showDialog(host, {
    id: 'refused',
    title: 'Not saved',
    closeLabel: 'Close',
    actions: [copy],
    body: [
      h('p', {}, 'Your edits stay in this browser. They are saved as soon as this is put right:'),
      h('ul', { class: 'f-list' }, ...problems.map((problem) => h('li', {}, line(problem)))),
      after,
    ],
  });

  /** @param {Finding} problem */
  function line({ path, message }) {
    const place = placeOf(doc, path);
    if (!place) return h('p', {}, message);
    return button(sentence(doc, path, message), () => {
      shown.close();
      jump(path);
    }, { class: 'quiet f-jump' });
  }
}
