/// <reference path="../../wasm/wasm_exec.d.ts" />
// A worker around the evaluation in WebAssembly. It says when it is ready, and
// then answers one document after the other.

/** @import {Begin, Question, Heard} from './counting.js' */

addEventListener('message', begin, { once: true });

/** @param {MessageEvent<Begin>} event */
async function begin({ data: { loader, program, text } }) {
  /** @type {Question[]} asked before the program runs */ const early = [];
  const wait = (/** @type {MessageEvent<Question>} */ { data }) => early.push(data);
  addEventListener('message', wait);
  try {
    await import(loader);
    const go = new Go();
    const made = typeof program === 'string' ? await WebAssembly.compileStreaming(fetch(program)) : program;
    go.run(await WebAssembly.instantiate(made, go.importObject)).then(() => say({ failed: 'the program has ended' }));
    // The browser makes a program fast while it runs: the slow first answer
    // is one that nobody waits for.
    if (text) rooftallyEvaluate(text, 'drag', '');
    removeEventListener('message', wait);
    addEventListener('message', ({ data }) => answer(data));
    say({ ready: made });
    early.forEach(answer);
  } catch (error) {
    say({ failed: String(error) });
  }
}

/** @param {Question} question */
function answer({ id, text, budget, light }) {
  say({ id, answer: String(rooftallyEvaluate(text, budget, light)) });
}

/** @param {Heard} heard */
function say(heard) {
  postMessage(heard);
}
