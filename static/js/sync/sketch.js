// A small outline drawing of a document's roof, north up.

/** @import {Doc} from '../model/types.js' */

import { boundsOf } from '../model/geometry.js';
import { svg } from '../panels/dom.js';

const SIZE = 200;
const MARGIN = 8;

/**
 * @param {Doc} doc
 * @returns {SVGSVGElement}
 */
export function sketch(doc) {
  const label = `Outline of ${doc.planes.length} roof planes`;
  const drawing = svg('svg', { viewBox: `0 0 ${SIZE} ${SIZE}`, class: 's-sketch', role: 'img', 'aria-label': label });
  const points = doc.planes.flatMap((plane) => plane.ring);
  if (points.length === 0) return drawing;
  const { min, max } = boundsOf(points);
  const spanM = Math.max(max.x_m - min.x_m, max.y_m - min.y_m, 0.001);
  const scale = (SIZE - 2 * MARGIN) / spanM;
  const left = (SIZE - (max.x_m - min.x_m) * scale) / 2;
  const top = (SIZE - (max.y_m - min.y_m) * scale) / 2;
  for (const { ring } of doc.planes) {
    const corners = ring.map((p) => `${(left + (p.x_m - min.x_m) * scale).toFixed(1)},${(top + (max.y_m - p.y_m) * scale).toFixed(1)}`);
    drawing.append(svg('polygon', { points: corners.join(' ') }));
  }
  return drawing;
}
