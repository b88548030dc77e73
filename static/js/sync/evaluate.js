// Keeps the counts in step with the drawing: one question in flight at a
// time, and when its answer is in, the drawing as it is by then. A fast drag
// therefore never queues up work, and never waits for a pause either.

/** @import {Doc, Result, Finding} from '../model/types.js' */
/** @import {Clock} from './clock.js' */

import { backoffMs } from './clock.js';

const FIRST_RETRY_MS = 500;
const LONGEST_RETRY_MS = 8000;

/**
 * What evaluating a document gave: a result, or the problems that keep it
 * from having one.
 * @typedef {{result: Result|null, problems: Finding[]}} Evaluation
 */
/**
 * @typedef {object} Evaluator
 * @property {(doc: Doc) => void} submit asks for a document; a newer one takes the place of one not yet sent
 * @property {() => void} retryNow ends a wait between tries
 * @property {() => void} stop takes no more answers
 */

/**
 * @param {object} parts
 * @param {(doc: Doc) => Promise<Evaluation>} parts.send rejects when there is no answer
 * @param {(doc: Doc, evaluation: Evaluation) => void} parts.onResult
 * @param {Clock} parts.clock
 * @returns {Evaluator}
 */
export function createEvaluator({ send, onResult, clock }) {
  /** @type {Doc|null} */ let next = null;
  /** @type {(() => void)|null} */ let endWait = null;
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
    onResult(doc, evaluation);
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
    submit(doc) {
      next = doc;
      pump();
    },
    retryNow: () => endWait?.(),
    stop() {
      stopped = true;
    },
  };
}
