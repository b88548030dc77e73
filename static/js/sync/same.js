// Whether two documents say the same. The server writes members in its own
// order and leaves out optional ones that are zero or empty, so texts cannot
// be compared as they are.

/**
 * @param {unknown} a JSON value
 * @param {unknown} b JSON value
 * @returns {boolean}
 */
export function sameContent(a, b) {
  if (Object.is(a, b) || (isEmpty(a) && isEmpty(b))) return true;
  if (Array.isArray(a) || Array.isArray(b)) {
    if (!Array.isArray(a) || !Array.isArray(b) || a.length !== b.length) return false;
    return a.every((item, i) => sameContent(item, b[i]));
  }
  if (!isRecord(a) || !isRecord(b)) return false;
  const names = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...names].every((name) => sameContent(a[name], b[name]));
}

/**
 * Empty as a missing member reads on the server, with one difference: a
 * missing module limit is not a limit of zero, so null is not zero.
 * @param {unknown} value
 */
function isEmpty(value) {
  return value === undefined || value === '' || value === 0 || value === false || (Array.isArray(value) && value.length === 0);
}

/**
 * @param {unknown} value
 * @returns {value is Record<string, unknown>}
 */
function isRecord(value) {
  return typeof value === 'object' && value !== null;
}
