// What the dialogs ask the server: products of the catalog and the weather
// station nearest to the site. A list is asked for once and kept; an answer
// that did not come is asked for again the next time.

/** @import {Product, Site, StationCopy} from '../model/types.js' */

/** @typedef {'inverters'|'micro-inverters'|'optimisers'} ProductList */
/**
 * @typedef {object} Products
 * @property {(kind: ProductList) => Promise<Product[]>} list
 * @property {(site: Site) => Promise<StationCopy>} station
 */

const TIMEOUT_MS = 20000;

/**
 * @param {typeof globalThis.fetch} fetch
 * @returns {Products} both reject with an Error in words for the person
 */
export function createProducts(fetch) {
  /** @type {Map<ProductList, Promise<Product[]>>} */
  const kept = new Map();

  /** @param {string} path @param {string} what */
  async function get(path, what) {
    const response = await fetch(path, { signal: AbortSignal.timeout(TIMEOUT_MS) }).catch(() => null);
    if (!response) throw new Error(`${what} cannot be read: the server does not answer.`);
    if (!response.ok) throw new Error(`${what} cannot be read: ${await reason(response)}.`);
    return response.json();
  }

  return {
    list(kind) {
      const asked = kept.get(kind) ?? get(`/api/${kind}`, 'The catalog');
      kept.set(kind, asked);
      asked.catch(() => kept.delete(kind));
      return asked;
    },
    station({ lat_deg, lon_deg, elevation_m }) {
      const query = new URLSearchParams({ lat_deg: String(lat_deg), lon_deg: String(lon_deg), elevation_m: String(elevation_m) });
      return get(`/api/station?${query}`, 'The table of stations');
    },
  };
}

/** @param {Response} response @returns {Promise<string>} */
async function reason(response) {
  const answer = await response.json().catch(() => null);
  const problems = /** @type {{path: string, message: string}[]} */ (answer?.problems ?? []);
  return problems.length > 0 ? problems.map((p) => `${p.path} ${p.message}`).join('; ') : `the server answered ${response.status}`;
}
