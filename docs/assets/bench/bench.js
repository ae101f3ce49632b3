// The bench: what one page of the procedure knows of the engine and of the job in hand.
(function (Firedeck) {
  "use strict";

  const NO_ENGINE = { id: "any-engine", name: "Any engine", invented: false, revision: "", facts: [], fasteners: {}, heads: [] };

  // Events: "switch" when another job is in hand, "change" after each change, "kept" when keeping begins to work or to fail.
  class Bench extends EventTarget {
    constructor(root, model, signs) {
      super();
      this.root = root;
      this.record = model; // as the record is today
      this.signs = signs;
      this.job = Firedeck.job.create(model);
      this.fresh = true; // not kept before its first change
      this.kept = true;
      this.saving = null;
      this.again = false;
      this.early = []; // changes made before the store was open; null once it is
    }

    // The figures that worksheets use: those the job began with.
    get model() {
      return this.job.model || this.record;
    }

    get changedSince() {
      return !this.fresh && this.job.revision !== this.record.revision;
    }

    async start() {
      this.store = await Firedeck.store.open(this.root);
      this.kept = this.store.keeps;
      const [latest] = await this.jobs();
      const early = this.early;
      this.early = null;
      if (latest) {
        this.job = latest;
        this.fresh = false;
        early.forEach((act) => act(latest));
      }
      if (early.length) this.change(() => {});
      this.dispatchEvent(new Event("switch"));
      this.dispatchEvent(new Event("kept"));
    }

    // Jobs on this engine, the latest first; what cannot be read is left alone.
    async jobs() {
      const all = await this.store.list();
      const sound = all.filter((job) => job.engine === this.record.id && Firedeck.job.faults(job).length === 0);
      return sound.sort((a, b) => (a.changed < b.changed ? 1 : -1));
    }

    take(job) {
      this.job = job;
      this.fresh = false;
      this.dispatchEvent(new Event("switch"));
    }

    begin() {
      this.job = Firedeck.job.create(this.record);
      this.fresh = true;
      this.dispatchEvent(new Event("switch"));
    }

    // Change the job and keep it at once. What is typed or ticked before the kept jobs are read goes into the one then taken.
    change(act) {
      if (this.early) this.early.push(act);
      act(this.job);
      if (this.early) return null;
      this.job.changed = Firedeck.job.now();
      this.fresh = false;
      this.dispatchEvent(new Event("change"));
      return this.save();
    }

    // One write at a time; what changed meanwhile is written right after.
    save() {
      if (this.saving) {
        this.again = true;
        return this.saving;
      }
      const done = (kept) => {
        this.saving = null;
        if (kept !== this.kept) {
          this.kept = kept;
          this.dispatchEvent(new Event("kept"));
        }
        if (this.again) {
          this.again = false;
          return this.save();
        }
        return kept;
      };
      this.saving = this.store.put(this.job).then(() => done(this.store.keeps), () => done(false));
      return this.saving;
    }

    async remove() {
      await this.store.remove(this.job.id);
      const [next] = await this.jobs();
      if (next) this.take(next);
      else this.begin();
    }
  }

  function start() {
    const place = document.querySelector("[data-bench]");
    if (!place) return;
    const page = location.href.split("#")[0];
    const root = place.dataset.bench ? new URL(place.dataset.bench, page).href : page;
    const bench = new Bench(root, Firedeck.model || NO_ENGINE, Firedeck.signs || []);
    Firedeck.bench = bench;
    for (const part of Firedeck.parts) part(bench, place);
    bench.start();
  }

  Firedeck.Bench = Bench;
  Firedeck.startBench = start; // for a page that has its engine later than its scripts
  Firedeck.parts = Firedeck.parts || []; // functions (bench, place) that put themselves on the page
  document.addEventListener("DOMContentLoaded", start);
})((window.Firedeck = window.Firedeck || {}));
