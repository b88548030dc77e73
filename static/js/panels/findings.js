// Problems that stop the counts and remarks that do not, each with a way to
// its place.

/** @import {State} from '../model/store.js' */
/** @import {Doc, Finding} from '../model/types.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { whyWords } from '../model/hand-words.js';
import { button, h } from './dom.js';
import { parsePath, placeOf, placedMessage } from './places.js';
import { bothUnits } from './station-words.js';
import { layoutOf, placed } from './tally-model.js';
import { letterOf, planeName, plural } from './words.js';

/**
 * @param {State} state
 * @returns {string} '' when there is nothing to say
 */
export function remarksWords(state) {
  const { problems } = state;
  if (problems.length > 0) return `${plural(problems.length, 'problem')}: counts stand still`;
  const found = remarksOf(state).length;
  return found > 0 ? plural(found, 'remark') : '';
}

const HAND = /^hand\[(\d+)\]$/;

/**
 * The remarks of the evaluation. One on modules placed by hand becomes one for
 * each of them, with its reason.
 * @param {State} state
 * @returns {Finding[]}
 */
export function remarksOf(state) {
  return (state.result?.findings ?? []).flatMap((finding) => {
    const hand = HAND.exec(finding.path);
    const own = hand ? refusedOf(state, Number(hand[1])) : [];
    if (own.length > 0) return own;
    return hand && state.gestureOf ? [] : [finding];
  });
}

/**
 * @param {State} state
 * @param {number} index of the hand layout
 * @returns {Finding[]}
 */
function refusedOf(state, index) {
  const { doc: now, result, resultOf } = state;
  const doc = resultOf ?? now;
  const hand = doc.hand[index];
  const at = doc.planes.findIndex((plane) => plane.id === hand?.plane_id);
  const letter = letterOf(doc.candidates.findIndex((candidate) => candidate.id === hand?.candidate_id));
  const found = result?.candidates.find((candidate) => candidate.id === hand?.candidate_id);
  const part = layoutOf(found)?.by_plane.find((one) => one.plane_id === hand?.plane_id);
  return (part ? placed(state, hand?.candidate_id, part) ?? [] : []).map((refused) => ({
    path: `planes[${at}]`,
    message: `${planeName(doc, doc.planes[at])}: module ${refused.index + 1} of those placed by hand for ${letter} is not allowed: ${whyWords(doc, refused, true)}`,
  }));
}

/**
 * @param {Context} context
 * @returns {Field}
 */
export function remarks(context) {
  const heading = h('h3', {});
  const list = h('ul', { class: 'f-list' });
  const element = h('section', { class: 'f-remarks', 'data-testid': 'remarks', hidden: true }, heading, list);
  let drawn = '';
  return {
    element,
    update(state) {
      const blocked = state.problems.length > 0;
      const source = blocked ? state.problems : (state.result?.findings ?? []);
      const found = blocked ? source : remarksOf(state);
      const key = JSON.stringify([blocked, found]);
      if (key === drawn) return;
      drawn = key;
      element.hidden = found.length === 0;
      element.classList.toggle('f-blocked', blocked);
      heading.textContent = blocked ? 'To put right before modules can be counted' : 'Remarks on the drawing';
      list.replaceChildren(...found.map((finding) => h('li', {}, line(context, state, finding))));
    },
  };
}

/** How messages begin that want their place for a subject. */
const PREDICATE = /^(is|are|has|lies|overlaps|marks|sets|must|cannot) /;

/**
 * A problem or remark as a sentence: its place is the subject where the message
 * lacks one.
 * @param {Doc} doc
 * @param {string} path of a place in the document
 * @param {string} message
 */
export function sentence(doc, path, message) {
  const place = placeOf(doc, path);
  const said = bothUnits(message, doc.site.units).replaceAll(/(?<=\d )m2\b/g, 'm²');
  if (!PREDICATE.test(said)) return placedMessage(place, said);
  const where = parsePath(path);
  if (!where?.field) return `${place} ${said}`;
  const cut = place.lastIndexOf(', ');
  return `${place.slice(0, cut)}: the ${place.slice(cut + 2)} ${said}`;
}

/**
 * @param {Context} context
 * @param {State} state
 * @param {Finding} finding
 */
function line({ jumpTo }, { doc }, { path, message }) {
  const place = placeOf(doc, path);
  if (!place) return h('p', {}, message);
  return button(sentence(doc, path, message), () => jumpTo(path), { class: 'quiet f-jump', 'data-path-to': path });
}
