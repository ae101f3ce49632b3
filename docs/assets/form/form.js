// The form: the draft in hand, kept at every change, and what stands against it, shown at its fields.
(function (Firedeck) {
  "use strict";
  const Draft = Firedeck.form.draft;

  // Events: "switch" when another draft is in hand, "change" after each change, "kept" when keeping begins to work or to fail.
  class Form extends EventTarget {
    constructor(root, registered) {
      super();
      this.root = root;
      this.registered = registered;
      this.draft = Draft.create();
      this.fresh = true; // not kept before its first change
      this.kept = true;
      this.others = {}; // names of the other drafts on this device, by the id of their engine
      this.saving = null;
      this.again = false;
      this.bases = new Map(); // id of a draft -> time of the copy on the device that it goes back to
    }

    async start() {
      this.store = await Firedeck.store.open(Draft.shelf(this.root));
      this.kept = this.store.keeps;
      const [latest] = await this.drafts();
      if (latest) await this.take(latest);
      else await this.begin();
      this.dispatchEvent(new Event("kept"));
    }

    // Drafts on this device, the latest first; what cannot be read is left alone.
    async drafts() {
      const all = await this.store.list();
      return all.filter((draft) => Draft.faults(draft).length === 0).sort((a, b) => (a.changed < b.changed ? 1 : -1));
    }

    async take(draft, fresh = false) {
      while (this.saving) await this.saving; // the draft that is put aside is written first
      this.draft = draft;
      this.fresh = fresh;
      if (!fresh) this.bases.set(draft.id, draft.changed);
      const others = (await this.drafts()).filter((each) => each.id !== draft.id && each.record.id);
      this.others = Object.fromEntries(others.map((each) => [each.record.id, `${Draft.title(each)}, a draft on this device`]));
      this.dispatchEvent(new Event("switch"));
    }

    begin() {
      return this.take(Draft.create(), true);
    }

    // Every source that may be cited, and every engine whose id is taken.
    get sources() { return { ...this.registered.sources, ...this.draft.sources }; }
    get taken() { return { ...this.others, ...this.registered.engines }; }
    get record() { return Draft.record(this.draft); }
  get settled() { return Draft.settled(this.draft); }

    get(path) {
      return path.reduce((node, key) => (node === null || node === undefined ? undefined : node[key]), this.draft.record);
    }

    // Put a value at a place of the record; nothing takes the key away.
    set(path, value) {
      return this.change(() => this.put(path, value));
    }

    put(path, value) {
      let node = this.draft.record;
      path.slice(0, -1).forEach((key, index) => {
        if (node[key] === null || typeof node[key] !== "object") node[key] = typeof path[index + 1] === "number" ? [] : {};
        node = node[key];
      });
      const last = path[path.length - 1];
      if (value === undefined || value === "") delete node[last];
      else node[last] = value;
    }

    change(act) {
      act(this.draft);
      this.draft.changed = Draft.now();
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
        if (!this.again) return kept;
        this.again = false;
        return this.save();
      };
      this.saving = this.write(this.draft).then(() => done(this.store.keeps), () => done(false));
      return this.saving;
    }

    // Where another window has written the draft meanwhile, this one goes on as a draft of its own, so that neither is lost.
    async write(draft) {
      const there = (await this.store.list()).find((each) => each.id === draft.id);
      const { changed } = draft;
      const { newer, written } = there && there.changed !== this.bases.get(draft.id) ? { newer: there } : await this.store.put(draft, this.bases.get(draft.id)) || {};
      if (!newer) {
        this.bases.set(draft.id, written || changed);
        return;
      }
      Draft.part(draft);
      this.dispatchEvent(new Event("parted"));
      await this.write(draft);
    }

    async remove() {
      while (this.saving) await this.saving;
      await this.store.remove(this.draft.id);
      const [next] = await this.drafts();
      return next ? this.take(next) : this.begin();
    }

    // What stands against the record as it is, each with its place in the draft.
    faults() {
      const found = Firedeck.record.faults(this.record, this.sources, { ids: this.taken });
      return found.map((fault) => ({ ...fault, path: Draft.inDraft(this.draft, fault.path) }));
    }
  }

  Firedeck.form.Form = Form;
})((window.Firedeck = window.Firedeck || {}));
