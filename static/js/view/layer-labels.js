// Words on the drawing: plane names, fall arrows with pitch, and the lengths
// and kinds of the selected plane's edges. Labels move or drop where there is
// no room.

import { aroundOf, crownRing } from '../model/around.js';
import { boundsOf, distanceM, footprint, frameOf, outwardBearingDeg, pointInRing, sinCos, toPlan, toScreen, trueLengthM, viewOf } from '../model/geometry.js';
import { labelPoint, roomAroundM } from '../model/label-place.js';
import { handlesOf, liveSelection } from '../model/selection.js';
import { formatLength, formatPitch, lengthText } from '../model/units.js';
import { edgePieces, kindWord, pieceMiddle } from './edge-pieces.js';
import { furnitureBoxes } from './layer-furniture.js';
import { LabelRoom, boxAround, shortenings, textWidthPx } from './label-room.js';
import { n, pathOf, svg } from './svg.js';

/** @import {State} from '../model/store.js' */
/** @import {Item, KeepOut, Plane, Point} from '../model/types.js' */
/** @import {Px, ViewFrame} from '../model/geometry.js' */

const SIZE_PX = 13;
const LINE_PX = 16;
const ARROW_PX = 30;
/** Names are set bold, which makes them this much wider, and keep off what is beside them. */
const BOLD = 1.07;
const BESIDE_NAME_PX = 8;
/** From an edge to the middle of the label beside it. */
const BESIDE_PX = 14;
/** A plane with less room than this around its middle shows no arrow. */
const ARROW_ROOM_PX = 34;

/** @param {State} state @returns {unknown[]} */
export function labelInputs({ doc, ui, result }) {
  return [doc.surroundings, ui.around, ui.light.on, doc.planes, doc.keep_outs, doc.site.units, doc.rules.set, ui.camera, ui.board, ui.viewBearingDeg, ui.selection, result];
}

/** @param {State} state @returns {Node[]} */
export function drawLabels(state) {
  const view = viewOf(state.ui);
  const room = new LabelRoom();
  const { items } = liveSelection(state);
  const one = items.length === 1 ? items[0] : null;
  for (const box of furnitureBoxes(view.board)) room.reserve(box);
  if (one) for (const p of handlesOf(state.doc, one)) room.reserve(boxAround(toScreen(view, p), 14, 14));
  const plane = one?.type === 'plane' ? state.doc.planes.find((p) => p.id === one.id) : undefined;
  // The selected plane's lengths are what is being looked at: they get room first.
  return [
    ...(plane ? edgeLabels(state, view, room, plane) : []),
    ...aroundLabels(state, view, room),
    // Over the map of light its values are what is read; in the garden the roof rests.
    ...(state.ui.light.on || state.ui.around ? [] : roofLabels(state, view, room, one)),
  ];
}

/** @param {State} state @param {ViewFrame} view @param {LabelRoom} room @param {Item|null} one what is selected @returns {Node[]} */
function roofLabels(state, view, room, one) {
  return [
    ...state.doc.planes.flatMap((p) => planeLabel(state, view, room, p)),
    ...state.doc.keep_outs.flatMap((k) => keepOutLabel(state, view, room, k, one?.id === k.id && one.type === 'keepout')),
  ];
}

/** @param {State} state @param {ViewFrame} view @param {LabelRoom} room @returns {Node[]} names and heights of what stands around; in the garden where nothing fits inside */
function aroundLabels(state, view, room) {
  const { doc, ui } = state;
  const { trees, buildings } = aroundOf(doc);
  const chosen = new Set(liveSelection(state).items.map((i) => i.id));
  const things = [...trees.map((t) => ({ thing: t, ring: crownRing(t), low: 10 })), ...buildings.map((b) => ({ thing: b, ring: b.ring, low: 0 }))];
  return things.flatMap(({ thing: { id, label: name, top_m }, ring, low }) => {
    const high = `${lengthText(top_m, doc.site.units)} high`;
    const texts = name ? [`${name}, ${high}`, name] : [high];
    const mid = toScreen(view, labelPoint(ring));
    const outline = ring.map((p) => toScreen(view, p));
    for (const text of texts) {
      const wide = textWidthPx(text, SIZE_PX);
      /** @param {Px} p */
      const isFree = (p) => isOnBoard(view, p, wide) && !isOverRoof(state, view, p, wide);
      const inside = roomInside(view, room, ring, low ? [{ x: mid.x, y: mid.y + low + 6 }, { x: mid.x, y: mid.y - low - 6 }].filter(isFree) : [mid].filter(isFree), wide);
      const spot = inside ?? (ui.around || chosen.has(id) ? placesAround(outline, wide).find((p) => isFree(p) && room.take(boxAround(p, wide, LINE_PX))) : undefined);
      if (spot) return [label(text, spot, 'around-label')];
    }
    return [];
  });
}

/** @param {ViewFrame} view @param {Px} p middle of a text @param {number} wide @returns {boolean} */
function isOnBoard({ board }, p, wide) {
  return p.x > wide / 2 && p.x < board.widthPx - wide / 2 && p.y > LINE_PX && p.y < board.heightPx - LINE_PX;
}

/** @param {State} state @param {ViewFrame} view @param {Px} p middle of a text @param {number} wide @returns {boolean} the text touches a plane */
function isOverRoof({ doc }, view, p, wide) {
  const { left, right, top, bottom } = boxAround(p, wide + 4, LINE_PX + 2);
  const spots = [left, p.x, right].flatMap((x) => [top, p.y, bottom].map((y) => toPlan(view, { x, y })));
  return doc.planes.some((plane) => spots.some((spot) => pointInRing(spot, plane.ring)));
}

/** @param {string} text @param {Px} at middle @param {string} cls @param {number} [turnDeg] @returns {SVGTextElement} */
function label(text, at, cls, turnDeg = 0) {
  return svg('text', {
    class: `label ${cls}`,
    x: n(at.x),
    y: n(at.y),
    transform: turnDeg ? `rotate(${n(turnDeg)} ${n(at.x)} ${n(at.y)})` : null,
  }, [text]);
}

/** @param {State} state @param {ViewFrame} view @param {LabelRoom} room @param {Plane} plane @returns {Node[]} */
function edgeLabels(state, view, room, plane) {
  const frame = frameOf(plane);
  return edgePieces(plane, state.result, state.resultOf).flatMap((piece) => {
    const lengthPx = distanceM(piece.from, piece.to) * view.camera.pxPerM;
    const length = formatLength(trueLengthM(frame, piece.from, piece.to), state.doc.site.units);
    const street = plane.ring[piece.index].street && state.doc.rules.set === 'irc_r324' ? ', street side' : '';
    const texts = piece.kind ? [`${length} ${kindWord(piece.kind)}${street}`, `${length} ${kindWord(piece.kind)}`, length] : [length];
    const out = outwardBearingDeg(plane.ring, piece.index);
    const turn = upright(out - view.bearingDeg);
    const { sin, cos } = sinCos(out - view.bearingDeg);
    const mid = toScreen(view, pieceMiddle(piece));
    for (const text of texts) {
      const wide = textWidthPx(text, SIZE_PX);
      if (wide + 12 > lengthPx) continue;
      for (const side of [1, -1]) {
        const at = { x: mid.x + sin * BESIDE_PX * side, y: mid.y - cos * BESIDE_PX * side };
        if (room.take(boxAround(at, wide, LINE_PX, turn))) return [label(text, at, 'edge-label', turn)];
      }
    }
    return [];
  });
}

/** @param {number} deg turn of a text on the screen, clockwise @returns {number} -90 < a <= 90, so that it never stands on its head */
function upright(deg) {
  const a = ((deg % 180) + 180) % 180;
  return a > 90 ? a - 180 : a;
}

/** @param {State} state @param {ViewFrame} view @param {LabelRoom} room @param {Plane} plane @returns {Node[]} fall arrow, pitch and name */
function planeLabel(state, view, room, plane) {
  const { at, roomPx } = arrowPlace(state, view, plane);
  const mid = toScreen(view, at);
  const { sin, cos } = sinCos(plane.azimuth_deg - view.bearingDeg);
  const down = { x: sin, y: -cos };
  /** @type {Node[]} */
  const nodes = [];
  const arrow = roomPx >= ARROW_ROOM_PX && plane.pitch_deg > 0;
  const tail = { x: mid.x - (down.x * ARROW_PX) / 2, y: mid.y - (down.y * ARROW_PX) / 2 };
  const tip = { x: mid.x + (down.x * ARROW_PX) / 2, y: mid.y + (down.y * ARROW_PX) / 2 };
  if (arrow) {
    room.reserve(boxAround(mid, Math.abs(tip.x - tail.x) + 10, Math.abs(tip.y - tail.y) + 10));
    nodes.push(fallArrow(tail, tip, down));
    const pitch = formatPitch(plane.pitch_deg, state.doc.site.units);
    const wide = textWidthPx(pitch, SIZE_PX);
    const spot = roomInside(view, room, plane.ring, [pushed(tip, down, pitch, 1), ...besideArrow(mid, down, wide)], wide);
    if (spot) nodes.push(label(pitch, spot, 'pitch-label'));
  }
  // Whether a plane is used is also told by its wash, so that note goes last.
  for (const name of [...(plane.use ? [] : shortenings(plane.label, ' (not used)')), ...shortenings(plane.label)]) {
    const places = arrow ? [pushed(tail, down, name, -1), ...aroundArrow(mid, down)] : [mid];
    const spot = roomInside(view, room, plane.ring, places, textWidthPx(name, SIZE_PX) * BOLD + BESIDE_NAME_PX);
    if (!spot) continue;
    nodes.push(label(name, spot, 'plane-label'));
    break;
  }
  return nodes;
}

/** @param {State} state @param {ViewFrame} view @param {Plane} plane @returns {{at: Point, roomPx: number}} the middle of the arrow: off the shade too, where there is room */
function arrowPlace(state, view, plane) {
  /** @param {boolean} shade */
  const place = (shade) => {
    const holes = keepOutsOn(state, plane, shade);
    const at = labelPoint(plane.ring, holes);
    return { at, roomPx: roomAroundM(at, plane.ring, holes) * view.camera.pxPerM };
  };
  const clear = place(true);
  return clear.roomPx >= ARROW_ROOM_PX ? clear : place(false);
}

/** @param {State} state @param {Plane} plane @param {boolean} shade with areas of shade @returns {Point[][]} outlines of what stands on it */
function keepOutsOn({ doc }, plane, shade) {
  const { min, max } = boundsOf(plane.ring);
  return doc.keep_outs
    .filter((k) => shade || k.kind !== 'shade')
    .map((k) => footprint(doc, k))
    .filter((ring) => ring.some((p) => p.x_m > min.x_m && p.x_m < max.x_m && p.y_m > min.y_m && p.y_m < max.y_m));
}

/** @param {Px} mid of the arrow @param {Px} down its direction @returns {Px[]} middles of a name above and below it */
function aroundArrow(mid, down) {
  const clear = (Math.abs(down.y) * ARROW_PX) / 2 + LINE_PX * 1.6;
  return [{ x: mid.x, y: mid.y - clear }, { x: mid.x, y: mid.y + clear }];
}

/** @param {Px} mid of the arrow @param {Px} down its direction @param {number} wide @returns {Px[]} middles of a short text on either side of it */
function besideArrow(mid, down, wide) {
  const clear = (wide / 2) * Math.abs(down.y) + (LINE_PX / 2) * Math.abs(down.x) + 9;
  return [1, -1].map((side) => ({ x: mid.x - down.y * clear * side, y: mid.y + down.x * clear * side }));
}

/** @param {ViewFrame} view @param {LabelRoom} room @param {Point[]} ring @param {Px[]} places @param {number} wide @returns {Px|undefined} the first place that is free and within the outline */
function roomInside(view, room, ring, places, wide) {
  return places.find((p) => {
    const box = boxAround(p, wide, LINE_PX);
    const within = [[box.left, box.top], [box.right, box.top], [box.right, box.bottom], [box.left, box.bottom]].every(([x, y]) =>
      pointInRing(toPlan(view, { x, y }), ring),
    );
    return within && room.take(box);
  });
}

/** @param {Px} from @param {Px} dir length 1 @param {string} text @param {1|-1} way @returns {Px} middle of a text that just clears `from` in a direction */
function pushed(from, dir, text, way) {
  const reach = (textWidthPx(text, SIZE_PX) / 2) * Math.abs(dir.x) + (LINE_PX / 2) * Math.abs(dir.y) + 5;
  return { x: from.x + dir.x * reach * way, y: from.y + dir.y * reach * way };
}

/** @param {Px} from @param {Px} tip @param {Px} dir @returns {SVGGElement} */
function fallArrow(from, tip, dir) {
  const side = { x: -dir.y, y: dir.x };
  const back = { x: tip.x - dir.x * 8, y: tip.y - dir.y * 8 };
  const head = [
    { x: back.x + side.x * 4, y: back.y + side.y * 4 },
    tip,
    { x: back.x - side.x * 4, y: back.y - side.y * 4 },
  ];
  const d = pathOf([from, tip], false) + pathOf(head, false);
  return svg('g', { class: 'fall-arrow' }, [svg('path', { class: 'fall-halo', d }), svg('path', { class: 'fall-line', d })]);
}

/** @param {State} state @param {ViewFrame} view @param {LabelRoom} room @param {KeepOut} k @param {boolean} chosen @returns {Node[]} small things are named only when they are selected; the drawing tells them */
function keepOutLabel(state, view, room, k, chosen) {
  const outline = footprint(state.doc, k);
  if (!k.label || outline.length === 0) return [];
  const wide = textWidthPx(k.label, SIZE_PX);
  const inside = roomInside(view, room, outline, [toScreen(view, labelPoint(outline))], wide);
  const spot = inside ?? (chosen ? placesAround(outline.map((p) => toScreen(view, p)), wide).find((p) => room.take(boxAround(p, wide, LINE_PX))) : undefined);
  return spot ? [label(k.label, spot, 'keepout-label')] : [];
}

/** @param {Px[]} ring @param {number} wide @returns {Px[]} below, above, right and left of an outline */
function placesAround(ring, wide) {
  const xs = ring.map((p) => p.x);
  const ys = ring.map((p) => p.y);
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const [x, y] = [(left + right) / 2, (top + bottom) / 2];
  return [
    { x, y: bottom + BESIDE_PX },
    { x, y: top - BESIDE_PX },
    { x: right + wide / 2 + 8, y },
    { x: left - wide / 2 - 8, y },
  ];
}
