// Edits kept in this browser until the server has acknowledged them. One
// record per project and tab, so that two tabs never write over each other.

/**
 * @typedef {object} Kept an edit the server has not acknowledged
 * @property {string} project project ID
 * @property {string} writer the tab that wrote it
 * @property {string} text the document as JSON
 * @property {number} base server version it builds on
 * @property {number} time of the edit, milliseconds since 1970
 * @property {string} sent a document sent without an answer so far, as JSON; '' for none
 */
/**
 * @typedef {object} Local
 * @property {(kept: Kept) => Promise<void>} put replaces this tab's record
 * @property {(project: string, writer: string, text: string) => Promise<void>} remove does nothing unless the record holds that very text
 * @property {(project: string) => Promise<Kept[]>} list newest first
 */

const DATABASE = 'rooftally';
const STORE = 'unacknowledged';

/**
 * @param {() => IDBFactory} factory may throw where the browser forbids it
 * @returns {Local} each call rejects when the browser keeps no database
 */
export function createLocal(factory) {
  const opened = open(factory);
  // The first call reports the failure; without this it would also be
  // reported as unhandled.
  opened.catch(() => {});
  /** @type {IDBDatabase|null} */ let ready = null;
  opened.then((db) => (ready = db), () => {});

  /**
   * Starts at once when the database is open: a page that is left right after
   * an edit must already have written it.
   * @template T
   * @param {IDBTransactionMode} mode
   * @param {(records: IDBObjectStore) => IDBRequest<T>|null} work
   * @returns {Promise<T|undefined>}
   */
  const transact = (mode, work) => (ready ? inTransaction(ready, mode, work) : opened.then((db) => inTransaction(db, mode, work)));

  return {
    put: async (kept) => {
      await transact('readwrite', (records) => records.put(kept));
    },
    remove: async (project, writer, text) => {
      await transact('readwrite', (records) => {
        const request = records.get([project, writer]);
        request.onsuccess = () => {
          if (request.result?.text === text) records.delete([project, writer]);
        };
        return null;
      });
    },
    list: async (project) => {
      const all = await transact('readonly', (records) => records.getAll(IDBKeyRange.bound([project], [project, []])));
      return /** @type {Kept[]} */ (all ?? []).sort((a, b) => b.time - a.time);
    },
  };
}

/**
 * @param {() => IDBFactory} factory
 * @returns {Promise<IDBDatabase>}
 */
function open(factory) {
  return new Promise((resolve, reject) => {
    const request = factory().open(DATABASE, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: ['project', 'writer'] });
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error('the local database is held by an older page'));
  });
}

/**
 * @template T
 * @param {IDBDatabase} db
 * @param {IDBTransactionMode} mode
 * @param {(records: IDBObjectStore) => IDBRequest<T>|null} work
 * @returns {Promise<T|undefined>} when the transaction is complete
 */
function inTransaction(db, mode, work) {
  return new Promise((resolve, reject) => {
    const transaction = db.transaction(STORE, mode);
    const request = work(transaction.objectStore(STORE));
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onabort = () => reject(transaction.error);
  });
}
