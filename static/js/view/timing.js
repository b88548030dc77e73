// How long it takes from a pointer move to the counts it leads to. Read the
// measures named 'move-to-counts' in the browser's performance timeline.

/** @import {Store} from '../model/store.js' */
/** @import {Doc} from '../model/types.js' */

/** Old measures are dropped beyond this many, so that a long sitting stays small. */
const KEPT_MEASURES = 2000;

/** @param {Store} store @returns {{moved: (timeMs: number) => void}} */
export function mountTiming(store) {
  /** @type {WeakMap<Doc, number>} when the pointer moved that made a document */
  const moves = new WeakMap();
  /** @type {number|null} */
  let moveMs = null;
  let count = 0;
  store.subscribe((now, before) => {
    if (now.doc !== before.doc && now.inGesture && moveMs !== null) {
      moves.set(now.doc, moveMs);
      performance.clearMarks('move');
      performance.mark('move', { startTime: moveMs });
    }
    // Counts show even when the drawing has gone on since: leaving those out
    // would leave out the slowest.
    if (now.resultOf === before.resultOf || !now.resultOf) return;
    const start = moves.get(now.resultOf);
    if (start === undefined) return;
    moves.delete(now.resultOf);
    // The tally is drawn in the next frame and on screen after it.
    requestAnimationFrame(() =>
      setTimeout(() => {
        if (++count % KEPT_MEASURES === 0) performance.clearMeasures('move-to-counts');
        performance.measure('move-to-counts', { start, end: performance.now() });
      }),
    );
  });
  return {
    moved(timeMs) {
      moveMs = timeMs;
    },
  };
}
