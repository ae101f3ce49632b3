// A record against its schema: one fault a slip. Twin of generator/reading/schema.py; the words stand in messages.js.
//   checkSchema(data, kind) -> [{path, rule, message, hint}]
(function (R) {
  "use strict";
  const { isBlock } = R;
  const isType = {
    string: (value) => typeof value === "string", object: isBlock, array: Array.isArray, boolean: (value) => typeof value === "boolean",
    number: (value) => typeof value === "number", integer: (value) => Number.isInteger(value),
  };
  const listed = (value) => (Array.isArray(value) ? value : [value]);
  const size = { Length: (value) => Array.from(value).length, Items: (value) => value.length, Properties: (value) => Object.keys(value).length };
  const counts = { Length: isType.string, Items: Array.isArray, Properties: isBlock };
  const isNumber = isType.number;
  const matches = (pattern, key) => new RegExp(pattern).test(key);
  const extras = (node, data) => Object.keys(data).filter((key) => !Object.hasOwn(node.properties || {}, key)
    && !Object.keys(node.patternProperties || {}).some((pattern) => matches(pattern, key)));
  const down = (here, part) => ({ ...here, path: [...here.path, part] });

  // keyword -> (wanted, data, node, here) -> true where the data does not fit; here: {document, path, ofName}
  const PLAIN = {
    type: (wanted, data) => !listed(wanted).some((each) => isType[each](data)),
    enum: (wanted, data) => !wanted.includes(data),
    const: (wanted, data) => wanted !== data,
    pattern: (wanted, data) => isType.string(data) && !matches(wanted, data),
    minimum: (wanted, data) => isNumber(data) && data < wanted,
    maximum: (wanted, data) => isNumber(data) && data > wanted,
    exclusiveMinimum: (wanted, data) => isNumber(data) && data <= wanted,
    uniqueItems: (wanted, data) => Array.isArray(data) && new Set(data.map((each) => JSON.stringify(each))).size < data.length,
  };
  for (const what of Object.keys(size)) {
    PLAIN[`min${what}`] = (wanted, data) => counts[what](data) && size[what](data) < wanted;
    PLAIN[`max${what}`] = (wanted, data) => counts[what](data) && size[what](data) > wanted;
  }

  // keyword -> (wanted, data, node, here) -> faults below
  const NESTED = {
    $ref(wanted, data, node, here) {
      const found = R.target(wanted, here.document);
      return faultsOf(found.node, data, { ...here, document: found.document });
    },
    properties: (wanted, data, node, here) => (isBlock(data)
      ? Object.keys(wanted).filter((key) => Object.hasOwn(data, key)).flatMap((key) => faultsOf(wanted[key], data[key], down(here, key))) : []),
    patternProperties: (wanted, data, node, here) => (isBlock(data)
      ? Object.entries(wanted).flatMap(([pattern, below]) => Object.keys(data).filter((key) => matches(pattern, key))
        .flatMap((key) => faultsOf(below, data[key], down(here, key)))) : []),
    additionalProperties(wanted, data, node, here) {
      const found = isBlock(data) ? extras(node, data) : [];
      if (isBlock(wanted)) return found.flatMap((key) => faultsOf(wanted, data[key], down(here, key)));
      return wanted === false && found.length ? [fault("additionalProperties", wanted, data, node, here)] : [];
    },
    propertyNames: (wanted, data, node, here) => (isBlock(data)
      ? Object.keys(data).flatMap((key) => faultsOf(wanted, key, { ...here, ofName: true })) : []),
    items: (wanted, data, node, here) => (Array.isArray(data) ? data.flatMap((each, index) => faultsOf(wanted, each, down(here, index))) : []),
    required: (wanted, data, node, here) => (isBlock(data)
      ? wanted.filter((key) => !Object.hasOwn(data, key)).map((key) => ({ ...fault("required", wanted, data, node, here), missing: key })) : []),
    allOf: (wanted, data, node, here) => wanted.flatMap((each) => faultsOf(each, data, here)),
    if(wanted, data, node, here) {
      const way = node[faultsOf(wanted, data, here).length ? "else" : "then"];
      return way ? faultsOf(way, data, here) : [];
    },
  };

  const fault = (keyword, wanted, found, node, here) => ({ ...here, keyword, wanted, found, schema: node, missing: "" });

  function faultsOf(node, data, here) {
    return Object.entries(node).flatMap(([keyword, wanted]) => {
      if (Object.hasOwn(NESTED, keyword)) return NESTED[keyword](wanted, data, node, here);
      return Object.hasOwn(PLAIN, keyword) && PLAIN[keyword](wanted, data) ? [fault(keyword, wanted, data, node, here)] : [];
    });
  }

  // -- in words --

  function translated(found, kind) {
    const { path, keyword, ofName, missing } = found;
    const shape = R.shapeAt(path, kind);
    const above = path.length ? R.shapeAt(path.slice(0, -1), kind) : null;
    const isItem = above && above.leaf === "figures" && typeof path[path.length - 1] === "number";
    const told = { ...found, shape, leaf: isItem ? "figure" : shape ? shape.leaf : "", kind };
    return R.schemaWords(told).map(([key, message, hint]) => {
      const last = ofName ? found.found : key;
      return { path: last ? [...path, last] : path, rule: `schema-${keyword}`, message, hint, missing };
    });
  }

  // A key that is missing and one that is unknown in the same block are one slip: a key of the wrong name.
  function paired(found) {
    let missing = found.filter((each) => each.missing);
    const others = found.filter((each) => !each.missing).map((each) => {
      const block = each.path.slice(0, -1).join(".");
      const here = missing.filter(({ path }) => each.rule === "schema-additionalProperties" && path.join(".") === block).map((one) => one.missing);
      const key = here.length ? R.nearName(String(each.path[each.path.length - 1]), here) || (here.length === 1 ? here[0] : "") : "";
      if (!key) return each;
      missing = missing.filter((one) => one.missing !== key || one.path.join(".") !== block);
      return { ...each, message: `${each.message}, and ${window.Firedeck.quantities.quoted(key)}, which must be there, is missing`, hint: `did you mean ${key}?` };
    });
    return [...others, ...missing];
  }

  // Items of one list that have the same fault are one slip, told at the first.
  function firstOfLists(found) {
    const told = new Set();
    return found.filter(({ path, rule, message }) => {
      if (rule !== "schema-type" || typeof path[path.length - 1] !== "number") return true;
      const item = JSON.stringify([path.slice(0, -1), message.split(", where ").pop()]);
      return !told.has(item) && told.add(item);
    });
  }

  R.checkSchema = function (data, kind) {
    const document = `${kind}.schema.json`;
    const found = faultsOf(R.shape(kind).node, data, { document, path: [], ofName: false });
    return firstOfLists(paired(found.flatMap((each) => translated(each, kind)))).map(({ missing, ...each }) => each);
  };
})(window.Firedeck.record);
