// The flatness worksheet: lines on the outline of this head; tap one, say which blade goes and which does not.
(function (Firedeck) {
  "use strict";
  const { el, button, field, choice, all } = Firedeck.elements;
  const { SHEETS, Context } = Firedeck.worksheets;
  const C = Firedeck.calculations;
  const BLADES = { mm: "0.03 0.04 0.05 0.06 0.07 0.08 0.09 0.10 0.15 0.20 0.25 0.30 0.40 0.50", in: ".0015 .002 .0025 .003 .004 .005 .006 .008 .010 .012 .015 .020" };

  // The face in hand: a head, or the one deck under several heads.
  function headOf(ctx) {
    const { heads } = ctx.model;
    const found = heads.find((head) => head.name === ctx.head);
    if (found || heads.length < 2) return found || heads[0] || null;
    return { ...heads[0], outline: [], round: null, bores: heads.flatMap((head) => head.bores) };
  }

  function linesOf(ctx) {
    const head = headOf(ctx);
    if (head && head.round) return C.flatness.linesOfRound();
    const count = Number(ctx.says("identity.cylinders") || (ctx.bench.job.readings.compression || {}).cylinders) || 1;
    const bores = head && head.bores.length ? head.bores.map((bore) => bore.name) : [...Array(Math.min(24, Math.ceil(count))).keys()].map((index) => String(index + 1));
    return C.flatness.linesOf(bores);
  }

  const DIRECTIONS = ["lengthwise", "crosswise", "any"];

  // A barrel has no deck of its own name.
  const placeOf = (ctx, face) => `faces.${face === "deck" && ctx.model.facts.some((fact) => fact.at.startsWith("faces.barrel.flatness")) ? "barrel" : face}.flatness`;
  const spanOf = (ctx, face) => ctx.value(`${placeOf(ctx, face)}.local.span`);

  function limitsOf(ctx, face) {
    const place = placeOf(ctx, face);
    const own = DIRECTIONS.map((direction) => ({ direction, limit: ctx.limit(`${place}.${direction}`, `flatness, ${direction}`) }));
    const span = spanOf(ctx, face), local = span && ctx.limit(`${place}.local.limit`, "flatness over a short span");
    const words = ctx.says(`${place}.no_number`);
    return [...own, { direction: "any", limit: local, span },
      { direction: "any", limit: words ? { label: words, low: null, high: null, strict: false, basis: "", own: true } : null }].filter((each) => each.limit);
  }

  const unitOf = (ctx) => ctx.text("unit") || "mm";
  const bladesOf = (ctx) => (ctx.text("blades") || BLADES[unitOf(ctx)]).split(/[\s;]+/).filter(Boolean)
    .map((text) => ctx.attempt("blades", () => C.entry.readEntry(text, unitOf(ctx), "blades"))).filter(Boolean);

  // Over the whole line, and over the short span where the record limits one.
  function readingsOf(ctx, lines, face) {
    const blade = (name) => { const found = ctx.read(name, unitOf(ctx)); return found ? [found] : []; };
    const short = spanOf(ctx, face), doubt = ctx.read("doubt", unitOf(ctx));
    return lines.flatMap(({ id }) => [null, ...(short ? [short] : [])].map((span) => {
      const name = span ? `${id} short` : id;
      return { line: id, span, doubt, goes: blade(`${name} goes`), stops: blade(`${name} stops`), rocks: !span && ctx.text(`${id} rocks`) === "yes" };
    })).filter((reading) => reading.goes.length || reading.stops.length || reading.rocks);
  }

  // Where each line runs, in the millimetres of the drawing; on a square of its own where the head is not drawn.
  function course(head, line, lines) {
    const points = head ? Firedeck.drawing.corners(head) : [];
    const [xs, ys] = [0, 1].map((axis) => (points.length ? points.map((point) => point[axis]) : [0, axis ? 100 : 300]));
    const [left, right, bottom, top] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    const inset = (top - bottom) * 0.1, across = lines.filter((each) => each.direction === "crosswise");
    const x = left + (right - left) * (0.04 + 0.92 * across.indexOf(line) / Math.max(1, across.length - 1));
    if (line.direction === "diameter") return diameter(head.round, lines.indexOf(line) / lines.length);
    return {
      "edge-a": [[left, bottom + inset], [right, bottom + inset]], "edge-b": [[left, top - inset], [right, top - inset]],
      "diagonal-a": [[left, bottom], [right, top]], "diagonal-b": [[left, top], [right, bottom]],
    }[line.id] || [[x, bottom], [x, top]];
  }

  function diameter(round, part) {
    const [dx, dy] = [Math.cos(part * Math.PI), Math.sin(part * Math.PI)].map((each) => each * round.diameter / 2);
    return [[round.x - dx, round.y - dy], [round.x + dx, round.y + dy]];
  }

  function picture(head, lines, judged, low, current, tap) {
    const { shape, scaleOf, ghost, edges, corners } = Firedeck.drawing;
    const all = lines.map((line) => course(head, line, lines));
    const scale = scaleOf([...all.flat(), ...corners(head)], []);
    const svg = shape("svg", { class: "diagram by-hand lines", viewBox: `0 0 ${scale.width} ${scale.height}`, width: scale.width, height: scale.height, "aria-hidden": "true" }, ...ghost(head, scale, low), ...edges(head, scale));
    lines.forEach((line, index) => {
      const [[x1, y1], [x2, y2]] = all[index];
      const at = { x1: scale.x(x1), y1: scale.y(y1), x2: scale.x(x2), y2: scale.y(y2) };
      const verdict = judged[index] ? judged[index].deciding.result.verdict.replaceAll(" ", "-") : "not-measured";
      const wide = shape("line", { ...at, class: "touch" });
      wide.addEventListener("click", () => tap(line.id));
      svg.append(shape("line", { ...at, class: `line ${verdict}${line.id === current ? " current" : ""}` }), wide);
    });
    return svg;
  }

  // The set of blades, the drawing, the buttons of the lines and the two blades of the line in hand.
  const panel = (face) => (ctx, changed) => {
    const lines = linesOf(ctx), head = headOf(ctx), span = spanOf(ctx, face);
    let current = lines[0].id, judged = [];
    const note = el("div");
    const drawing = el("div", { className: "drawing" }), list = el("div", { className: "lines-list" }), hand = el("div", { className: "line-in-hand" });
    const pick = (id) => { current = id; redraw(); hand.querySelector("select").focus(); };
    const sizes = (name) => [...new Set([...bladesOf(ctx).map(({ value, unit }) => `${value} ${unit}`), ctx.text(name)])].filter(Boolean).map((text) => [text, text]);
    const set = (name, value) => { ctx.set(name, value); changed(); };
    function redraw() {
      const line = lines.find((each) => each.id === current), { reasons, names } = lowCylinders(ctx);
      drawing.replaceChildren(picture(head, lines, judged, names, current, pick));
      note.replaceChildren(reasons.length ? el("p", { className: "doubt" }, "From the compression sheet: ", reasons.join(" "), " Look twice there.") : "");
      list.replaceChildren(...lines.map((each, index) => button(`${each.name}${judged[index] && judged[index].deciding.result.verdict !== "not measured" ? `: ${judged[index].deciding.result.verdict}` : ""}`,
        () => pick(each.id), { "aria-pressed": String(each.id === current) })));
      const blade = (which, words) => choice(words, [["", "none"], ...sizes(`${current} ${which}`)], ctx.text(`${current} ${which}`), (value) => set(`${current} ${which}`, value));
      const short = span ? `Over any ${span.value} ${span.unit}: ` : "";
      const focused = all("select", hand).indexOf(document.activeElement);
      hand.replaceChildren(el("h4", {}, line.name), blade("goes", "Thickest blade that goes"), blade("stops", "Thinnest blade that does not go"),
        ...(short ? [blade("short goes", `${short}thickest blade that goes`), blade("short stops", `${short}thinnest blade that does not go`)] : []),
        choice("The straightedge", [["", "lies still"], ["yes", "rocks"]], ctx.text(`${current} rocks`), (value) => set(`${current} rocks`, value)));
      if (focused >= 0) all("select", hand)[focused].focus();
    }
    const blades = field("Blades in the set", ctx.text("blades") || BLADES[unitOf(ctx)], (value) => set("blades", value));
    const unit = choice("Blades in", [["mm", "mm"], ["in", "inches"]], unitOf(ctx), (value) => {
      ctx.set("unit", value);
      set("blades", "");
      blades.querySelector("input").value = BLADES[value];
    });
    const node = el("div", {}, note, drawing, list, hand, el("details", {}, el("summary", {}, "Blades and tools"), unit, blades,
      field("Doubt of straightedge and blades together, if you know it", ctx.text("doubt"), (value) => set("doubt", value), { inputMode: "decimal" })));
    return { node, show: (answers) => { judged = (answers.face || { lines: [] }).lines; redraw(); } };
  };

  // Cylinders that fail in the compression sheet of this job: where to look twice.
  function lowCylinders({ bench }) {
    try {
      const { patterns = [] } = SHEETS.compression.judge(new Context(bench, "compression", ""));
      return { reasons: patterns.map((each) => each.reason), names: patterns.flatMap((each) => each.cylinders) };
    } catch (error) {
      return { reasons: [], names: [] }; // that sheet says itself what it does not understand
    }
  }

  function sheet(face, title) {
    return {
      title,
      form: () => [],
      more: panel(face),
      follows: "compression",
      judge(ctx) {
        const lines = linesOf(ctx), readings = readingsOf(ctx, lines, face);
        if (!readings.length) return [];
        const found = C.flatness.judgeFace(lines, readings, limitsOf(ctx, face), bladesOf(ctx));
        const measured = found.lines.filter((each) => each.deciding.result.verdict !== "not measured");
        const answers = [{ what: title[0].toUpperCase() + title.slice(1), found: found.result }, ...measured.map((each) => ({ what: "", found: each.deciding.result }))];
        answers.face = found;
        return answers;
      },
    };
  }

  SHEETS["flatness-head"] = sheet("head", "flatness of the head");
  SHEETS["flatness-deck"] = sheet("deck", "flatness of the deck");
})((window.Firedeck = window.Firedeck || {}));
