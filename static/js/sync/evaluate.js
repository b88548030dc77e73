// Keeps the counts in step with the drawing. While it changes, one quick
// question is in flight at a time, and when its answer is in, the drawing as it
// is by then: a fast drag therefore never queues up work, and never waits for a
// pause either. Once the drawing rests, one deep question follows; it is given
// up as soon as the drawing changes.

/** @import {Doc, Result, Finding} from '../model/types.js' */
/** @import {Clock} from './clock.js' */

import { backoffMs } from './clock.js';

const FIRST_RETRY_MS = 500;
const LONGEST_RETRY_MS = 8000;

/** How long a drawing must rest before the deep question: longer than the pause between two pulls, shorter than a look at the counts. */
const REST_MS = 350;
/** Longest wait for a deep answer; without it the quick one stays. */
const DEEP_LIMIT_MS = 60000;

/** @typedef {'drag'|'deep'} Budget how much work an answer may take: within a frame, or seconds */
/**
 * What evaluating a document gave: a result, or the problems that keep it
 * from having one.
 * @typedef {{result: Result|null, problems: Finding[]}} Evaluation
 */
/**
 * @typedef {object} Evaluator
 * @property {(doc: Doc, isResting?: boolean) => void} submit asks for a document; a newer one takes the place of one not yet sent. In a gesture the drawing does not rest, even while the pointer is still
 * @property {() => void} again asks once more for the newest document, as when the light on the roof has become known
 * @property {() => void} retryNow ends a wait between tries
 * @property {() => void} stop takes no more answers
 */

/**
 * @param {object} parts
 * @param {(doc: Doc) => Promise<Evaluation>} parts.send the quick question; rejects when there is no answer
 * @param {(doc: Doc, signal: AbortSignal) => Promise<Evaluation>} parts.sendDeep rejects when there is no answer, or none is wanted any more
 * @param {(doc: Doc, evaluation: Evaluation, budget: Budget) => void} parts.onResult
 * @param {(isLooking: boolean) => void} parts.onLooking a deep question begins or ends
 * @param {Clock} parts.clock
 * @returns {Evaluator}
 */
export function createEvaluator({ send, sendDeep, onResult, onLooking, clock }) {
  const deep = createDeep({ send: sendDeep, onResult, onLooking, clock });
  /** @type {Doc|null} */ let newest = null;
  /** @type {Doc|null} */ let next = null;
  /** @type {Doc|null} */ let counted = null;
  /** @type {(() => void)|null} */ let endWait = null;
  let resting = true;
  let asking = false;
  let stopped = false;
  let failures = 0;

  function pump() {
    if (asking || endWait || stopped || !next) return;
    const doc = next;
    next = null;
    asking = true;
    send(doc).then(
      (evaluation) => answered(doc, evaluation),
      () => failed(doc),
    );
  }

  /**
   * @param {Doc} doc
   * @param {Evaluation} evaluation
   */
  function answered(doc, evaluation) {
    asking = false;
    failures = 0;
    if (stopped) return;
    pump();
    counted = evaluation.result ? doc : null;
    onResult(doc, evaluation, 'drag');
    look();
  }

  function look() {
    if (resting && newest && counted === newest) deep.ask(newest);
  }

  /** @param {Doc} doc */
  function failed(doc) {
    asking = false;
    failures += 1;
    next ??= doc;
    const cancel = clock.after(backoffMs(failures, FIRST_RETRY_MS, LONGEST_RETRY_MS), resume);
    endWait = () => {
      cancel();
      resume();
    };
  }

  function resume() {
    endWait = null;
    pump();
  }

  return {
    submit(doc, isResting = true) {
      resting = isResting;
      if (doc !== newest || !isResting) deep.drop();
      if (doc === newest) return look();
      newest = next = doc;
      pump();
    },
    again() {
      if (!newest) return;
      deep.drop();
      counted = null;
      next = newest;
      pump();
    },
    retryNow: () => endWait?.(),
    stop() {
      stopped = true;
      deep.drop();
    },
  };
}

/**
 * The deep question: asked once for each drawing that rests.
 * @param {object} parts
 * @param {(doc: Doc, signal: AbortSignal) => Promise<Evaluation>} parts.send
 * @param {(doc: Doc, evaluation: Evaluation, budget: Budget) => void} parts.onResult
 * @param {(isLooking: boolean) => void} parts.onLooking
 * @param {Clock} parts.clock
 */
function createDeep({ send, onResult, onLooking, clock }) {
  /** @type {Doc|null} asked for, waited for or answered */ let asked = null;
  /** @type {() => void} */ let giveUp = () => {};

  /** @param {Doc} doc */
  function begin(doc) {
    const control = new AbortController();
    const endLimit = clock.after(DEEP_LIMIT_MS, end);
    function end() {
      if (control.signal.aborted) return;
      control.abort();
      endLimit();
      onLooking(false);
    }
    giveUp = end;
    onLooking(true);
    send(doc, control.signal).then(
      (evaluation) => {
        if (control.signal.aborted) return;
        end();
        if (evaluation.result) onResult(doc, evaluation, 'deep');
      },
      // No deep answer leaves the quick one, which is right as far as it goes.
      end,
    );
  }

  return {
    /** @param {Doc} doc */
    ask(doc) {
      if (asked === doc) return;
      asked = doc;
      giveUp = clock.after(REST_MS, () => begin(doc));
    },
    drop() {
      giveUp();
      giveUp = () => {};
      asked = null;
    },
  };
}
