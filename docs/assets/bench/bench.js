// The bench: what one page of the procedure knows of the engine and of the job in hand.
(function (Firedeck) {
  "use strict";

  const NO_ENGINE = { id: "any-engine", name: "Any engine", invented: false, revision: "", facts: [], fasteners: {}, heads: [] };

  // Events: "switch" when another job is in hand, "change" after each change, "kept" when keeping begins to work or to fail,
  // "merged" when the job was changed in another window as well.
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
      this.dirty = new Set(); // jobs to write
      this.unwritten = new Map(); // job -> what was done to it since it was last written
      this.bases = new Map(); // id of a job -> the time of the copy in the store that it goes back to
      this.early = []; // changes made before the store was open; null once it is
    }

    // The figures that worksheets use: those the job began with.
    get model() {
      return this.changedSince ? this.job.model : this.record;
    }

    get changedSince() {
      return !this.fresh && this.job.revision !== this.record.revision;
    }

    // events: their names, with a space between.
    on(events, act) {
      events.split(" ").forEach((event) => this.addEventListener(event, act));
    }

    tell(what) {
      this.dispatchEvent(new Event(what));
    }

    async start() {
      this.store = await Firedeck.store.open(this.root);
      this.kept = this.store.keeps;
      const [latest] = await this.jobs();
      const early = this.early;
      this.early = null;
      if (latest) this.hold(latest);
      if (early.length) this.change((job) => early.forEach((act) => act(job)));
      this.tell("switch");
      this.tell("kept");
    }

    // Jobs on this engine, the latest first; what cannot be read is left alone.
    async jobs() {
      const all = await this.store.list();
      const sound = all.filter((job) => job.engine === this.record.id && Firedeck.job.faults(job).length === 0);
      return sound.sort((a, b) => (a.changed < b.changed ? 1 : -1));
    }

    // A copy from the store, or one that stands for it.
    hold(job, base = job.changed) {
      this.job = job;
      this.fresh = false;
      this.bases.set(job.id, base);
    }

    // Something would be lost if the page were left now: not written yet, or nowhere to write it.
    get unsafe() {
      return Boolean(this.early ? this.early.length : this.saving || (!this.kept && !this.fresh));
    }

    take(job, base) {
      this.hold(job, base);
      this.tell("switch");
    }

    begin() {
      this.job = Firedeck.job.create(this.record);
      this.fresh = true;
      this.tell("switch");
    }

    // Change the job and keep it at once. What is typed or ticked before the kept jobs are read goes into the one then taken.
    change(act) {
      if (this.early) this.early.push(act);
      act(this.job);
      if (this.early) return null;
      this.job.changed = Firedeck.job.now();
      this.fresh = false;
      if (!this.unwritten.has(this.job)) this.unwritten.set(this.job, []);
      this.unwritten.get(this.job).push(act);
      this.tell("change");
      return this.save();
    }

    save() {
      this.dirty.add(this.job);
      this.saving = this.saving || this.writeAll().finally(() => { this.saving = null; });
      return this.saving;
    }

    // One write at a time; what changed meanwhile is written right after. A job that cannot be written waits for its next change.
    async writeAll() {
      let kept = this.store.keeps;
      for (const job of this.dirty) {
        this.dirty.delete(job);
        kept = await this.write(job);
      }
      if (kept === this.kept) return;
      this.kept = kept;
      this.tell("kept");
    }

    async write(job) {
      const acts = this.unwritten.get(job) || [];
      this.unwritten.delete(job);
      const all = () => [...acts, ...(this.unwritten.get(job) || [])]; // with what was done while it was being written
      try {
        const { newer, written } = await this.store.put(job, this.bases.get(job.id));
        if (newer) this.merge(newer, job, all());
        else this.bases.set(job.id, written);
        return this.store.keeps;
      } catch (error) {
        this.unwritten.set(job, all());
        return false;
      }
    }

    // Another window has written this job meanwhile: what was done here is done again on that copy, so that neither is lost.
    merge(newer, job, acts) {
      this.unwritten.delete(job);
      this.bases.set(newer.id, newer.changed);
      acts.forEach((act) => act(newer));
      newer.changed = Firedeck.job.now();
      this.dirty.add(newer);
      if (job !== this.job) return;
      this.job = newer;
      this.tell("switch");
      this.tell("merged");
    }

    // The reader comes back to this window: the job may have gone on in another.
    async refresh() {
      if (this.early || this.fresh || this.saving || this.dirty.size) return;
      const job = this.job, there = await this.store.get(job.id);
      if (there && job === this.job && !this.saving && there.changed !== this.bases.get(job.id) && !Firedeck.job.faults(there).length) this.take(there);
    }

    async remove() {
      this.dirty.delete(this.job);
      await this.saving;
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
    addEventListener("focus", () => bench.refresh());
    addEventListener("beforeunload", (event) => { if (bench.unsafe) event.preventDefault(); }); // the browser asks before it leaves
  }

  Firedeck.Bench = Bench;
  Firedeck.startBench = start; // for a page that has its engine later than its scripts
  document.addEventListener("DOMContentLoaded", start);
})((window.Firedeck = window.Firedeck || {}));
