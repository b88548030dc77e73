// Small helpers shared by the commands. Each returns the very same value when
// nothing changes, so that the store can tell an edit from no edit.

/**
 * @template {object} T
 * @param {T} value
 * @param {Partial<NoInfer<T>>} patch
 * @returns {T} value itself when the patch changes nothing
 */
export function patched(value, patch) {
  const keys = /** @type {(keyof T)[]} */ (Object.keys(patch));
  return keys.every((k) => Object.is(value[k], patch[k])) ? value : { ...value, ...patch };
}

/**
 * @template T
 * @param {T[]} list
 * @param {(item: T, index: number) => T} change
 * @returns {T[]} list itself when no item changes
 */
export function mapped(list, change) {
  const next = list.map(change);
  return next.every((item, i) => item === list[i]) ? list : next;
}

/**
 * @template {{id: string}} T
 * @param {T[]} list
 * @param {string} id
 * @param {(item: T) => T} change
 * @returns {T[]} list itself when no item has the id
 */
export function withId(list, id, change) {
  return mapped(list, (item) => (item.id === id ? change(item) : item));
}

/** @param {import('../model/types.js').Item[]} items @param {import('../model/types.js').Item['type']} type @returns {Set<string>} */
export function idsOf(items, type) {
  return new Set(items.filter((i) => i.type === type).map((i) => i.id));
}

/**
 * @template T
 * @param {T[]} list
 * @param {number} at
 * @param {number} drop how many go
 * @param {...T} items that come in their place
 * @returns {T[]} a new list
 */
export function spliced(list, at, drop, ...items) {
  return [...list.slice(0, at), ...items, ...list.slice(at + drop)];
}
