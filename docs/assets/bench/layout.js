// Bolts laid out by the reader and tapped in the order of the manual's figure; kept in the job, marked as entered.
(function (Firedeck) {
  "use strict";
  const { el, button, field, choice } = Firedeck.elements;

  class Layout {
    constructor(bench, key, walk) {
      Object.assign(this, { bench, key, walk, rows: 2, order: [], groups: {} });
      const { groups } = bench.model.fasteners[key];
      this.kinds = Object.keys(groups);
      this.count = this.kinds.reduce((sum, kind) => sum + (Number(groups[kind].count) || NaN), 0) || 0; // 0: not in the record
      this.columns = Math.ceil(this.count / 2) || 5;
      this.kind = this.kinds[0] || "";
    }

    // A letter for the row, a number for the column: A1 is the bolt at the lower left.
    get names() {
      const rows = [...Array(this.rows).keys()].reverse();
      return rows.map((row) => [...Array(this.columns).keys()].map((column) => String.fromCharCode(65 + row) + (column + 1)));
    }

    show() {
      const size = (words, key, most) => field(words, String(this[key]), (value) => {
        const number = Number(value);
        if (!Number.isInteger(number) || number < 1 || number > most) return;
        this[key] = number;
        this.order = [];
        this.grid();
      }, { type: "number", min: 1, max: most });
      this.board = el("div", { className: "board", role: "group", "aria-label": "Bolts, seen from the wrench's side" });
      this.said = el("p", { role: "status" });
      this.walk.draw(this.walk.heading("Lay the bolts out, then tap them in the order of the manual's figure"),
        size("Rows", "rows", 6), size("Bolts in a row", "columns", 14),
        this.kinds.length > 1 ? choice("The bolts you tap now are", this.kinds.map((kind) => [kind, kind]), this.kind, (kind) => { this.kind = kind; }) : null,
        this.board, this.said,
        el("div", { className: "walk-buttons" }, button("Undo the last tap", () => this.undo()),
          button("Use this order", () => this.use(), { className: "button done" })));
      this.grid();
    }

    grid() {
      this.board.style.gridTemplateColumns = `repeat(${this.columns}, minmax(64px, 1fr))`;
      this.board.replaceChildren(...this.names.flat().map((name) => {
        const turn = this.order.indexOf(name) + 1;
        return button(turn ? `${turn}` : "·", () => this.tap(name), { className: turn ? "button bolt tapped" : "button bolt", "aria-label": `${name}${turn ? `, turn ${turn}` : ""}` });
      }));
      this.said.textContent = this.order.length ? `${this.order.length} tapped: ${this.order.join(", ")}` : "None tapped yet. A place without a bolt is simply not tapped.";
    }

    tap(name) {
      if (this.order.includes(name)) return;
      this.order.push(name);
      this.groups[name] = this.kind;
      this.grid();
    }

    undo() {
      this.order.pop();
      this.grid();
    }

    use() {
      if (this.order.length < 2) {
        this.said.textContent = "Tap the bolts first, in the order of the manual's figure.";
        return;
      }
      if (this.count && this.count !== this.order.length && this.warned !== this.order.length) {
        this.warned = this.order.length;
        this.said.textContent = `The record counts ${this.count} bolts; ${this.order.length} are tapped. Count again; press once more if the manual says so.`;
        return;
      }
      const names = this.names;
      const places = {};
      names.forEach((row, y) => row.forEach((name, x) => { if (this.order.includes(name)) places[name] = [x, names.length - 1 - y]; }));
      this.bench.change((job) => {
        job.orders[this.key] = { places, order: this.order, groups: Object.fromEntries(this.order.map((name) => [name, this.groups[name]])) };
        job.choices[`${this.key}, order`] = `entered by you: ${this.order.join(", ")}`;
      });
      this.walk.show();
    }
  }

  Firedeck.Layout = Layout;
})((window.Firedeck = window.Firedeck || {}));
