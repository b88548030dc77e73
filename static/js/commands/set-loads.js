import { curvesFor, newASCESnow, newENSnow, snowOfEdition } from '../model/load-defaults.js';
import { patched } from './edit.js';

/** @import {ASCESnow, Doc, ENSnow, FlushWind, Loads, TypedWind} from '../model/types.js' */

/** @param {{patch: Partial<Loads>}} args @returns {(doc: Doc) => Doc} */
export function setLoads({ patch }) {
  return (doc) => patched(doc, { loads: patched(doc.loads, patch) });
}

/**
 * Ground snow of the site's rule family. The first value brings the default
 * factors along; null takes snow away.
 * @param {{pa: number|null}} args
 * @returns {(doc: Doc) => Doc}
 */
export function setGroundSnow({ pa }) {
  return (doc) => {
    const { asce_snow: asce, en_snow: en } = doc.loads;
    if (doc.site.rule_family === 'iec') {
      return setLoads({ patch: { en_snow: pa === null ? null : en ? patched(en, { ground_pa: pa }) : newENSnow(pa) } })(doc);
    }
    const first = () => newASCESnow(editionOf(doc), /** @type {number} */ (pa));
    return setLoads({ patch: { asce_snow: pa === null ? null : asce ? patched(asce, { ground_pa: pa }) : first() } })(doc);
  };
}

/**
 * Factors of snow after ASCE 7; nothing where no ground snow is known. A slope
 * curve of a warmer roof than the thermal factor allows becomes the warmest
 * that it allows.
 * @param {{patch: Partial<ASCESnow>}} args
 * @returns {(doc: Doc) => Doc}
 */
export function setASCESnow({ patch }) {
  return (doc) => {
    const { asce_snow: snow } = doc.loads;
    if (!snow) return doc;
    const next = patched(snow, patch);
    const curves = curvesFor(next.thermal_ct);
    const curve = curves.includes(next.curve) ? next.curve : curves[0];
    return setLoads({ patch: { asce_snow: patched(next, { curve }) } })(doc);
  };
}

/** @param {{patch: Partial<ENSnow>}} args factors; nothing where no ground snow is known @returns {(doc: Doc) => Doc} */
export function setENSnow({ patch }) {
  return (doc) => (doc.loads.en_snow ? setLoads({ patch: { en_snow: patched(doc.loads.en_snow, patch) } })(doc) : doc);
}

/** @param {{patch: Partial<FlushWind>}} args factors; nothing where the rule is not in use @returns {(doc: Doc) => Doc} */
export function setFlushWind({ patch }) {
  return (doc) => (doc.loads.flush_wind ? setLoads({ patch: { flush_wind: patched(doc.loads.flush_wind, patch) } })(doc) : doc);
}

/** @param {{flush: FlushWind}|{typed: TypedWind}|{none: true}} args one kind of wind takes the other's place @returns {(doc: Doc) => Doc} */
export function setWind(args) {
  const flush_wind = 'flush' in args ? args.flush : null;
  return (doc) => {
    const typed_wind = 'typed' in args ? sameOr(doc.loads.typed_wind, args.typed) : null;
    return setLoads({ patch: { flush_wind, typed_wind } })(doc);
  };
}

/** @param {TypedWind|null} now @param {TypedWind} next @returns {TypedWind} now where nothing changes */
function sameOr(now, next) {
  return now ? patched(now, next) : next;
}

/** @param {Doc} doc @returns {ASCESnow['edition']} the one of the loads that are given, else the earlier */
export function editionOf({ loads }) {
  return loads.asce_snow?.edition ?? loads.flush_wind?.edition ?? '7-16';
}

/** @param {{edition: ASCESnow['edition']}} args snow and wind are always of one edition @returns {(doc: Doc) => Doc} */
export function setEdition({ edition }) {
  return (doc) => {
    const { asce_snow: snow, flush_wind: wind } = doc.loads;
    return setLoads({
      patch: {
        asce_snow: snow && snow.edition !== edition ? snowOfEdition(snow, edition) : snow,
        flush_wind: wind && patched(wind, { edition }),
      },
    })(doc);
  };
}
