// A stretch of the record laid out by the schema: what is usual stands open, everything else waits behind a button with its name.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;
  const { field, labelOf, helpOf, refusal, newId } = Firedeck.form.parts;
  const { cleaned } = Firedeck.form.draft;

  const NAME = /^[A-Za-z0-9][A-Za-z0-9_-]{0,31}$/;
  const kindOf = (shape) => {
    if (shape.leaf) return shape.leaf === "figures" ? "figures" : "said";
    if (shape.items && (shape.items.leaf || Object.keys(shape.items.children).length)) return "rows";
    if (shape.others && !Object.keys(shape.children).length) return "named";
    return Object.keys(shape.children).length ? "block" : "plain";
  };

  const MAKERS = {
    figures: (form, path, shape, options) => Firedeck.form.figure.figures(form, path, shape, options),
    said: (form, path, shape, options) => Firedeck.form.said.said(form, path, shape, options),
    plain: (form, path, shape, options) => Firedeck.form.said.plain(form, path, shape, options),
    block: (form, path, shape, options) => block(form, path, shape, options),
    rows: (form, path, shape, options) => rows(form, path, shape, options),
    named: (form, path, shape, options) => named(form, path, shape, options),
  };

  const make = (form, path, shape, options = {}) => MAKERS[kindOf(shape)](form, path, shape, options);

  const filled = (form, path) => cleaned(form.get(path)) !== undefined;
  const under = (first, key) => first.filter((each) => each === key || each.startsWith(`${key}.`)).map((each) => each.slice(key.length + 1)).filter(Boolean);
  const PLAIN_FACTS = ["string", "integer"]; // plain values that the record's reader takes for facts, so that they need a source
  const NO_FACTS = ["label", "per", "walk", "do", "order", "groups", "provided_by", "opens", "group", "descriptive"];

  // The members of a block: open ones as fields, the others as buttons. first: keys that stand open, below them after a full stop.
  // leftTo: keys that stand elsewhere. touch: gives what the block says in plain words a source, where the block has no key for one.
  function members(form, path, shape, { first = [], leftTo = [], touch = () => {} } = {}) {
    const cite = shape.children.cite ? Firedeck.form.cite.cite(form, [...path, "cite"]) : null;
    const keys = Object.keys(shape.children).filter((key) => key !== "cite" && !leftTo.includes(key));
    const below = cite ? cite.touch : touch;
    const open = keys.filter((key) => first.some((each) => each.split(".")[0] === key) || filled(form, [...path, key]));
    const fieldOf = (key) => make(form, [...path, key], shape.children[key], { first: under(first, key), touch: needsBlock(shape.children[key], key) ? below : () => {}, legend: true });
    const list = el("div", { className: "members" });
    for (const key of open) list.append(fieldOf(key));
    const node = el("div", {}, list, more(keys.filter((key) => !open.includes(key)), shape, (key, after) => {
      const added = fieldOf(key);
      added.dataset.key = key;
      list.append(added);
      after();
      Firedeck.form.parts.show(added);
    }));
    if (cite && keys.some((key) => needsBlock(shape.children[key], key))) node.append(blockPlace(form, path, cite, keys.filter((key) => needsBlock(shape.children[key], key))));
    return node;
  }

  // Whether a value below leans on the source of the block it stands in.
  function needsBlock(shape, key) {
    if (kindOf(shape) === "block") return !shape.children.cite && Object.entries(shape.children).some(([name, each]) => needsBlock(each, name));
    return kindOf(shape) === "plain" && !NO_FACTS.includes(key) && (PLAIN_FACTS.includes(shape.node.type) || Boolean(shape.node.enum));
  }

  // The place of what a block says in plain words; out of sight while it says nothing.
  function blockPlace(form, path, cite, keys) {
    const node = el("div", { "data-live": "" }, cite.node);
    node.refresh = () => { node.hidden = !keys.some((key) => filled(form, [...path, key])); };
    node.refresh();
    return node;
  }

  const NAMED = 3; // names of what waits behind a button, before the rest is only said to be there

  const alsoWords = (names) => `Also on the page? ${names.slice(0, NAMED).join(", ")}${names.length > NAMED ? " …" : ""}`;

  function more(keys, shape, add) {
    if (!keys.length) return el("span");
    const buttons = keys.map((key) => button(labelOf(shape.children[key], key), () => add(key, () => {
      buttons.splice(buttons.indexOf(made[key]), 1);
      made[key].remove();
      node.hidden = !buttons.length;
    }), { title: helpOf(shape.children[key]), "data-add": key }));
    const made = Object.fromEntries(keys.map((key, index) => [key, buttons[index]]));
    const node = el("details", { className: "more" }, el("summary", {}, alsoWords(keys.map((key) => labelOf(shape.children[key], key)))), el("div", { className: "chips" }, buttons));
    return node;
  }

  function block(form, path, shape, options = {}) {
    const label = options.label || labelOf(shape, path[path.length - 1]);
    if (!options.legend) return el("div", { className: "block", "data-field": path.join(".") }, members(form, path, shape, options), refusal(path));
    return el("fieldset", { className: "block", "data-field": path.join(".") }, el("legend", {}, label),
      helpOf(shape) ? el("p", { className: "hint" }, helpOf(shape)) : null, members(form, path, shape, options), refusal(path));
  }

  // A list of blocks or statements: rows that can be added and taken away.
  function rows(form, path, shape, { label = labelOf(shape, path[path.length - 1]), legend = true } = {}) {
    const list = el("div"), item = shape.items;
    const called = (item.title || label).toLowerCase();
    const draw = (focus) => {
      const found = form.get(path) || [];
      list.replaceChildren(...found.map((_, index) => el("fieldset", { className: "row" }, el("legend", {}, `${item.title || label} ${index + 1}`),
        rowOf(form, [...path, index], item), refusal([...path, index]), button(`Take this ${called} away`, () => remove(index)))));
      if (focus !== undefined && list.children[focus]) list.children[focus].querySelector("input, select, textarea").focus();
    };
    const remove = (index) => {
      if (cleaned(form.get([...path, index])) !== undefined && !confirm(`Take this ${called} away?`)) return;
      form.change(() => form.put(path, form.get(path).filter((_, at) => at !== index)));
      draw();
    };
    const add = button(`Add: ${called}`, () => {
      const found = form.get(path) || [];
      form.change(() => form.put([...path, found.length], {}));
      draw(found.length);
    }, { "data-add": path[path.length - 1] });
    draw();
    return el(legend ? "fieldset" : "div", { className: "block", "data-field": path.join(".") }, legend ? el("legend", {}, label) : null,
      helpOf(shape) ? el("p", { className: "hint" }, helpOf(shape)) : null, list, add, refusal(path));
  }

  // What is open in a row: what it cannot do without, and all of it where that is little.
  function rowOf(form, path, item) {
    const needs = item.node.required || [];
    if (item.leaf) {
      return el("div", {}, needs.includes("label") ? field({ label: labelOf(item.children.label), help: helpOf(item.children.label), value: form.get([...path, "label"]) || "", path: [...path, "label"],
        changed: (text) => form.set([...path, "label"], text), properties: { maxLength: 200 } }).node : null, make(form, path, item, { label: labelOf(item.children.says) }));
    }
    const keys = Object.keys(item.children).filter((key) => key !== "cite");
    return members(form, path, item, { first: keys.length <= 5 ? keys : needs });
  }

  // Blocks under names of the person's own. fresh: what a new one holds. proposed: the name that the first ones get without being asked for.
  function named(form, path, shape, { label = labelOf(shape, path[path.length - 1]), first = [], fresh = {}, proposed = () => "", touch = () => {} } = {}) {
    const id = newId(), list = el("div"), item = shape.others;
    const draw = (focus) => {
      const found = Object.keys(form.get(path) || {});
      list.replaceChildren(...found.map((name) => el("fieldset", { className: "row", "data-name": name }, el("legend", {}, `${item.title || label}: ${name}`),
        make(form, [...path, name], item, { first, label: helpOf(item) || item.title, legend: false, touch }),
        button(`Take “${name}” away`, () => remove(name)))));
      const row = focus && list.querySelector(`[data-name="${focus}"]`);
      if (row) (row.querySelector("input, select, textarea") || row).focus();
      asked.input.value = "";
      const usualName = proposed(found);
      usual.replaceChildren(...(usualName ? [button(`Add: ${(item.title || label).toLowerCase()}`, () => add(usualName), { "data-add": path[path.length - 1] })] : []));
    };
    const remove = (name) => {
      if (!confirm(`Take “${name}” away, with all that is entered for it?`)) return;
      form.change(() => form.put([...path, name], undefined));
      draw();
    };
    const asked = field({ label: `Name of another: ${(item.title || label).toLowerCase()}`, help: "A short name of your own: letters, digits, - and _", value: "", changed: () => { said.textContent = ""; },
      properties: { maxLength: 32, autocapitalize: "none" } });
    const said = el("p", { className: "refusal", role: "alert", id });
    const add = (name) => {
      const taken = Object.keys(form.get(path) || {});
      said.textContent = NAME.test(name) ? (taken.includes(name) ? `There is one called ${name} already.` : "") : "A short name is needed: letters, digits, - and _, without spaces.";
      if (said.textContent) return;
      form.change(() => {
        form.put([...path, name], structuredClone(fresh));
        if (item.children.cite && Object.keys(fresh).length) form.put([...path, name, "cite"], form.draft.place || form.draft.books[0]);
        touch();
      });
      draw(name);
    };
    const usual = el("div"), other = el("details", { className: "more" }, el("summary", {}, `Another: ${(item.title || label).toLowerCase()}`), asked.node,
      button("Add it", () => add(asked.input.value.trim()), { "data-add": path[path.length - 1] }), said);
    draw();
    return el("fieldset", { className: "block", "data-field": path.join(".") }, el("legend", {}, label), helpOf(shape) ? el("p", { className: "hint" }, helpOf(shape)) : null,
      list, usual, other, refusal(path));
  }

  Firedeck.form.block = { make, block, rows, named, members, filled, kindOf };
})((window.Firedeck = window.Firedeck || {}));
