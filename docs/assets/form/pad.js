// The bolts on the screen: laid out in rows, put in or taken out by a tap, and tapped in the order of the manual's figure.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;
  const { shape: drawn } = Firedeck.drawing;
  const { field, choice, refusal, labelOf, sentence } = Firedeck.form.parts;

  const MARGIN = 34, NEAREST = 58, ROOMY = 104, WIDE = 250; // px: half a bolt and some; between two bolts at least, at most; of the whole
  const MOST_ROWS = 8, MOST_BOLTS = 24, FARTHEST = 5000;

  // From millimetres, y upwards, to px, y downwards.
  function scaleOf(points) {
    const xs = points.map(([x]) => x), ys = points.map(([, y]) => y);
    const left = Math.min(...xs), top = Math.max(...ys), width = Math.max(...xs) - left, height = top - Math.min(...ys);
    let nearest = Infinity;
    points.forEach((a, i) => points.slice(i + 1).forEach((b) => { nearest = Math.min(nearest, Math.hypot(a[0] - b[0], a[1] - b[1]) || Infinity); }));
    const least = nearest < Infinity ? NEAREST / nearest : 1, most = nearest < Infinity ? ROOMY / nearest : 1;
    const factor = Math.max(least, Math.min(most, WIDE / (width || 1)));
    return { factor, width: Math.round(width * factor + 2 * MARGIN), height: Math.round(height * factor + 2 * MARGIN),
      x: (x) => Math.round((x - left) * factor + MARGIN), y: (y) => Math.round((top - y) * factor + MARGIN) };
  }

  // spots: {name: [x, y]}. faceOf: (name) -> {text, name, className}. act: what a tap does. head: drawn behind them, from the model.
  function board(spots, faceOf, act, head, words) {
    const names = Object.keys(spots), scale = scaleOf(Object.values(spots));
    const behind = drawn("svg", { width: scale.width, height: scale.height, "aria-hidden": "true" }, ...Firedeck.drawing.ghost(head, scale), ...Firedeck.drawing.edges(head, scale));
    const buttons = names.map((name) => {
      const face = faceOf(name), [x, y] = spots[name];
      return el("button", { type: "button", className: `bolt ${face.className || ""}`, "aria-label": face.name, "data-bolt": name, ...(face.pressed !== undefined ? { "aria-pressed": String(face.pressed) } : {}),
        style: `left: ${scale.x(x)}px; top: ${scale.y(y)}px`, onclick: () => act(name) }, face.text);
    });
    const ground = el("div", { className: "pad-ground", style: `width: ${scale.width}px; height: ${scale.height}px` }, behind, buttons);
    ground.addEventListener("keydown", (event) => step(event, ground, spots));
    return el("div", { className: "pad", role: "group", "aria-label": words }, ground);
  }

  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

  // The arrow keys go to the nearest bolt in their direction.
  function step(event, ground, spots) {
    const way = ARROWS[event.key], from = event.target.dataset.bolt;
    if (!way || !from) return;
    event.preventDefault();
    const [x, y] = spots[from];
    const ahead = Object.entries(spots).map(([name, [px, py]]) => {
      const along = (px - x) * way[0] + (py - y) * way[1], aside = Math.abs((px - x) * way[1]) + Math.abs((py - y) * way[0]);
      return { name, along, cost: along + 2 * aside };
    }).filter((each) => each.along > 1e-9).sort((a, b) => a.cost - b.cost);
    if (ahead.length) ground.querySelector(`[data-bolt="${ahead[0].name}"]`).focus();
  }

  // Keep what is in sight and what has the focus where they are when a board is drawn anew.
  function exchange(holder, made) {
    const old = holder.querySelector(".pad"), focused = holder.contains(document.activeElement) ? document.activeElement.dataset.bolt : null;
    const [left, top] = old ? [old.scrollLeft, old.scrollTop] : [0, 0];
    holder.replaceChildren(made);
    Object.assign(made, { scrollLeft: left, scrollTop: top });
    const bolt = focused && made.querySelector(`[data-bolt="${focused}"]`);
    if (bolt) bolt.focus({ preventScroll: true });
  }

  // The places of a set that can be drawn: {name: [x, y]}.
  function spotsOf(form, path) {
    const places = Object.entries(form.get([...path, "places"]) || {});
    return Object.fromEntries(places.filter(([, place]) => place && Array.isArray(place.at) && place.at.length === 2 && place.at.every(Number.isFinite)).map(([name, place]) => [name, place.at]));
  }

  // The head behind the bolts: the only one, as the model draws it.
  function headOf(form) {
    const heads = Object.values(form.get(["geometry", "heads"]) || {}).filter(Boolean);
    if (heads.length !== 1) return null;
    const round = ({ at, diameter } = {}) => (Array.isArray(at) && at.every(Number.isFinite) && Number.isFinite(diameter) ? { x: at[0], y: at[1], diameter } : null);
    const points = (list) => (Array.isArray(list) ? list.filter((point) => Array.isArray(point) && point.every(Number.isFinite)) : []);
    return { outline: points(heads[0].outline), round: round(heads[0].round || {}), bores: Object.values(heads[0].bores || {}).filter(Boolean).map(round).filter(Boolean), front: heads[0].front, exhaust: heads[0].exhaust };
  }

  const PATTERN = [
    ["rows", "Rows of bolts", "2", "The outermost rows count too"], ["bolts", "Bolts in a row", "3", "In the longest row; points without a bolt are taken out by a tap"],
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

  // Orders: which one is in hand, the board that is tapped, undo.
  class Orders {
    constructor(form, path) {
      Object.assign(this, { form, path });
      this.at = [...path, "tightening", "orders"];
      this.name = this.names[0] || "all";
    }

    get names() { return Object.entries(this.form.get(this.at) || {}).filter(([, order]) => Array.isArray(order)).map(([name]) => name); }
    get loosening() { return this.name === null; } // the order in hand is that of loosening
    get here() { return this.loosening ? [...this.path, "loosening", "order"] : [...this.at, this.name]; }
    get order() { const found = this.form.get(this.here); return Array.isArray(found) ? found : []; }

    node() {
      const shape = Firedeck.record.shapeAt(this.at), loosening = Firedeck.record.shapeAt([...this.path, "loosening"]);
      this.choice = el("div", { className: "chips", role: "group", "aria-label": "Which order" });
      this.holder = el("div");
      this.said = el("p", { role: "status", className: "said" });
      this.cites = { tightening: Firedeck.form.cite.cite(this.form, [...this.at, "cite"]), loosening: Firedeck.form.cite.cite(this.form, [...this.path, "loosening", "cite"]) };
      const figure = shape.children.in_figure;
      this.figures = field({ label: "Not copied here? Name the figure that shows it", help: figure.description, value: "", changed: (text) => this.inFigure(text), properties: { maxLength: 200 } });
      this.figure = el("div", {}, this.figures.node);
      this.words = field({ label: labelOf(loosening.children.says) === "Says" ? loosening.children.says.description : labelOf(loosening.children.says), value: this.form.get([...this.path, "loosening", "says"]) || "", path: [...this.path, "loosening", "says"], rows: 2,
        changed: (text) => this.form.change(() => { this.form.put([...this.path, "loosening", "says"], text); if (text) this.cites.loosening.touch(); }) });
      this.typed = field({ label: "The order in words", help: "Names of bolts with commas between them; the taps write here too", value: "", changed: (text) => this.type(text), properties: { maxLength: 1000, autocapitalize: "none" } });
      const node = el("div", { className: "orders", "data-live": "" }, this.choice, this.holder, this.said,
        el("div", { className: "ways" }, button("Undo the last tap", () => this.undo()), button("Begin this order again", () => this.again())),
        this.typed.node, refusal(this.at), refusal([...this.path, "loosening"]), this.words.node, this.figure, this.cites.tightening.node, this.cites.loosening.node);
      node.addEventListener("keydown", (event) => { if (event.key === "Backspace" && event.target.dataset.bolt) { event.preventDefault(); this.undo(); } });
      node.refresh = () => this.draw();
      this.pick(this.name);
      return node;
    }

    pick(name) {
      this.name = name;
      const found = this.form.get(this.loosening ? [...this.path, "loosening", "order"] : this.at) || {};
      this.figures.input.value = Array.isArray(found) ? "" : found.in_figure || "";
      this.shown = "";
      this.draw();
    }

    draw() {
      const { order } = this, spots = spotsOf(this.form, this.path);
      const state = JSON.stringify([this.name, this.names, order, spots, headOf(this.form)]);
      if (state === this.shown) return;
      this.shown = state;
      this.choices();
      const face = (name) => {
        const turn = order.indexOf(name) + 1;
        return turn ? { text: String(turn), name: `Bolt ${name}, turn ${turn}`, className: "turned" } : { text: name, name: `Bolt ${name}, not yet`, className: "waiting" };
      };
      if (Object.keys(spots).length) exchange(this.holder, board(spots, face, (name) => this.tap(name), headOf(this.form), "Bolts in their order, seen from the wrench's side"));
      else this.holder.replaceChildren(el("p", { className: "gap" }, "Lay the bolts out first, in the part above. Then they stand here to be tapped."));
      if (document.activeElement !== this.typed.input) this.typed.input.value = order.join(", ");
      this.words.node.hidden = this.cites.loosening.node.hidden = !this.loosening;
      this.cites.tightening.node.hidden = this.loosening || !(this.names.length || this.figures.input.value);
      this.tell(order, Object.keys(spots));
    }

    tell(order, names) {
      const missing = names.filter((name) => !order.includes(name));
      if (!names.length) this.said.textContent = "";
      else if (!order.length) this.said.textContent = `Tap the bolt that has number 1 in the manual's figure. ${names.length} bolts.`;
      else if (missing.length) this.said.textContent = `${order.length} of ${names.length}: the last was ${order[order.length - 1]}. Now number ${order.length + 1}.`;
      else this.said.textContent = `All ${names.length} bolts have their number. Hold the drawing against the manual's figure.`;
    }

    // One button an order: those of tightening, one more, and loosening.
    choices() {
      const names = this.names.length ? this.names : ["all"], orders = [...new Set([...names, ...(this.loosening || names.includes(this.name) ? [] : [this.name])])];
      const one = (name, words) => button(words, () => this.pick(name), { "aria-pressed": String(this.name === name) });
      this.choice.replaceChildren(...orders.map((name) => one(name, orders.length > 1 ? `Tightening: ${name}` : "Tightening")), one(null, "Loosening"), button("One more order", () => this.another(orders)),
        ...(orders.length > 1 && !this.loosening ? [button(`Take the order “${this.name}” away`, () => this.drop())] : []));
    }

    another(orders) {
      let number = 2;
      while (orders.includes(`order-${number}`)) number++;
      this.pick(`order-${number}`);
    }

    drop() {
      if (this.order.length && !confirm(`Take the order “${this.name}” away?`)) return;
      this.form.set(this.here, undefined);
      this.pick(this.names[0] || "all");
    }

    put(order) {
      const cite = this.loosening ? this.cites.loosening : this.cites.tightening;
      this.form.change(() => {
        if (!this.loosening && this.figures.input.value && order.length) this.form.put([...this.at, "in_figure"], undefined);
        this.form.put(this.here, order.length ? order : undefined);
        if (order.length) cite.touch();
      });
      if (order.length) this.figures.input.value = "";
      this.draw();
    }

    tap(name) {
      const turn = this.order.indexOf(name) + 1;
      if (turn) this.said.textContent = `${name} has number ${turn} already. Undo takes numbers back, the last one first.`;
      else this.put([...this.order, name]);
    }

    undo() { this.put(this.order.slice(0, -1)); }

    again() {
      if (this.order.length < 2 || confirm("Take every number of this order away?")) this.put([]);
    }

    type(text) {
      this.put(text.split(/[,;\s]+/).filter(Boolean));
    }

    // An order that stays in the manual: where it is to be found.
    inFigure(text) {
      const at = this.loosening ? [...this.path, "loosening", "order"] : [...this.at, "in_figure"];
      const cite = this.loosening ? this.cites.loosening : this.cites.tightening;
      this.form.change(() => {
        if (text && !this.loosening) for (const name of this.names) this.form.put([...this.at, name], undefined);
        this.form.put(at, text && this.loosening ? { in_figure: text } : text);
        if (text) cite.touch();
      });
      this.draw();
    }
  }

  // Cylinders on the drawing: a row of bores with one pitch, or midway between the bolts; each by itself below.
  const BORES = [["count", "Cylinders under this head", ""], ["diameter", "Bore, mm", ""], ["first", "Middle of the first, mm from bolt A1: to the right, upwards", ""], ["pitch", "From cylinder to cylinder, mm", ""]];

  function bores(form) {
    const shape = Firedeck.record.shapeAt(["geometry"]), cite = Firedeck.form.cite.cite(form, ["geometry", "cite"]);
    const given = Object.fromEntries(BORES.map(([key]) => [key, ""]));
    const said = el("p", { className: "refusal", role: "alert" });
    const inputs = BORES.map(([key, label]) => field({ label, changed: (text) => { given[key] = text; }, properties: { inputMode: "text", maxLength: 40 } }).node);
    const editor = el("div");
    const heads = () => editor.replaceChildren(Firedeck.form.block.named(form, ["geometry", "heads"], shape.children.heads, {
      first: ["front", "exhaust", "bores"], proposed: (names) => (names.length ? "" : "head"), touch: cite.touch }));
    const put = (found) => {
      said.textContent = typeof found === "string" ? found : "";
      if (typeof found === "string") return;
      form.change(() => {
        const [head = "head"] = Object.keys(form.get(["geometry", "heads"]) || {});
        form.put(["geometry", "heads", head, "bores"], found);
        cite.touch();
      });
      heads();
    };
    heads();
    return el("div", { className: "bores" }, el("h3", {}, sentence("cylinders on the drawing")), el("p", { className: "hint" }, "They are drawn behind the bolts, so that the drawing is told apart from that of another head."), el("div", { className: "pattern" }, inputs),
      el("div", { className: "ways" }, button("Draw them midway between the bolts", () => put(midway(form, given))), button("Draw them where I say", () => put(placed(given)))), said,
      el("details", { className: "more" }, el("summary", {}, "Front, exhaust side, outline, each cylinder"), editor), cite.node, refusal(["geometry"]));
  }

  const positive = (text) => (/^\d{1,4}(\.\d{1,4})?$/.test(text.trim()) && Number(text) > 0 ? Number(text) : null);
  const rowOf = (xs, y, diameter) => Object.fromEntries(xs.map((x, index) => [String(index + 1), { at: [rounded(x), rounded(y)], diameter }]));

  function midway(form, { count, diameter }) {
    const xs = [...new Set(Object.values(spotsOf(form, ["fasteners", "head"])).map(([x]) => x))].sort((a, b) => a - b);
    const ys = Object.values(spotsOf(form, ["fasteners", "head"])).map(([, y]) => y);
    const size = positive(diameter), wanted = positive(count);
    if (!size || !wanted) return "Say how many cylinders there are, and the bore in mm.";
    if (xs.length !== wanted + 1) return `Between ${xs.length} columns of bolts there is room for ${Math.max(0, xs.length - 1)} cylinders, not ${wanted}: say where they are.`;
    return rowOf(xs.slice(1).map((x, index) => (x + xs[index]) / 2), (Math.min(...ys) + Math.max(...ys)) / 2, size);
  }

  function placed({ count, diameter, first, pitch }) {
    const [size, wanted] = [positive(diameter), positive(count)];
    const at = /^\s*(-?\d+(?:\.\d+)?)\s*[,; ]\s*(-?\d+(?:\.\d+)?)\s*$/.exec(first);
    if (!size || !Number.isInteger(wanted) || wanted > 24 || !at || (wanted > 1 && !positive(pitch))) return "Give the number, the bore, the middle of the first as 42, 35 and the distance between two, all in mm.";
    return rowOf([...Array(wanted).keys()].map((index) => Number(at[1]) + index * (positive(pitch) || 0)), Number(at[2]), size);
  }

  Firedeck.form.pad = { places: (form, path) => new Places(form, path).node(), orders: (form, path) => new Orders(form, path).node(), bores, points };
})((window.Firedeck = window.Firedeck || {}));
