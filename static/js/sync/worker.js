// A worker around the evaluation in WebAssembly. It says when it is ready, and
// then answers one document after the other.

/** @import {Begin, Question, Heard} from './counting.js' */

import '../../wasm/wasm_exec.js';

addEventListener('message', begin, { once: true });

/** @param {MessageEvent<Begin>} event */
async function begin({ data: { address, text } }) {
  try {
    const go = new Go();
    const { instance } = await WebAssembly.instantiateStreaming(fetch(address), go.importObject);
    go.run(instance).then(() => say({ failed: 'the program has ended' }));
    // The browser makes a program fast while it runs: the slow first answer
    // is one that nobody waits for.
    rooftallyEvaluate(text);
    addEventListener('message', answer);
    say({ ready: true });
  } catch (error) {
    say({ failed: String(error) });
  }
}

/** @param {MessageEvent<Question>} event */
function answer({ data: { id, text } }) {
  say({ id, answer: String(rooftallyEvaluate(text)) });
}

/** @param {Heard} heard */
function say(heard) {
  postMessage(heard);
}
