// The dialog over two versions of one project: both are shown, either can be
// taken, none is lost. Closing it decides nothing.

/** @import {Doc, Result} from '../model/types.js' */
/** @import {Saver} from './save.js' */
/** @import {Evaluation} from './evaluate.js' */

import { button, h, setText } from '../panels/dom.js';
import { showDialog } from '../panels/dialog.js';
import { letterOf, plural } from '../panels/words.js';
import { sketch } from './sketch.js';

/**
 * @param {object} parts
 * @param {HTMLElement} parts.host
 * @param {Saver} parts.saver
 * @param {(doc: Doc) => Promise<Evaluation>} parts.evaluate
 * @param {number} parts.version that this page's document is based on
 */
export function showConflict({ host, saver, evaluate, version }) {
  const theirs = saver.theirs;
  if (!theirs) return;
  const trouble = h('p', { class: 'problem', role: 'alert', 'data-testid': 'conflict-trouble' });
  const keep = button('Keep mine', () => {
    saver.keepMine();
    shown.close();
  }, { 'data-testid': 'conflict-keep' });
  const take = button('Take theirs', () => takeTheirs(), { 'data-testid': 'conflict-take' });

  async function takeTheirs() {
    keep.disabled = take.disabled = true;
    setText(trouble, '');
    try {
      const address = await saver.takeTheirs();
      shown.close();
      showCopy(host, address);
    } catch {
      keep.disabled = take.disabled = false;
      setText(trouble, 'Your version could not be kept as a new project just now, so nothing was changed. Try again when the server answers.');
    }
  }

  const mineTime = saver.editedAt ? `edited ${timeWords(saver.editedAt)}` : 'edited here';
  const theirsTime = theirs.savedAt ? `saved ${timeWords(Date.parse(theirs.savedAt))}` : `version ${theirs.version} on the server`;
  const shown = showDialog(host, {
    id: 'conflict',
    title: 'Two versions of this project',
    closeLabel: 'Decide later',
    body: [
      h('p', {}, `Someone saved this project after version ${version}, on which your drawing builds. Nothing is lost, whichever you take.`),
      h(
        'div',
        { class: 's-versions' },
        versionCard({ name: 'mine', title: 'Mine', time: mineTime, doc: saver.mine, evaluate, after: 'Saves yours as the newest version; theirs stays on the server as an earlier one.', action: keep }),
        versionCard({ name: 'theirs', title: 'Theirs', time: theirsTime, doc: theirs.doc, evaluate, after: 'Shows theirs here; yours is first saved as a new project.', action: take }),
      ),
      trouble,
    ],
  });
}

/**
 * @param {object} parts
 * @param {string} parts.name
 * @param {string} parts.title
 * @param {string} parts.time
 * @param {Doc} parts.doc
 * @param {(doc: Doc) => Promise<Evaluation>} parts.evaluate
 * @param {string} parts.after what taking it does
 * @param {HTMLElement} parts.action
 */
function versionCard({ name, title, time, doc, evaluate, after, action }) {
  const modules = h('p', { 'data-testid': `conflict-${name}-modules` }, 'counting modules');
  evaluate(doc).then(
    ({ result }) => setText(modules, result ? modulesWords(result) : 'modules cannot be counted'),
    () => setText(modules, 'modules not counted: no answer from the server'),
  );
  return h(
    'section',
    { class: 's-version', 'data-testid': `conflict-${name}` },
    h('h3', {}, title),
    h('p', { class: 'unit' }, time),
    sketch(doc),
    h('p', {}, `${plural(doc.planes.length, 'roof plane')}, ${plural(doc.keep_outs.length, 'keep-out')}`),
    modules,
    h('p', { class: 'p-hint' }, after),
    action,
  );
}

/** @param {Result} result */
function modulesWords({ candidates }) {
  if (candidates.length === 0) return 'no modules to compare';
  return `modules ${candidates.map((c, i) => `${letterOf(i)} ${(c.size?.layout ?? c.fill).count}`).join(', ')}`;
}

/**
 * @param {number} ms since 1970
 * @returns {string} in the reader's own time
 */
function timeWords(ms) {
  return new Date(ms).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
}

/**
 * @param {HTMLElement} host
 * @param {string} address
 */
function showCopy(host, address) {
  showDialog(host, {
    id: 'conflict-copy',
    title: 'Their version is open here',
    body: [h('p', {}, 'Yours is kept as a project of its own: ', h('a', { href: address, 'data-testid': 'conflict-copy-link' }, 'open my version'), '.')],
  });
}
