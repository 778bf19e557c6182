// Photos that were chosen but not sent yet, kept in this browser: the page may
// be closed by the phone, and the network may be gone.

const NAME = 'tenter-photos';
const STORE = 'waiting';

/** @typedef {import('../shapes-photos.js').Waiting} Waiting */

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
const done = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

/** @type {Promise<IDBDatabase> | null} */
let opened = null;

function open() {
  opened ??= (() => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: 'id' });
    return done(request);
  })();
  return opened;
}

/** @param {IDBTransactionMode} mode @param {(store: IDBObjectStore) => IDBRequest} what @returns {Promise<any>} once it is kept for good */
async function inStore(mode, what) {
  const transaction = (await open()).transaction(STORE, mode, { durability: 'strict' });
  const request = what(transaction.objectStore(STORE));
  await new Promise((resolve, reject) => {
    transaction.oncomplete = resolve;
    transaction.onerror = () => reject(transaction.error);
    transaction.onabort = () => reject(transaction.error);
  });
  return request.result;
}

/** @param {string} person @param {string} path where they go @returns {Promise<Waiting[]>} in the order in which they were chosen */
export async function waitingFor(person, path) {
  try {
    /** @type {Waiting[]} */
    const all = await inStore('readonly', (store) => store.getAll());
    return all.filter((w) => w.person === person && w.path === path).sort((a, b) => a.at.localeCompare(b.at));
  } catch {
    return [];
  }
}

/** @param {Waiting} w @returns {Promise<boolean>} whether it is kept: a browser may refuse, or be full */
export async function keep(w) {
  try {
    await inStore('readwrite', (store) => store.put(w));
    return true;
  } catch {
    return false;
  }
}

/** @param {string} id */
export async function forget(id) {
  try {
    await inStore('readwrite', (store) => store.delete(id));
  } catch {
    // A browser that keeps nothing has nothing to forget.
  }
}

/** Everything that this browser keeps for a person. @param {string} person */
export async function forgetAll(person) {
  try {
    /** @type {Waiting[]} */
    const all = await inStore('readonly', (store) => store.getAll());
    for (const w of all) if (w.person === person) await forget(w.id);
  } catch {
    // As above.
  }
}
