import { mapped, patched } from './edit.js';

/** @import {Doc, LossLine, Weather, WeatherFile, YieldTerms} from '../model/types.js' */

/** @param {{patch: Partial<Weather>}} args @returns {(doc: Doc) => Doc} */
export function setWeather({ patch }) {
  return (doc) => patched(doc, { weather: patched(doc.weather, patch) });
}

/** @param {{file: WeatherFile}} args an imported file, which is in use from then on @returns {(doc: Doc) => Doc} */
export function takeWeatherFile({ file }) {
  return (doc) => {
    const same = doc.weather.source === 'file' && doc.weather.file?.hash === file.hash;
    return same ? doc : setWeather({ patch: { source: 'file', file } })(doc);
  };
}

/** @param {{patch: Partial<YieldTerms>}} args @returns {(doc: Doc) => Doc} */
export function setYield({ patch }) {
  return (doc) => patched(doc, { yield: patched(doc.yield, patch) });
}

/** @param {{id: string, pct: number}} args the loss is the same in every month from then on @returns {(doc: Doc) => Doc} */
export function setLoss({ id, pct }) {
  /** @param {LossLine} line */
  const change = (line) => (line.id !== id || line.monthly_pct.every((p) => p === pct) ? line : { ...line, monthly_pct: line.monthly_pct.map(() => pct) });
  return (doc) => setYield({ patch: { losses: mapped(doc.yield.losses, change) } })(doc);
}
