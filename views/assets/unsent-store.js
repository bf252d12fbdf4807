// Keeps unsent work on the device. IndexedDB, since what is in localStorage is lost with a killed browser; over plain http
// it is all that there is: no service worker, no locks.
(() => {
  const STORE = 'unsent';
  let opened;

  function open() {
    opened ??= new Promise((resolve, reject) => {
      const request = indexedDB.open('clothroom', 1);
      request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: 'key' });
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
      request.onblocked = () => reject(new Error('another page holds it'));
    });
    return opened;
  }

  // A browser that was asleep may have let go of its store: it is opened anew once.
  async function begin(mode) {
    try {
      return (await open()).transaction(STORE, mode, { durability: 'strict' });
    } catch {
      opened = undefined;
      return (await open()).transaction(STORE, mode, { durability: 'strict' });
    }
  }

  async function inStore(mode, work) {
    const transaction = await begin(mode);
    return new Promise((resolve, reject) => {
      const request = work(transaction.objectStore(STORE));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onabort = () => reject(transaction.error);
      transaction.onerror = () => reject(transaction.error);
    });
  }

  globalThis.unsentStore = {
    all: () => inStore('readonly', (store) => store.getAll()),
    get: (key) => inStore('readonly', (store) => store.get(key)),
    put: (item) => inStore('readwrite', (store) => store.put(item)),
    remove: (key) => inStore('readwrite', (store) => store.delete(key)),
  };
})();
