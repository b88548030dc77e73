// Problems that stop the counts and remarks that do not, each with a way to
// its place.

/** @import {State} from '../model/store.js' */
/** @import {Finding} from '../model/types.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { button, h } from './dom.js';
import { placeOf, placedMessage } from './places.js';
import { plural } from './words.js';

/**
 * @param {State} state
 * @returns {string} '' when there is nothing to say
 */
export function remarksWords({ problems, result }) {
  if (problems.length > 0) return `${plural(problems.length, 'problem')}: counts stand still`;
  const found = result?.findings.length ?? 0;
  return found > 0 ? plural(found, 'remark') : '';
}

/**
 * @param {Context} context
 * @returns {Field}
 */
export function remarks(context) {
  const heading = h('h3', {});
  const list = h('ul', { class: 'f-list' });
  const element = h('section', { class: 'f-remarks', 'data-testid': 'remarks', hidden: true }, heading, list);
  /** @type {Finding[]|null} */ let drawn = null;
  return {
    element,
    update(state) {
      const blocked = state.problems.length > 0;
      const found = blocked ? state.problems : (state.result?.findings ?? []);
      if (found === drawn) return;
      drawn = found;
      element.hidden = found.length === 0;
      element.classList.toggle('f-blocked', blocked);
      heading.textContent = blocked ? 'To put right before modules can be counted' : 'Remarks on the drawing';
      list.replaceChildren(...found.map((finding) => h('li', {}, line(context, state, finding))));
    },
  };
}

/**
 * @param {Context} context
 * @param {State} state
 * @param {Finding} finding
 */
function line({ jumpTo }, { doc }, { path, message }) {
  const place = placeOf(doc, path);
  if (!place) return h('p', {}, message);
  return button(placedMessage(place, message), () => jumpTo(path), { class: 'quiet f-jump', 'data-path-to': path });
}
