// Where jobs are kept: on this device, written through at every change. Every page opened from
// disk shares one store, so the folder of this copy of the site is part of its name.
(function (Firedeck) {
  "use strict";

  // Two copies of the site must not mix their jobs up.
  const nameOf = (root) => "firedeck jobs of " + root;

  function answer(request) {
    return new Promise((resolve, reject) => {
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
  }

  // A browser that is killed loses nothing that a strict transaction has completed.
  function inDatabase(database) {
    const within = (mode, act) => new Promise((resolve, reject) => {
      const transaction = database.transaction("jobs", mode, { durability: "strict" });
      const request = act(transaction.objectStore("jobs"));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onabort = transaction.onerror = () => reject(transaction.error || request.error);
    });
    return {
      keeps: true,
      list: () => within("readonly", (jobs) => jobs.getAll()),
      put: (job) => within("readwrite", (jobs) => jobs.put(job)),
      remove: (id) => within("readwrite", (jobs) => jobs.delete(id)),
    };
  }

  // Nothing to keep jobs in: they live as long as the page, and the page says so.
  function inMemory() {
    const jobs = new Map();
    return {
      keeps: false,
      list: async () => [...jobs.values()],
      put: async (job) => void jobs.set(job.id, structuredClone(job)),
      remove: async (id) => void jobs.delete(id),
    };
  }

  async function open(root) {
    try {
      const request = indexedDB.open(nameOf(root), 1);
      request.onupgradeneeded = () => request.result.createObjectStore("jobs", { keyPath: "id" });
      return inDatabase(await answer(request));
    } catch (error) {
      return inMemory();
    }
  }

  Firedeck.store = { open };
})((window.Firedeck = window.Firedeck || {}));
