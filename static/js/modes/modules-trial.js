// Trying a place for modules. One judge tells whether the roof allows it: the
// evaluation of the very document that is tried. An edit is therefore shown
// first, as a gesture, and kept only once the answer about it is in.

import { handLayoutOf, planePart, shownCandidate } from '../model/hand.js';
import { refusalWords } from '../model/hand-words.js';

/** @import {App} from './machine.js' */
/** @import {Doc, RefusedModule} from '../model/types.js' */
/** @import {State} from '../model/store.js' */

/** @typedef {'answered'|'problems'|'gone'} Answer gone: something else took the document's place */
/**
 * @typedef {object} Stake what is tried
 * @property {string} planeId
 * @property {number} count how many modules, at the end of the plane's hand layout
 * @property {Doc} ground the document before, whose evaluation says nothing of them
 * @property {string} [misfit] how a refusal begins where it is not the place alone that is wrong
 */

/**
 * @param {App} app
 * @param {(answer: Answer) => void} then called once; at once when the answer is in already
 * @returns {() => void} stops waiting
 */
export function whenAnswered({ store }, then) {
  const { doc } = store.state;
  if (store.state.resultOf === doc) {
    then('answered');
    return () => {};
  }
  const stop = store.subscribe((now, before) => {
    const answer = now.doc !== doc ? 'gone' : now.resultOf === doc ? 'answered' : now.problems !== before.problems && now.problems.length > 0 ? 'problems' : null;
    if (!answer) return;
    stop();
    then(answer);
  });
  return stop;
}

/**
 * What stands in the way of the modules tried, as the last answer about them
 * has it: they themselves are refused, or another one because of them.
 * @param {State} state
 * @param {Stake} stake
 * @returns {RefusedModule[]}
 */
export function refusedAt(state, { planeId, count, ground }) {
  const layout = state.resultOf && state.resultOf !== ground && handLayoutOf(state.resultOf, shownCandidate(state)?.id, planeId);
  if (!layout) return [];
  const first = layout.modules.length - count;
  /** @param {number} index */
  const tried = (index) => index >= first;
  return (planePart(state, planeId)?.refused ?? []).filter((r) => tried(r.index) || (r.why === 'overlap' && r.with !== '' && tried(Number(r.with))));
}

/** @param {State} state @param {Stake} stake @param {Answer} answer @returns {string} '' or why the place is refused, a full sentence */
export function faultOf(state, stake, answer) {
  if (answer === 'problems') return 'The drawing has something to put right first, so the place could not be checked.';
  const refused = refusedAt(state, stake);
  return refused.length > 0 ? refusalWords(state.doc, refused, stake.count, stake.misfit) : '';
}

/** Said while the answer about a place is on its way. */
export const CHECKING = 'Checking the place. Escape: put back.';

/**
 * Tries edits one after the other and keeps the first that the roof allows, as
 * one undo step; none changes nothing.
 * @param {App} app
 * @param {object} trial
 * @param {string} trial.label
 * @param {((doc: Doc) => Doc)[]} trial.edits at least one
 * @param {Omit<Stake, 'ground'>} trial.stake
 * @param {(fault: string) => void} trial.done '' when one was kept
 */
export function tryEdits(app, { label, edits, stake, done }) {
  const { store } = app;
  const before = store.state.doc;
  let first = '';
  /** @param {number} i */
  const go = (i) => {
    store.preview(edits[i]);
    if (store.state.doc === before) {
      store.cancel();
      return done('');
    }
    whenAnswered(app, (answer) => {
      if (answer === 'gone') return;
      const fault = faultOf(store.state, { ...stake, ground: before }, answer);
      if (!fault) {
        store.keep();
        return done('');
      }
      first ||= fault;
      if (i + 1 < edits.length) return go(i + 1);
      store.cancel();
      done(first);
    });
  };
  store.begin(label);
  go(0);
}
