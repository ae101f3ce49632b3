// Bolts laid out by the reader and tapped in the order of the manual's figure; kept in the job, marked as entered.
(function (Firedeck) {
  "use strict";
  const { el, button, field, choice } = Firedeck.elements;
  const { draw, heading, ways, show } = Firedeck.walk;

  // The page of the walk-through on which an order is entered; the walk goes on with it.
  function layOut(walk) {
    const { bench, key } = walk, { groups } = bench.model.fasteners[key], kinds = Object.keys(groups);
    const count = kinds.reduce((sum, each) => sum + (Number(groups[each].count) || NaN), 0) || 0; // 0: not in the record
    const size = { rows: 2, columns: Math.ceil(count / 2) || 5 }, picked = {};
    let order = [], kind = kinds[0] || "", warned = 0;
    const board = el("div", { className: "board", role: "group", "aria-label": "Bolts, seen from the wrench's side" });
    const said = el("p", { role: "status" });
    const range = (length) => [...Array(length).keys()];
    // A letter for the row, a number for the column: A1 is the bolt at the lower left.
    const names = () => range(size.rows).reverse().map((row) => range(size.columns).map((column) => String.fromCharCode(65 + row) + (column + 1)));

    function grid() {
      board.style.gridTemplateColumns = `repeat(${size.columns}, minmax(64px, 1fr))`;
      board.replaceChildren(...names().flat().map((name) => {
        const turn = order.indexOf(name) + 1;
        return button(turn ? `${turn}` : "·", () => tap(name), { className: turn ? "button bolt tapped" : "button bolt", "aria-label": `${name}${turn ? `, turn ${turn}` : ""}` });
      }));
      said.textContent = order.length ? `${order.length} tapped: ${order.join(", ")}` : "None tapped yet. A place without a bolt is simply not tapped.";
    }

    function tap(name) {
      if (order.includes(name)) return;
      order.push(name);
      picked[name] = kind;
      grid();
    }

    function undo() {
      order.pop();
      grid();
    }

    function unfit() {
      if (order.length < 2) return "Tap the bolts first, in the order of the manual's figure.";
      if (!count || count === order.length || warned === order.length) return "";
      warned = order.length;
      return `The record counts ${count} bolts; ${order.length} are tapped. Count again; press once more if the manual says so.`;
    }

    function use() {
      const refusal = unfit(), places = {};
      if (refusal) {
        said.textContent = refusal;
        return;
      }
      names().reverse().forEach((row, y) => row.forEach((name, x) => { if (order.includes(name)) places[name] = [x, y]; }));
      bench.change((job) => {
        job.orders[key] = { places, order, groups: Object.fromEntries(order.map((name) => [name, picked[name]])) };
        job.choices[`${key}, order`] = `entered by you: ${order.join(", ")}`;
      });
      show(walk);
    }

    const sized = (words, which, most) => field(words, String(size[which]), (text) => {
      const number = Number(text);
      if (!Number.isInteger(number) || number < 1 || number > most) return;
      size[which] = number;
      order = [];
      grid();
    }, { type: "number", min: 1, max: most });

    draw(walk, heading("Lay the bolts out, then tap them in the order of the manual's figure"),
      sized("Rows", "rows", 6), sized("Bolts in a row", "columns", 14),
      kinds.length > 1 ? choice("The bolts you tap now are", kinds.map((each) => [each, each]), kind, (given) => { kind = given; }) : null,
      board, said, ways(button("Undo the last tap", undo), button("Use this order", use, { className: "button done" })));
    grid();
  }

  Firedeck.layOut = layOut;
})((window.Firedeck = window.Firedeck || {}));
