// Asks the server about the newest document, one question at a time. An answer
// that nobody waits for any more is called off, or, where questions are small
// and many, waited for before the newest is asked.

/** @import {Asked, Doc} from '../model/types.js' */
/** @import {Clock} from './clock.js' */

import { backoffMs } from './clock.js';

const FIRST_RETRY_MS = 1000;
const LONGEST_RETRY_MS = 30000;

/** What the server says about a question that it cannot answer; asking again does not help. */
export class Refused extends Error {}

/**
 * @template Q
 * @typedef {object} Asker
 * @property {(doc: Doc, question: Q) => void} want asks once the wish has rested; a newer one takes its place
 * @property {() => void} drop nothing is wanted any more
 * @property {(doc: Doc, why: string) => void} refuse there is nothing to ask about a document
 * @property {() => void} stop a person calls the question off: it is asked again only for another document, or when wanted anew
 * @property {() => void} retryNow ends a wait between tries
 */

/**
 * @template Q, T
 * @param {object} parts
 * @param {(doc: Doc, question: Q, signal: AbortSignal) => Promise<T>} parts.send rejects with Refused where the server has answered that it cannot
 * @param {(patch: Partial<Asked<T>>) => void} parts.onStep
 * @param {Clock} parts.clock
 * @param {number} parts.restMs how long a wish rests before it is sent
 * @param {boolean} [parts.isPatient] a question under way is waited for
 * @returns {Asker<Q>}
 */
export function createAsker({ send, onStep, clock, restMs, isPatient = false }) {
  /** @type {{doc: Doc, question: Q}|null} */ let wish = null;
  /** @type {AbortController|null} a question under way */ let flight = null;
  /** @type {(() => void)|null} */ let cancelWait = null;
  let failures = 0;

  /** @param {number} ms */
  function wait(ms) {
    cancelWait?.();
    cancelWait = clock.after(ms, begin);
  }

  function begin() {
    cancelWait?.();
    cancelWait = null;
    if (!wish || flight) return;
    const { doc, question } = wish;
    wish = null;
    const control = new AbortController();
    flight = control;
    onStep({ step: 'asking', message: '' });
    send(doc, question, control.signal).then(
      (value) => {
        if (flight !== control) return;
        flight = null;
        failures = 0;
        onStep({ value, of: doc, step: wish ? 'asking' : 'idle', message: '' });
        if (wish && !cancelWait) begin();
      },
      (fault) => {
        if (flight !== control) return;
        flight = null;
        failed(doc, question, fault);
      },
    );
  }

  /** @param {Doc} doc @param {Q} question @param {unknown} fault */
  function failed(doc, question, fault) {
    const message = fault instanceof Error ? fault.message : String(fault);
    if (fault instanceof Refused) {
      failures = 0;
      onStep({ value: null, of: doc, step: 'failed', message });
      if (wish && !cancelWait) begin();
      return;
    }
    failures += 1;
    wish ??= { doc, question };
    onStep({ step: 'failed', message });
    wait(backoffMs(failures, FIRST_RETRY_MS, LONGEST_RETRY_MS));
  }

  function callOff() {
    cancelWait?.();
    cancelWait = null;
    wish = null;
    flight?.abort();
    flight = null;
    failures = 0;
  }

  return {
    want(doc, question) {
      wish = { doc, question };
      if (isPatient) {
        if (!flight && !cancelWait) wait(restMs);
        return;
      }
      flight?.abort();
      flight = null;
      wait(restMs);
    },
    drop() {
      callOff();
      onStep({ step: 'idle', message: '' });
    },
    refuse(doc, why) {
      callOff();
      onStep({ value: null, of: doc, step: 'failed', message: why });
    },
    stop() {
      callOff();
      onStep({ step: 'stopped', message: '' });
    },
    retryNow() {
      if (wish && cancelWait) begin();
    },
  };
}
