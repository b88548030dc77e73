// Decides who counts: this browser once its worker is ready, the server before
// that, and the server again for good when the worker fails. Both give the
// same answer.

/** @import {Doc} from '../model/types.js' */
/** @import {Clock} from './clock.js' */
/** @import {Evaluation} from './evaluate.js' */

/** Longest wait for the worker; after it the worker counts as dead. */
const TIMEOUT_MS = 20000;

/** @typedef {{address: string, text: string}} Begin first message to the worker: the program, and a document to warm up with */
/** @typedef {{id: number, text: string}} Question the document as JSON */
/** @typedef {{ready: true} | {id: number, answer: string} | {failed: string}} Heard what the worker says */
/**
 * @typedef {object} Line to a worker
 * @property {(message: Begin|Question) => void} post
 * @property {() => void} end stops the worker, whatever it is doing
 */
/** @typedef {(hear: (heard: Heard) => void) => Line} Start throws where the browser cannot */

/**
 * @typedef {{doc: Doc, resolve: (evaluation: Evaluation|Promise<Evaluation>) => void, endWait: () => void}} Asked
 */

/**
 * @param {object} parts
 * @param {Start} parts.start
 * @param {string} parts.address of the program; '' for none
 * @param {Doc} parts.doc to warm up with
 * @param {(doc: Doc) => Promise<Evaluation>} parts.server
 * @param {Clock} parts.clock
 * @param {() => void} parts.onReady the browser counts from now on
 * @returns {(doc: Doc) => Promise<Evaluation>} rejects when there is no answer
 */
export function createCounting({ start, address, doc: first, server, clock, onReady }) {
  /** @type {Map<number, Asked>} */ const open = new Map();
  /** @type {Line|null} */ let line = null;
  let ready = false;
  let lastId = 0;

  /** @param {Heard} heard */
  function hear(heard) {
    if (!line) return;
    if ('failed' in heard) return lose();
    if ('id' in heard) return answered(heard.id, heard.answer);
    ready = true;
    onReady();
  }

  function lose() {
    ready = false;
    line?.end();
    line = null;
    const unanswered = [...open.values()];
    open.clear();
    for (const { doc, resolve, endWait } of unanswered) {
      endWait();
      resolve(server(doc));
    }
  }

  /**
   * @param {number} id
   * @param {string} text
   */
  function answered(id, text) {
    const asked = open.get(id);
    if (!asked) return;
    const evaluation = read(text);
    if (!evaluation) return lose();
    open.delete(id);
    asked.endWait();
    asked.resolve(evaluation);
  }

  /** @param {Doc} doc @returns {Promise<Evaluation>} */
  function ask(doc) {
    return new Promise((resolve) => {
      const id = ++lastId;
      open.set(id, { doc, resolve, endWait: clock.after(TIMEOUT_MS, lose) });
      line?.post({ id, text: JSON.stringify(doc) });
    });
  }

  try {
    if (address) {
      line = start(hear);
      line.post({ address, text: JSON.stringify(first) });
    }
  } catch {
    lose();
  }
  return (doc) => (ready ? ask(doc) : server(doc));
}

/**
 * @param {string} text
 * @returns {Evaluation|null} null when it is no answer to the question
 */
function read(text) {
  try {
    const { result, problems } = JSON.parse(text);
    if (result) return { result, problems: [] };
    return Array.isArray(problems) ? { result: null, problems } : null;
  } catch {
    return null;
  }
}

/**
 * Starts the worker of a real browser.
 * @param {(heard: Heard) => void} hear
 * @returns {Line}
 */
export function startWorker(hear) {
  if (!globalThis.WebAssembly?.instantiateStreaming) throw new Error('no WebAssembly here');
  const worker = new Worker(new URL('./worker.js', import.meta.url), { type: 'module' });
  worker.addEventListener('message', ({ data }) => hear(data));
  worker.addEventListener('error', (event) => hear({ failed: event.message }));
  return {
    post: (message) => worker.postMessage(message),
    end: () => worker.terminate(),
  };
}

/**
 * @param {Document} page
 * @returns {string} the address of the program as the page's data names it; '' for none
 */
export function programOf(page) {
  const { evaluator = '' } = JSON.parse(page.getElementById('boot')?.textContent || '{}');
  return evaluator;
}
