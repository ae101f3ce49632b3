// What is no figure: a statement, a designation, and the plain values a block holds beside its facts.
(function (Firedeck) {
  "use strict";
  const { el } = Firedeck.elements;
  const { field, choice, labelOf, helpOf } = Firedeck.form.parts;

  // A count is kept as a number; what is none stays as it was typed, and is refused at its field.
  const counted = (text) => (/^-?\d{1,9}$/.test(text.trim()) ? Number(text) : text);
  const measured = (text) => (/^-?\d{1,9}(\.\d{1,9})?$/.test(text.trim()) ? Number(text) : text);

  // The input for some value: a choice where the schema lists the words, else a text or a number.
  function input(form, path, shape, { label, help = helpOf(shape), changed }) {
    const { node } = shape, value = form.get(path) ?? "";
    const about = { label, help, value, path };
    if (node.enum) return choice({ ...about, words: node.enum, changed });
    if ("const" in node) return tick(form, path, { label, help }, node.const, changed);
    if (node.type === "integer") return field({ ...about, changed: (text) => changed(counted(text)), properties: { inputMode: "numeric", maxLength: 9 } });
    if (node.type === "number") return field({ ...about, changed: (text) => changed(measured(text)), properties: { inputMode: "decimal", maxLength: 20 } });
    const long = (node.maxLength || 0) > 300;
    return field({ ...about, changed: (text) => changed(text.replace(/\s*\n\s*/g, " ")), rows: long ? 1 : 0, properties: { maxLength: node.maxLength || 2000 } });
  }

  function tick(form, path, { label, help }, value, changed) {
    const box = el("input", { type: "checkbox", "data-for": JSON.stringify(path), checked: form.get(path) === value, onchange: () => changed(box.checked ? value : undefined) });
    return { node: el("p", { className: "field tick-field" }, el("label", {}, box, ` ${label}`), el("span", { className: "hint" }, help)), input: box };
  }

  // A statement or a designation, with its place behind one line.
  function said(form, path, shape, { label = labelOf(shape, path[path.length - 1]), touch = () => {} } = {}) {
    const key = shape.leaf === "designation" ? "as" : "says";
    const inner = shape.children[key];
    const place = Firedeck.form.cite.cite(form, [...path, "cite"], Firedeck.form.figure.aside(form, path, shape, shape.node.required.includes("label") ? ["label"] : []));
    const made = input(form, [...path, key], inner, { label, help: helpOf(shape), changed: (value) => form.change(() => {
      form.put([...path, key], value);
      if (value !== "" && value !== undefined) { touch(); place.touch(); }
    }) });
    const node = el("div", { className: "entry", "data-live": "", "data-field": path.join(".") }, made.node, place.node);
    node.refresh = () => { place.node.hidden = (form.get([...path, key]) ?? "") === ""; };
    node.refresh();
    return node;
  }

  // A plain value of a block.
  function plain(form, path, shape, { label = labelOf(shape, path[path.length - 1]), touch = () => {} } = {}) {
    const changed = (value) => form.change(() => { form.put(path, value); if (value !== "" && value !== undefined) touch(); });
    const list = shape.node.type === "array";
    const made = list ? listed(form, path, shape, { label, changed }) : input(form, path, shape, { label, changed });
    return el("div", { className: "entry", "data-field": path.join(".") }, made.node);
  }

  const numbersIn = (text) => (text.match(/-?\d+(?:\.\d+)?/g) || []).map(Number);

  // A list of names, one point, or a list of points, as one text each.
  function listed(form, path, shape, { label, changed }) {
    const value = form.get(path), items = shape.items ? shape.items.node : {};
    const points = items.type === "array";
    const shown = Array.isArray(value) ? (points ? value.map((each) => [each].flat().join(", ")).join("\n") : value.join(", ")) : value || "";
    const parse = (text) => {
      if (points) return text.split("\n").map((line) => line.trim()).filter(Boolean).map((line) => pointIn(line));
      if (items.type === "number") return pointIn(text);
      return text.split(",").map((name) => name.trim()).filter(Boolean);
    };
    const help = [helpOf(shape) || shape.description, points ? "One point a line: 0, 70" : items.type === "number" ? "Such as: 84, 70" : "Names, with commas between them"].filter(Boolean).join(" ");
    return field({ label, help, value: shown, path, rows: points ? 4 : 0, changed: (text) => changed(parse(text)) });
  }

  // Two numbers, or the text as it was typed where it is none.
  const pointIn = (text) => (/^\s*-?\d+(\.\d+)?\s*[,; ]\s*-?\d+(\.\d+)?\s*$/.test(text) ? numbersIn(text) : text.trim());

  Firedeck.form.said = { said, plain, counted, measured };
})((window.Firedeck = window.Firedeck || {}));
