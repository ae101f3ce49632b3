// A figure as printed: one text a printed unit, the condition, the place; units that disagree are shown at once.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;
  const { field, choice, refusal, labelOf, helpOf, newId } = Firedeck.form.parts;

  const MOST = 4; // printed units of one figure
  const ASKED = ["As printed", "The same in another unit, if printed", "In a third unit, if printed", "In a fourth unit, if printed"];

  const read = (text, dimension) => Firedeck.record.readStatement(text, dimension || "");

  // The text with another unit behind it.
  function withUnit(text, unit, dimension) {
    const { statement } = read(text, dimension);
    if (statement && statement.unit) return Firedeck.quantities.printed({ ...statement, unit });
    return `${text.trim()} ${unit}`.trim();
  }

  // One printed text: an input, and beside it the unit, which follows what is typed and can be chosen instead.
  function statement(form, path, label, dimension, touch) {
    const select = el("select", { className: "unit", "aria-label": `${label}: unit` }, el("option", { value: "" }, "unit"),
      Firedeck.quantities.unitsOf(dimension || "").map((unit) => el("option", { value: unit }, unit)));
    const sync = () => {
      const { statement: found } = read(made.input.value, dimension);
      select.value = (found && found.unit) || "";
    };
    const put = (text) => form.change(() => {
      const printed = form.get(path.slice(0, -1)) || [];
      for (let index = 0; index < path[path.length - 1]; index++) form.put([...path.slice(0, -1), index], printed[index] || null);
      form.put(path, text || null);
      if (text) touch();
    });
    const made = field({ label, value: form.get(path) || "", path, changed: (text) => { put(text); sync(); },
      // What is understood is written the one way it is kept.
      done: (text) => {
        const canonical = read(text, dimension).text;
        if (canonical && canonical !== text) { made.input.value = canonical; put(canonical); }
      },
      properties: { maxLength: 200, autocapitalize: "none", spellcheck: false } });
    select.addEventListener("change", () => {
      if (!select.value) return;
      made.input.value = withUnit(made.input.value, select.value, dimension);
      put(made.input.value);
      sync();
    });
    made.input.after(select);
    made.node.classList.add("printed-as");
    sync();
    return made.node;
  }

  const doubtOf = (form, path) => form.get([...path, "doubt"]);
  const texts = (form, path) => (form.get([...path, "printed"]) || []).filter(Boolean);

  // What the printed units say of each other, and the ways out where they disagree.
  function verdict(form, path, shape) {
    const node = el("div", { className: "agreement", role: "status", "data-live": "" });
    let shown = "";
    const settle = (kind, says) => { form.set([...path, "doubt"], kind ? { kind, says } : undefined); };
    node.refresh = () => {
      const said = texts(form, path), found = said.length > 1 ? Firedeck.record.readFigure(said, shape.node) : null;
      const state = JSON.stringify([said, doubtOf(form, path) || null]);
      if (state === shown) return;
      shown = state;
      node.replaceChildren(...(found && !found.refusals.length ? outcome(found, doubtOf(form, path), settle) : []));
    };
    node.refresh();
    return node;
  }

  function outcome({ verdict: found, says, slip }, doubt, settle) {
    if (found === "agree" && doubt && ["manual", "rounding"].includes(doubt.kind)) {
      return [el("div", { className: "doubt" }, el("p", {}, `The units agree now. Is the doubt still needed? ${doubt.says}`), button("Take the doubt away", () => settle()))];
    }
    if (found === "agree") return [el("p", { className: "agrees" }, "The units agree.")];
    const words = [says, slip].filter(Boolean).join("; ");
    if (doubt) return [el("p", { className: "doubt" }, `The units do not agree. Noted as a doubt: ${doubt.says}`)];
    const rounded = found !== "disagree";
    return [el("div", { className: "doubt" },
      el("p", {}, el("strong", {}, rounded ? "The units agree only if one of them is rounded. " : "The units do not agree. "), `${words}. Look at the page once more.`),
      rounded ? button("One of the two is a round number", () => settle("rounding", words))
        : [button("The page prints it so", () => settle("manual", words)), button("A character may be lost in my copy", () => settle("scan", words))])];
  }

  // A text that cannot be read in full is kept in the characters that can.
  function unreadable(form, path) {
    const node = el("div", { "data-live": "" });
    const keep = () => form.change(() => {
      const printed = form.get([...path, "printed"]) || [];
      printed.forEach((text, index) => { if (text && !read(text, "").statement) form.put([...path, "printed", index], `unreadable "${text.replaceAll('"', "'")}"`); });
      if (!doubtOf(form, path)) form.put([...path, "doubt"], { kind: "scan", says: "" });
      node.dispatchEvent(new CustomEvent("rebuild", { bubbles: true }));
    });
    let shown = false;
    node.refresh = () => {
      const wanted = texts(form, path).some((text) => /[?▒…_]/.test(text) && !read(text, "").statement);
      if (wanted === shown) return;
      shown = wanted;
      node.replaceChildren(...(wanted ? [button("A character cannot be read: keep the ones that can", keep)] : []));
    };
    node.refresh();
    return node;
  }

  // What a figure, designation or statement may also have: condition, other name, doubt, replacement. without: keys shown elsewhere.
  function aside(form, path, shape, without = []) {
    const { children } = shape;
    const text = (key, properties) => (children[key] && !without.includes(key) ? field({ label: labelOf(children[key]), help: helpOf(children[key]), value: form.get([...path, key]) || "", path: [...path, key],
      changed: (value) => form.set([...path, key], value), properties: { maxLength: 200, ...properties } }).node : null);
    return [text("when"), text("label"), doubt(form, [...path, "doubt"], children.doubt),
      children.superseded_by ? Firedeck.form.cite.replaced(form, [...path, "superseded_by"]) : null].filter(Boolean);
  }

  // Why a figure is not to be trusted as it stands: its kind and the words.
  function doubt(form, path, shape) {
    if (!shape) return null;
    const said = form.get(path) || {};
    const kind = choice({ label: labelOf(shape), help: helpOf(shape), words: shape.children.kind.node.enum, value: said.kind || "", none: "none", path: [...path, "kind"],
      changed: (value) => form.set(path, value ? { kind: value, says: words.input.value } : undefined) });
    const says = shape.children.says;
    const words = field({ label: helpOf(says) || labelOf(says), value: said.says || "", path: [...path, "says"], rows: 2, changed: (value) => form.set([...path, "says"], value) });
    return el("div", { role: "group", "aria-label": labelOf(shape) }, kind.node, words.node);
  }

  // One figure of a list of them.
  function one(form, path, shape, touch, several) {
    const figure = shape.items, dimension = shape.node.dimension;
    const touched = () => { touch(); place.touch(); };
    const inputs = [...Array(MOST).keys()].map((index) => statement(form, [...path, "printed", index], ASKED[index], dimension, touched));
    const place = Firedeck.form.cite.cite(form, [...path, "cite"], [inputs.slice(2), aside(form, path, figure, ["when"])]);
    const when = figure.children.when;
    const condition = field({ label: labelOf(when), help: helpOf(when).split(": ").pop(), value: form.get([...path, "when"]) || "", path: [...path, "when"], changed: (value) => form.set([...path, "when"], value), properties: { maxLength: 200 } }).node;
    const later = el("div", {}, condition, place.node, several);
    const node = el("div", { className: "figure-given", "data-live": "" }, inputs.slice(0, 2), verdict(form, path, shape), unreadable(form, path), refusal(path), later);
    node.refresh = () => {
      const given = form.get([...path, "printed"]) || [];
      inputs.forEach((input, index) => { input.hidden = index > 0 && !given[index - 1] && !given[index]; });
      later.hidden = !given.some(Boolean);
    };
    node.refresh();
    return node;
  }

  // A list of figures for one place of the record: several sources or conditions stand side by side.
  function figures(form, path, shape, { label = labelOf(shape, path[path.length - 1]), touch = () => {} } = {}) {
    const id = newId();
    const list = el("div");
    const node = el("div", { className: "entry", role: "group", "aria-labelledby": id, "data-field": path.join(".") },
      el("p", { className: "label", id }, label), helpOf(shape) ? el("p", { className: "hint" }, helpOf(shape)) : null, list);
    const draw = () => {
      const count = Math.max(1, (form.get(path) || []).length);
      list.replaceChildren(...[...Array(count).keys()].map((index) => one(form, [...path, index], shape, touch, index < count - 1 ? [remove(index)] : [another(count), count > 1 ? remove(index) : null].filter(Boolean))));
    };
    const remove = (index) => button("Take this figure away", () => {
      form.change(() => form.put(path, (form.get(path) || []).filter((_, at) => at !== index)));
      draw();
      list.querySelector("input").focus();
    });
    const another = (count) => button("Another figure for the same", () => {
      if (!texts(form, [...path, count - 1]).length) return;
      form.change(() => form.put([...path, count], { printed: [] }));
      draw();
      list.lastElementChild.querySelector("input").focus();
    });
    node.addEventListener("rebuild", (event) => { event.stopPropagation(); draw(); const opened = list.querySelector("details.where"); if (opened) Firedeck.form.parts.show(opened); });
    draw();
    return node;
  }

  Firedeck.form.figure = { figures, aside, doubt };
})((window.Firedeck = window.Firedeck || {}));
