// Tells tabs apart. A tab keeps its name over a reload; while it lives it
// holds a lock of that name, so that another tab can see whose unsaved edits
// have lost their tab and may be taken up.

const STORED = 'rooftally.writer';
const LOCK = 'rooftally.writer.';
/** A reloaded page may start before the old one has let go of its lock. */
const RELOAD_WAIT_MS = 400;

/**
 * @typedef {object} Writers
 * @property {string} own this tab's name
 * @property {(writer: string) => Promise<boolean>} isOrphan whether no living tab has that name
 */

/**
 * @param {object} parts
 * @param {LockManager|undefined} parts.locks undefined where the browser has none
 * @param {() => Storage} parts.storage of the tab; may throw where the browser forbids it
 * @param {() => string} parts.newName
 * @returns {Promise<Writers>}
 */
export async function claimWriter({ locks, storage, newName }) {
  const last = remembered(storage);
  if (last && (!locks || (await hold(locks, last)))) return writers(last, locks);
  const own = newName();
  remember(storage, own);
  if (locks) await hold(locks, own);
  return writers(own, locks);
}

/**
 * @param {() => Storage} storage
 * @returns {string|null}
 */
function remembered(storage) {
  try {
    return storage().getItem(STORED);
  } catch {
    return null;
  }
}

/**
 * A tab that cannot remember its name gets a new one on each load; its edits
 * are then those of a tab that is gone.
 * @param {() => Storage} storage
 * @param {string} own
 */
function remember(storage, own) {
  try {
    storage().setItem(STORED, own);
  } catch {
    // Nothing to do: the name serves until the page goes.
  }
}

/**
 * @param {string} own
 * @param {LockManager|undefined} locks
 * @returns {Writers}
 */
function writers(own, locks) {
  return {
    own,
    async isOrphan(writer) {
      if (writer === own) return true;
      // Without locks another tab's life cannot be seen; its edits are left
      // to it.
      if (!locks) return false;
      return locks.request(LOCK + writer, { ifAvailable: true }, async (lock) => lock !== null);
    },
  };
}

/**
 * Holds the lock until the page goes away.
 * @param {LockManager} locks
 * @param {string} name
 * @returns {Promise<boolean>} false when another tab holds it
 */
function hold(locks, name) {
  return new Promise((resolve) => {
    const forever = new Promise(() => {});
    locks
      .request(LOCK + name, { signal: AbortSignal.timeout(RELOAD_WAIT_MS) }, () => {
        resolve(true);
        return forever;
      })
      .catch(() => resolve(false));
  });
}
