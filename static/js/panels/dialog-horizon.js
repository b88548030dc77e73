// The far horizon: hills and distant buildings, as bearings with elevations.

/** @import {HorizonPoint} from '../model/types.js' */
/** @import {Context} from './props.js' */

import { setHorizon } from '../commands/index.js';
import { AROUND_MAX, aroundOf, horizonAt } from '../model/around.js';
import { compassPoint, formatBearing, parseBearing } from '../model/units.js';
import { button, h, svg } from './dom.js';
import { textField } from './field.js';
import { showForm } from './form-dialog.js';
import { parseNumberIn } from './measures.js';
import { trim } from './words.js';

/** @param {Context} context */
export function openHorizon(context) {
  const { store } = context;
  const rows = h('tbody', {});
  const table = h('table', { class: 'ruled l-horizon', 'data-testid': 'horizon-table' },
    h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'Towards'), h('th', { scope: 'col', class: 'num' }, 'Elevation'), h('th', {}, h('span', { class: 'visually-hidden' }, 'Take out')))), rows);
  const empty = h('p', { class: 'p-hint' }, 'No points: the horizon is level.');
  const preview = h('div', { class: 'l-preview' });
  let bearing = '';
  const where = textField({ name: 'horizon-bearing', label: 'Towards', hint: 'Degrees from north, or a point such as ESE.', read: () => bearing, commit: (text) => { parseBearing(text); bearing = text.trim(); where.update(store.state); } });
  const high = textField({
    name: 'horizon-elevation', label: 'Elevation', unit: '°', hint: 'Above level, as an inclinometer shows it; this adds the point.', inputmode: 'decimal',
    read: () => '',
    commit(text) {
      if (bearing === '') throw new Error('Say first towards where.');
      store.run('Add horizon point', setHorizon({ horizon: withPoint(aroundOf(store.state.doc).horizon, { azimuth_deg: parseBearing(bearing), elevation_deg: parseNumberIn(text, { min: 0, max: 90 }) }) }));
      bearing = '';
      where.update(store.state);
    },
  });
  /** @type {HorizonPoint[]|null} */ let drawn = null;
  showForm(context, {
    id: 'horizon',
    title: 'Horizon',
    body: [
      h('p', { class: 'p-hint' }, 'Hills and buildings far off, in rising bearing. Between two points the horizon runs straight. What stands near the house is drawn as a tree or a building instead.'),
      h('div', { class: 'p-group p-pairs' }, where.element, high.element),
      empty, table, preview,
    ],
    update(state) {
      where.update(state);
      high.update(state);
      const { horizon } = aroundOf(state.doc);
      if (horizon === drawn) return;
      drawn = horizon;
      empty.hidden = horizon.length > 0;
      table.hidden = horizon.length === 0;
      rows.replaceChildren(...horizon.map((p) => row(context, p)));
      preview.replaceChildren(picture(horizon));
    },
  });
}

/** @param {Context} context @param {HorizonPoint} point */
function row({ store }, point) {
  const drop = () => store.run('Take out horizon point', setHorizon({ horizon: aroundOf(store.state.doc).horizon.filter((p) => p.azimuth_deg !== point.azimuth_deg) }));
  return h('tr', {},
    h('th', { scope: 'row' }, formatBearing(point.azimuth_deg)),
    h('td', { class: 'num' }, `${trim(point.elevation_deg, 1)}°`),
    h('td', { class: 'num' }, button('Take out', drop, { class: 'quiet', 'data-testid': `horizon-drop-${point.azimuth_deg}` })));
}

/**
 * @param {HorizonPoint[]} horizon
 * @param {HorizonPoint} point takes the place of one in the same direction
 * @returns {HorizonPoint[]} rising bearings
 */
export function withPoint(horizon, point) {
  const others = horizon.filter((p) => p.azimuth_deg !== point.azimuth_deg);
  if (others.length >= AROUND_MAX.horizon) throw new Error(`There are ${AROUND_MAX.horizon} points already, which is the most.`);
  return [...others, point].sort((a, b) => a.azimuth_deg - b.azimuth_deg);
}

/** The picture shows so many degrees up, more where the horizon is higher, in units of one degree across. */
const PICTURE = Object.freeze({ upDeg: 30, highPx: 84, below: 20, stepDeg: 2 });

/** @param {HorizonPoint[]} horizon @returns {SVGSVGElement} the round view laid flat, north at both ends */
function picture(horizon) {
  const most = Math.max(PICTURE.upDeg, ...horizon.map((p) => p.elevation_deg));
  /** @param {number} deg */
  const y = (deg) => PICTURE.highPx * (1 - deg / most);
  const line = Array.from({ length: 360 / PICTURE.stepDeg + 1 }, (_, i) => `${i * PICTURE.stepDeg} ${trim(y(horizonAt(horizon, (i * PICTURE.stepDeg) % 360)), 2)}`).join('L');
  const marks = [0, 90, 180, 270, 360].flatMap((deg) => [
    svg('line', { x1: deg, x2: deg, y1: 0, y2: PICTURE.highPx, class: 'l-grid' }),
    svg('text', { x: deg, y: PICTURE.highPx + 15, 'text-anchor': deg === 0 ? 'start' : deg === 360 ? 'end' : 'middle' }, compassPoint(deg % 360)),
  ]);
  return svg('svg', { viewBox: `-2 -14 364 ${PICTURE.highPx + PICTURE.below + 14}`, role: 'img', 'aria-label': 'The horizon all round, laid flat', 'data-testid': 'horizon-picture' },
    ...marks,
    svg('path', { class: 'l-hills', d: `M0 ${PICTURE.highPx}L${line}L360 ${PICTURE.highPx}Z` }),
    svg('line', { x1: 0, x2: 360, y1: PICTURE.highPx, y2: PICTURE.highPx, class: 'l-level' }),
    svg('text', { x: 2, y: -3 }, `${trim(most, 0)}° up`));
}
