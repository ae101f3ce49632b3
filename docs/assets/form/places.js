// Laying the bolts out: rows and distances as the drawing gives them, bolts put in and taken out by a tap, each one's own place.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;
  const { field, choice, refusal } = Firedeck.form.parts;
  const { board, exchange, spotsOf, headOf } = Firedeck.form.board;

  const MOST_ROWS = 8, MOST_BOLTS = 24;

  const PATTERN = [
    ["rows", "Rows of bolts", "2", ""], ["bolts", "Bolts in the longest row", "3", ""],
    ["along", "From bolt to bolt in a row, mm", "100", "One distance, or each in turn: 84 90 84. Where the drawing gives none, 100 keeps the arrangement and no more"],
    ["across", "From row to row, mm", "100", "One distance, or each in turn from the bottom row up"], ["moved", "Every second row moved to the right by, mm", "0", "0 where the bolts stand one above the other"],
  ];

  // A whole number, or distances; a text that is neither comes back as its refusal.
  const WHOLE = (most) => (text) => (/^\d{1,2}$/.test(text.trim()) && Number(text) >= 1 && Number(text) <= most ? Number(text) : `A whole number from 1 to ${most}.`);
  const distances = (least) => (text) => {
    if (/\d,\d/.test(text)) return "Write a point in a number, and a space between two: 84.5 90.";
    const parts = text.trim().split(/[\s;]+/);
    return parts.every((part) => /^\d{1,4}(\.\d{1,4})?$/.test(part) && Number(part) >= least) ? parts.map(Number) : "Millimetres, such as 84 or 84 90 84.";
  };
  const READ = { rows: WHOLE(MOST_ROWS), bolts: WHOLE(MOST_BOLTS), along: distances(1), across: distances(1), moved: distances(0) };

  const summed = (steps, count) => [...Array(count).keys()].reduce((found, index) => (index ? [...found, found[index - 1] + (steps[index - 1] ?? steps[steps.length - 1])] : [0]), []);
  const rounded = (number) => Math.round(number * 1e4) / 1e4;

  // The points of a pattern, a letter for the row from the bottom, a number from the left: {A1: [0, 0], …}.
  function points({ rows, bolts, along, across, moved }) {
    const xs = summed(along, bolts), ys = summed(across, rows);
    return Object.fromEntries(ys.flatMap((y, row) => xs.map((x, column) => [`${String.fromCharCode(65 + row)}${column + 1}`, [rounded(x + (row % 2 ? moved[0] : 0)), rounded(y)]])));
  }

  // Laying out: the pattern, the board on which points become bolts, and each bolt's own place.
  class Places {
    constructor(form, path) {
      Object.assign(this, { form, path, key: path[path.length - 1], refusals: {} });
      this.group = Object.keys(form.get([...path, "groups"]) || {})[0] || "all";
    }

    get typed() { return { ...Object.fromEntries(PATTERN.map(([key, , usual]) => [key, usual])), ...this.form.draft.boards[this.key] }; }
    get bolts() { return spotsOf(this.form, this.path); }

    // The pattern as numbers, or null while one of its fields cannot be read.
    get pattern() {
      const read = Object.fromEntries(Object.entries(this.typed).filter(([key]) => key in READ).map(([key, text]) => [key, READ[key](text)]));
      for (const [key, value] of Object.entries(read)) if (this.refusals[key]) this.refusals[key].textContent = typeof value === "string" ? value : "";
      return Object.values(read).some((value) => typeof value === "string") ? null : read;
    }

    node() {
      this.holder = el("div");
      this.said = el("p", { role: "status", className: "said" });
      this.kinds = el("div");
      const fields = PATTERN.map(([key, label, usual, help]) => {
        const made = field({ label, help, value: this.typed[key], changed: (text) => this.typing(key, text), properties: { inputMode: key === "rows" || key === "bolts" ? "numeric" : "text", maxLength: 120 } });
        this.refusals[key] = el("span", { className: "refusal", role: "alert" });
        made.node.append(this.refusals[key]);
        return made.node;
      });
      const each = el("details", { className: "more" }, el("summary", {}, "Exact place, kind and hole of each bolt"));
      each.addEventListener("toggle", () => { if (each.open) this.each(each); });
      const node = el("div", { className: "places", "data-live": "" }, el("div", { className: "pattern" }, fields), this.kinds,
        el("div", { className: "ways" }, button("Put a bolt at every point", () => this.fill()), button("Empty grid: I tap the bolts", () => this.empty())),
        this.holder, this.said, refusal([...this.path, "places"]), each);
      node.refresh = () => this.draw();
      this.draw();
      return node;
    }

    typing(key, text) {
      this.form.change((draft) => { draft.boards[this.key] = { ...draft.boards[this.key], [key]: text }; });
    }

    // Points of the grid, and bolts that stand elsewhere by hand.
    draw() {
      const { bolts, pattern } = this, laid = this.form.draft.boards[this.key];
      const spots = { ...(laid && pattern ? points(pattern) : {}), ...bolts };
      const groups = Object.keys(this.form.get([...this.path, "groups"]) || {});
      if (groups.length && !groups.includes(this.group)) [this.group] = groups;
      const shown = JSON.stringify([spots, Object.keys(bolts), groups, headOf(this.form)]);
      if (shown === this.shown) return;
      this.shown = shown;
      this.kinds.replaceChildren(...(groups.length > 1 ? [choice({ label: "The bolts you put in now are", words: groups, value: this.group, none: null, changed: (name) => { this.group = name; } }).node] : []));
      const count = Object.keys(bolts).length;
      this.said.textContent = count ? `${count} ${count === 1 ? "bolt" : "bolts"}. Tap one to take it out, a point to put one there.` : "No bolt yet.";
      const face = (name) => (name in bolts ? { text: name, name: `Bolt ${name}`, className: "put", pressed: true } : { text: "·", name: `Point ${name}, no bolt`, pressed: false });
      if (Object.keys(spots).length) exchange(this.holder, board(spots, face, (name) => this.toggle(name, spots[name]), headOf(this.form), "Bolts, seen from the wrench's side"));
      else this.holder.replaceChildren();
    }

    // A group to stand in, where the set has none yet: the record needs one.
    grouped() {
      if (!Object.keys(this.form.get([...this.path, "groups"]) || {}).length) this.form.put([...this.path, "groups", this.group], { kind: "bolt" });
      Firedeck.form.sets.touch(this.form, this.path, this.group);
    }

    fill() {
      const { pattern } = this;
      if (!pattern || !this.leaving()) return;
      this.form.change((draft) => {
        draft.boards[this.key] = this.typed;
        this.grouped();
        this.form.put([...this.path, "places"], Object.fromEntries(Object.entries(points(pattern)).map(([name, at]) => [name, { at, group: this.group }])));
        this.forget(Object.keys(points(pattern)));
      });
      this.changedGroups();
    }

    empty() {
      if (!this.pattern || !this.leaving()) return;
      this.form.change((draft) => {
        draft.boards[this.key] = this.typed;
        this.form.put([...this.path, "places"], undefined);
        this.forget([]);
      });
    }

    leaving() {
      return !Object.keys(this.bolts).length || confirm("Lay all bolts out anew? Orders that name bolts which are gone lose them.");
    }

    toggle(name, at) {
      const gone = name in this.bolts;
      this.form.change(() => {
        if (!gone) this.grouped();
        this.form.put([...this.path, "places", name], gone ? undefined : { at, group: this.group });
        if (gone) this.forget(Object.keys(this.bolts));
      });
      if (!gone) this.changedGroups();
    }

    // Orders name no bolt that is gone.
    forget(left) {
      const orders = this.form.get([...this.path, "tightening", "orders"]) || {}, loosening = this.form.get([...this.path, "loosening"]) || {};
      for (const [name, order] of Object.entries(orders)) if (Array.isArray(order)) orders[name] = order.filter((place) => left.includes(place));
      if (Array.isArray(loosening.order)) loosening.order = loosening.order.filter((place) => left.includes(place));
    }

    changedGroups() {
      this.form.dispatchEvent(new Event("groups"));
    }

    each(details) {
      const shape = Firedeck.record.shapeAt([...this.path, "places"]);
      const editor = Firedeck.form.block.named(this.form, [...this.path, "places"], shape, { first: ["at", "group", "hole"], fresh: { group: this.group } });
      details.replaceChildren(details.querySelector("summary"), editor);
    }
  }

  Firedeck.form.places = { places: (form, path) => new Places(form, path).node(), points, rounded };
})((window.Firedeck = window.Firedeck || {}));
