// Whether a weather station that was copied into a project is still the one
// for its site.

/** @import {Site, StationCopy} from './types.js' */

/** Mean radius of the Earth (IUGG), as package climate has it. */
const EARTH_KM = 6371.0088;

/**
 * @param {Pick<Site, 'lat_deg'|'lon_deg'>} a
 * @param {Pick<Site, 'lat_deg'|'lon_deg'>} b
 * @returns {number} along the surface of a round Earth
 */
export function distanceKm(a, b) {
  const rad = Math.PI / 180;
  const sinLat = Math.sin(((b.lat_deg - a.lat_deg) * rad) / 2);
  const sinLon = Math.sin(((b.lon_deg - a.lon_deg) * rad) / 2);
  const h = sinLat ** 2 + Math.cos(a.lat_deg * rad) * Math.cos(b.lat_deg * rad) * sinLon ** 2;
  return 2 * EARTH_KM * Math.asin(Math.sqrt(Math.min(h, 1)));
}

/** @param {Pick<Site, 'lat_deg'|'lon_deg'>} site @returns {boolean} whether nobody has said where the house stands: 0, 0 lies in open sea */
export function isUnset({ lat_deg: lat, lon_deg: lon }) {
  return lat === 0 && lon === 0;
}

/** A site that moves by no more than these is the same site, as package project has it. */
const SAME_KM = 0.5;
const SAME_M = 5;

/** @param {Site} site @param {StationCopy} station @returns {boolean} whether the site has moved since the station was asked for */
export function hasMoved(site, station) {
  const km = distanceKm(site, station);
  return Math.abs(km - station.distance_km) > SAME_KM || Math.abs(station.elevation_m - site.elevation_m - station.height_m) > SAME_M;
}
