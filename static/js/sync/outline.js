// An outline that is not closed yet lives in the tab: a page that is loaded
// again takes it up where it was.

/** @import {Store} from '../model/store.js' */
/** @import {Point} from '../model/types.js' */

/** @typedef {{mode: string, points: Point[]}} Outline */

/** @param {string} project @returns {string} */
const keyOf = (project) => `rooftally-outline ${project}`;

/**
 * @param {Store} store
 * @param {string} project
 * @param {() => Storage} storage may throw where the browser forbids it
 */
export function keepOutline(store, project, storage) {
  let kept = '';
  store.subscribe((now, before) => {
    if (now.ui.overlay === before.ui.overlay && now.ui.mode === before.ui.mode) return;
    const { outline } = now.ui.overlay;
    const text = outline && outline.points.length > 0 ? JSON.stringify(outline) : '';
    // A drawing that is moved over, as with Space, is not given up.
    if (text === kept || (!text && now.ui.mode === 'pan')) return;
    kept = text;
    try {
      if (text) storage().setItem(keyOf(project), text);
      else storage().removeItem(keyOf(project));
    } catch {
      // Without a store the outline lives as long as the page.
    }
  });
}

/** @param {string} project @param {() => Storage} storage @returns {Outline|null} */
export function keptOutline(project, storage) {
  try {
    const { mode, points } = JSON.parse(storage().getItem(keyOf(project)) ?? 'null');
    const sound = typeof mode === 'string' && Array.isArray(points) && points.every((p) => Number.isFinite(p?.x_m) && Number.isFinite(p?.y_m));
    return sound && points.length > 0 ? { mode, points } : null;
  } catch {
    return null;
  }
}
