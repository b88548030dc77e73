// Decides who counts: this browser once its worker is ready, the server before
// that, and the server again for good when the worker fails. Both give the
// same answer. Deep questions have a worker of their own, so that none of them
// holds up a quick one; it starts with the first of them.

/** @import {Doc} from '../model/types.js' */
/** @import {Clock} from './clock.js' */
/** @import {Budget, Evaluation} from './evaluate.js' */

/** Longest wait for a quick answer; after it the worker counts as dead. */
const TIMEOUT_MS = 20000;

/** @typedef {{worker: string, loader: string, evaluator: string}} Addresses of the scripts and of the program that they run; '' for what is missing */
/** @typedef {{loader: string, program: string|WebAssembly.Module, text: string}} Begin first message to a worker: the loader's address, the program or its address, and a document to warm up with, '' for none */
/** @typedef {{id: number, text: string, budget: Budget, light: string}} Question the document as JSON, and the light on the roof, '' while it is not known */
/** @typedef {{ready: WebAssembly.Module} | {id: number, answer: string} | {failed: string}} Heard what a worker says; ready comes with the program, so that a second worker need not make it again */
/**
 * @typedef {object} Line to a worker
 * @property {(message: Begin|Question) => void} post
 * @property {() => void} end stops the worker, whatever it is doing
 */
/** @typedef {(hear: (heard: Heard) => void, worker: string) => Line} Start throws where the browser cannot */
/** @typedef {(doc: Doc, budget: Budget, lit: boolean, signal?: AbortSignal) => Promise<Evaluation>} Server rejects when there is no answer; lit: it counts with the light on the roof */

/**
 * @typedef {{doc: Doc, resolve: (evaluation: Evaluation|Promise<Evaluation>) => void, endWait: () => void}} Asked
 */
/**
 * @typedef {object} Counting
 * @property {(doc: Doc) => Promise<Evaluation>} drag rejects when there is no answer
 * @property {(doc: Doc, signal: AbortSignal) => Promise<Evaluation>} deep rejects when there is no answer and when the signal ends it
 */

/**
 * @param {object} parts
 * @param {Start} parts.start
 * @param {Addresses} parts.addresses
 * @param {Doc} parts.doc to warm up with
 * @param {Server} parts.server
 * @param {Clock} parts.clock
 * @param {() => string} [parts.light] the newest light on the roof as JSON, '' while none is known
 * @param {() => void} parts.onReady the browser counts from now on
 * @returns {Counting}
 */
export function createCounting({ start, addresses, doc: first, server, clock, light = () => '', onReady }) {
  const { worker, loader, evaluator } = addresses;

  /** @type {Map<number, Asked>} */ const open = new Map();
  /** @type {Line|null} */ let line = null;
  /** @type {ReturnType<typeof createDeepLine>|null} */ let deeper = null;
  /** @type {() => void} */ let settle = () => {};
  /** @type {Promise<void>} kept once it is known who counts first */
  const known = new Promise((resolve) => (settle = resolve));
  let lastId = 0;

  /** @param {Heard} heard */
  function hear(heard) {
    if (!line) return;
    if ('failed' in heard) return lose();
    if ('id' in heard) return answered(heard.id, heard.answer);
    deeper = createDeepLine((to) => start(to, worker), { loader, program: heard.ready, text: '' });
    settle();
    onReady();
  }

  function lose() {
    deeper?.end();
    deeper = null;
    line?.end();
    line = null;
    settle();
    const unanswered = [...open.values()];
    open.clear();
    for (const { doc, resolve, endWait } of unanswered) {
      endWait();
      resolve(server(doc, 'drag', light() !== ''));
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
      line?.post({ id, text: JSON.stringify(doc), budget: 'drag', light: light() });
    });
  }

  try {
    if (worker && loader && evaluator) {
      line = start(hear, worker);
      line.post({ loader, program: evaluator, text: JSON.stringify(first) });
    } else {
      settle();
    }
  } catch {
    lose();
  }
  return {
    drag: (doc) => (deeper ? ask(doc) : server(doc, 'drag', light() !== '')),
    async deep(doc, signal) {
      await known;
      signal.throwIfAborted();
      try {
        if (deeper) return await deeper.ask(doc, light(), signal);
      } catch {
        signal.throwIfAborted();
      }
      return server(doc, 'deep', light() !== '', signal);
    },
  };
}

/**
 * A worker for one deep question at a time. It is ended when nobody waits for
 * its answer any more, since nothing else stops a search under way, and
 * otherwise kept for the next question, with what it remembers.
 * @param {(hear: (heard: Heard) => void) => Line} start
 * @param {Begin} first
 */
function createDeepLine(start, first) {
  /** @type {Line|null} */ let line = null;
  /** @type {((heard: Heard|null) => void)} */ let take = () => {};
  let lastId = 0;

  function end() {
    line?.end();
    line = null;
    take(null);
  }

  return {
    end,
    /** @param {Doc} doc @param {string} light @param {AbortSignal} signal @returns {Promise<Evaluation>} */
    ask(doc, light, signal) {
      const id = ++lastId;
      return new Promise((resolve, reject) => {
        signal.addEventListener('abort', end, { once: true });
        take = (heard) => {
          const evaluation = heard && 'id' in heard && heard.id === id ? read(heard.answer) : null;
          signal.removeEventListener('abort', end);
          take = () => {};
          if (evaluation) return resolve(evaluation);
          end();
          reject(new Error('no deep answer'));
        };
        line ??= begin();
        line.post({ id, text: JSON.stringify(doc), budget: 'deep', light });
      });
    },
  };

  /** @returns {Line} */
  function begin() {
    const own = start((heard) => {
      if (line === own && !('ready' in heard)) take(heard);
    });
    own.post(first);
    return own;
  }
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
 * @param {string} address
 * @returns {Line}
 */
export function startWorker(hear, address) {
  if (!globalThis.WebAssembly?.compileStreaming) throw new Error('no WebAssembly here');
  const worker = new Worker(address, { type: 'module' });
  worker.addEventListener('message', ({ data }) => hear(data));
  worker.addEventListener('messageerror', () => hear({ failed: 'a message could not be read' }));
  worker.addEventListener('error', (event) => hear({ failed: event.message }));
  return {
    post: (message) => worker.postMessage(message),
    end: () => worker.terminate(),
  };
}

/**
 * @param {Document} page
 * @returns {Addresses} as the page's data names them
 */
export function addressesOf(page) {
  const { worker = '', loader = '', evaluator = '' } = JSON.parse(page.getElementById('boot')?.textContent || '{}');
  return { worker, loader, evaluator };
}
