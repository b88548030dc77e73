// The board: one SVG drawn from the state, layer by layer. A layer is drawn
// again only when one of its inputs changed, once a frame.

import { aroundInputs, drawAround } from './layer-around.js';
import { drawFurniture, furnitureInputs } from './layer-furniture.js';
import { drawGrid, gridInputs } from './layer-grid.js';
import { drawHandles, handleInputs } from './layer-handles.js';
import { drawKeepOuts, keepOutInputs } from './layer-keepouts.js';
import { drawLabels, labelInputs } from './layer-labels.js';
import { drawLight, drawLightValues, lightInputs, lightValueInputs } from './layer-light.js';
import { drawModules, frameInputs, moduleFrame, moduleInputs } from './layer-modules.js';
import { drawOutlines, drawWashes, planeInputs } from './layer-planes.js';
import { drawOverlay, overlayInputs } from './layer-overlay.js';
import { drawShadows, shadowInputs } from './layer-shadows.js';
import { patternDefs } from './patterns.js';
import { svg } from './svg.js';

/** @import {Store, State} from '../model/store.js' */

/** @typedef {{name: string, inPlan?: boolean, inputs: (s: State) => unknown[], draw: (s: State) => Node[]}} Layer inPlan: drawn in plan metres, in a group that follows the view */

/** @type {Layer[]} from the paper up */
const LAYERS = [
  { name: 'grid', inputs: gridInputs, draw: drawGrid },
  { name: 'washes', inputs: planeInputs, draw: drawWashes },
  { name: 'light', inPlan: true, inputs: lightInputs, draw: drawLight },
  { name: 'modules', inPlan: true, inputs: moduleInputs, draw: drawModules },
  { name: 'keepouts', inputs: keepOutInputs, draw: drawKeepOuts },
  { name: 'shadows', inputs: shadowInputs, draw: drawShadows },
  { name: 'outlines', inputs: planeInputs, draw: drawOutlines },
  { name: 'around', inputs: aroundInputs, draw: drawAround },
  { name: 'light-values', inputs: lightValueInputs, draw: drawLightValues },
  { name: 'labels', inputs: labelInputs, draw: drawLabels },
  { name: 'handles', inputs: handleInputs, draw: drawHandles },
  { name: 'overlay', inputs: overlayInputs, draw: drawOverlay },
  { name: 'furniture', inputs: furnitureInputs, draw: drawFurniture },
];

/**
 * @param {Element} host becomes, or gets, the drawing
 * @param {Store} store
 * @returns {{element: SVGSVGElement, stop: () => void}}
 */
export function mountBoard(host, store) {
  const element = host instanceof SVGSVGElement ? host : svg('svg', { class: 'board-drawing' });
  if (element !== host) host.append(element);
  element.setAttribute('tabindex', '0');
  element.setAttribute('role', 'application');
  element.setAttribute('aria-roledescription', 'roof drawing');
  element.setAttribute('aria-label', 'Roof drawing in plan. Press question mark for the keys.');
  element.setAttribute('aria-describedby', 'status');
  element.setAttribute('data-testid', 'drawing');
  const defs = patternDefs();
  const groups = LAYERS.map((layer) => svg('g', { class: `layer-${layer.name}`, 'data-layer': layer.name }));
  element.append(defs, ...groups);

  const redraw = drawer(defs, groups);
  let asked = 0;
  const ask = () => {
    asked ||= requestAnimationFrame(() => {
      asked = 0;
      redraw(store.state);
      element.style.cursor = store.state.ui.cursor;
      element.toggleAttribute('data-light', store.state.ui.light.on);
    });
  };
  const unsubscribe = store.subscribe(ask);
  const observer = new ResizeObserver(([entry]) => {
    const { width, height } = entry.contentRect;
    store.setUi({ board: { widthPx: width, heightPx: height } });
  });
  observer.observe(element);
  ask();
  return {
    element,
    stop() {
      unsubscribe();
      observer.disconnect();
      cancelAnimationFrame(asked);
    },
  };
}

/** @param {SVGDefsElement} defs @param {SVGGElement[]} groups one for each layer @returns {(state: State) => void} */
function drawer(defs, groups) {
  /** @type {unknown[][]} */
  const drawn = LAYERS.map(() => []);
  /** @type {unknown[]} */
  let frame = [];
  const moving = groups.filter((_, i) => LAYERS[i].inPlan);
  return (state) => {
    if (state.ui.board.widthPx === 0) return;
    LAYERS.forEach((layer, i) => {
      const inputs = layer.inputs(state);
      if (same(inputs, drawn[i])) return;
      drawn[i] = inputs;
      groups[i].replaceChildren(...layer.draw(state));
    });
    if (same(frameInputs(state), frame)) return;
    frame = frameInputs(state);
    const { transform, tile } = moduleFrame(state);
    for (const group of moving) group.setAttribute('transform', transform);
    for (const p of defs.querySelectorAll('pattern[id^="module-"]')) p.setAttribute('patternTransform', tile);
  };
}

/** @param {unknown[]} a @param {unknown[]} b @returns {boolean} */
function same(a, b) {
  return a.length === b.length && a.every((x, i) => Object.is(x, b[i]));
}
