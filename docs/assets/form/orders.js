// The order: the bolts tapped as the numbers of the manual's figure go, with undo; several orders, and that of loosening.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;
  const { field, refusal, labelOf } = Firedeck.form.parts;
  const { board, exchange, spotsOf, headOf } = Firedeck.form.board;

  // Which one is in hand, the board that is tapped, undo.
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
      this.typed.input.dataset.for = JSON.stringify(this.here);
      this.figures.input.dataset.for = JSON.stringify([...(this.loosening ? this.here : this.at), "in_figure"]);
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

  Firedeck.form.orders = { orders: (form, path) => new Orders(form, path).node() };
})((window.Firedeck = window.Firedeck || {}));
