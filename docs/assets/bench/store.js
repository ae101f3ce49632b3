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
      get: (id) => within("readonly", (jobs) => jobs.get(id)),
      put: (job, base) => put(database, job, base),
      remove: (id) => within("readwrite", (jobs) => jobs.delete(id)),
    };
  }

  // Write a job that was last read or written at `base`. Where another window has written it since, nothing
  // is written and that copy comes back as `newer`; else the time of what was written.
  function put(database, job, base) {
    return new Promise((resolve, reject) => {
      const transaction = database.transaction("jobs", "readwrite", { durability: "strict" }), jobs = transaction.objectStore("jobs");
      const found = { newer: null, written: "" };
      jobs.get(job.id).onsuccess = ({ target: { result: there } }) => {
        if (there && there.changed !== base) found.newer = there;
        else try {
          found.written = job.changed;
          jobs.put(job);
        } catch (error) {
          transaction.abort();
        }
      };
      transaction.oncomplete = () => resolve(found);
      transaction.onabort = transaction.onerror = () => reject(transaction.error);
    });
  }

  // Nothing to keep jobs in: they live as long as the page, and the page says so.
  function inMemory() {
    const jobs = new Map();
    return {
      keeps: false,
      list: async () => [...jobs.values()].map((job) => structuredClone(job)),
      get: async (id) => jobs.get(id),
      put: async (job) => {
        jobs.set(job.id, structuredClone(job));
        return { newer: null, written: job.changed };
      },
      remove: async (id) => void jobs.delete(id),
    };
  }

  async function open(root) {
    try {
      const request = indexedDB.open(nameOf(root), 1);
      request.onupgradeneeded = () => request.result.createObjectStore("jobs", { keyPath: "id" });
      const store = inDatabase(await answer(request));
      await store.list(); // some browsers refuse only here
      return store;
    } catch (error) {
      return inMemory();
    }
  }

  Firedeck.store = { open };
})((window.Firedeck = window.Firedeck || {}));
