// Every figure, designation and statement of a record with its source, found by walking the data along the schema.
// Twin of generator/record/facts.py.
//   facts(data) -> {facts, refusals}     data: a tidy record; refusals: texts that are no statement or measure something else
// A fact: {path, labels, kind, cite, text, printed, called, when, doubt, status, compared, superseded_by, descriptive, agreement, slip, conversions}
(function (R, Q) {
  "use strict";
  const LIKE_CITE = /^(cit|sourc|ref|page|manual)/;
  // Keys that say something about the facts around them, or that are read elsewhere.
  const NO_FACTS = [
    "cite", "label", "when", "doubt", "status", "compared", "descriptive", "id", "name", "sources", "exceptions", "geometry", "orders", "order",
    "per", "walk", "do", "at", "heads", "group", "opens", "provided_by",
  ];
  const blockOf = (value) => (R.isBlock(value) ? value : {});
  const listOf = (value) => (Array.isArray(value) ? value : []);
  const textOf = (value) => (value === undefined ? "" : Array.isArray(value) ? JSON.stringify(value) : String(value));

  // {source, place}, split at the first space.
  function cite(text) {
    const [source, ...place] = text.split(" ");
    return { source, place: Q.strip(place.join(" ")) };
  }

  // The block's own cite; one under a wrong key is reported as that and is not missing as well.
  function ownCite(block, known = {}) {
    if ("cite" in block) return textOf(block.cite);
    const like = Object.keys(block).find((key) => typeof block[key] === "string" && !Object.hasOwn(known, key) && LIKE_CITE.test(key));
    return like ? block[like] : "";
  }

  const called = (data) => (R.isBlock(data) && data.label && !("printed" in data || "says" in data || "as" in data) ? `, called ${data.label}` : "");
  const ownName = (key, data) => textOf(blockOf(data).label) || key.replace(/^other_/, "").replaceAll("_", " ");

  function about(item, around) {
    const own = ownCite(item) || around;
    const pair = (value, ...keys) => (R.isBlock(value) ? Object.fromEntries(keys.map((key) => [key, textOf(value[key])])) : null);
    return {
      cite: own ? cite(own) : null, called: textOf(item.label), when: textOf(item.when), doubt: pair(item.doubt, "kind", "says"),
      status: textOf(item.status ?? "transcribed"), compared: pair(item.compared, "day", "edition"), superseded_by: textOf(item.superseded_by),
    };
  }

  function plainFact(path, labels, kind, text) {
    return { path, labels, kind, text, printed: [], descriptive: false, ...R.together([], false) };
  }

  class Walk {
    constructor() {
      this.facts = [];
      this.refusals = [];
    }

    block(data, shape, path, labels, around) {
      const own = ownCite(data, shape.children) || around;
      for (const key of Object.keys(shape.children)) {
        if (Object.hasOwn(data, key) && !NO_FACTS.includes(key)) this.value(data[key], shape.children[key], [...path, key], labels, own, false);
      }
      for (const key of shape.others ? Object.keys(data) : []) {
        if (!Object.hasOwn(shape.children, key)) this.value(data[key], shape.others, [...path, key], [...labels, ownName(key, data[key])], own, true);
      }
    }

    // named: the label of what stands here is already among the labels.
    value(data, shape, path, above, around, named) {
      const isOnlyNames = shape.others && !Object.keys(shape.children).length;
      const labels = named || !shape.title || isOnlyNames ? above : [...above, shape.title + called(data)];
      if (shape.leaf === "figures") this.figures(data, shape, path, labels, around);
      else if (shape.leaf) this.said(data, shape.leaf, path, labels, around);
      else if (R.isBlock(data)) this.block(data, shape, path, labels, around);
      else if (Array.isArray(data)) this.items(data, shape, path, labels, around);
      else this.word(data, path, labels, around);
    }

    word(data, path, labels, around) {
      this.facts.push({ ...plainFact(path, labels, "word", textOf(data)), ...about({}, around) });
    }

    items(data, shape, path, labels, around) {
      data.forEach((item, index) => {
        if (!shape.items || !R.isBlock(item)) return;
        const trail = item.label ? [...labels, textOf(item.label)] : [...labels.slice(0, -1), `${shape.items.title} ${index + 1}`];
        this.value(item, shape.items, [...path, index], trail, around, true);
      });
    }

    said(data, leaf, path, labels, around) {
      if (!R.isBlock(data)) return;
      const text = textOf(data[leaf === "designation" ? "as" : "says"]);
      this.facts.push({ ...plainFact(path, labels, leaf, text), ...about(data, around) });
    }

    figures(data, shape, path, labels, around) {
      listOf(data).forEach((item, index) => {
        if (!R.isBlock(item)) return;
        const here = [...path, index];
        const descriptive = Boolean(shape.node.descriptive);
        listOf(item.printed).forEach((text, n) => this.refuse(text, [...here, "printed", n], shape.node.dimension || ""));
        const texts = listOf(item.printed).filter((text) => typeof text === "string");
        this.facts.push({ path: here, labels, kind: "figure", text: "", descriptive, ...R.together(texts, descriptive), ...about(item, around) });
      });
    }

    refuse(text, path, dimension) {
      const { rule, message, hint } = typeof text === "string" ? R.readStatement(text, dimension) : {};
      if (message) this.refusals.push({ path, rule, message, hint });
    }
  }

  function facts(data) {
    const walk = new Walk();
    walk.block(blockOf(data), R.shape(), [], [], "");
    return walk;
  }

  // The place in the record without the position in a list of figures, as text.
  const keyOf = (fact) => (fact.kind === "figure" ? fact.path.slice(0, -1) : fact.path).join(".");

  Object.assign(R, { facts, keyOf, cite, ownCite, blockOf, listOf, textOf });
})(window.Firedeck.record, window.Firedeck.quantities);
