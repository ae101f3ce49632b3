// Faults of the schema in words for people: what was found, what was expected, how to mend it. Twin of generator/reading/messages.py.
//   schemaWords(fault) -> [[key below the place or "", message, hint]]
(function (R, Q) {
  "use strict";
  const INSIDE = ["as", "says"];
  const OF_A_FACT = ["printed", "as", "says"];
  const SHORT_LIST = 8;
  const SHORT_NAME = "^[A-Za-z0-9][A-Za-z0-9_-]{0,31}$";
  const SEE = "see the reference of keys for what may stand here";
  const isStructure = (value) => value !== null && typeof value === "object";
  const last = (path, count = 1) => path[path.length - count];

  // A number or true or false as the file has it.
  const spelt = (value) => (typeof value === "number" ? R.digits(value) : typeof value === "boolean" ? String(value) : "");
  const bare = (value) => spelt(value) || String(value);

  function shown(value) {
    if (isStructure(value)) return Array.isArray(value) ? "a list" : "a block of keys";
    const text = Array.from(bare(value));
    return Q.quoted(text.length <= 60 ? text.join("") : `${text.slice(0, 57).join("")}…`);
  }

  // What the place is called in a sentence.
  function block({ path }) {
    const names = path.filter((part) => !INSIDE.includes(part));
    const end = last(names);
    if (!names.length) return "the file";
    if (typeof end === "string") return `'${end}'`;
    return `item ${end + 1} of '${names.filter((part) => typeof part === "string").pop() || "the list"}'`;
  }

  // -- keys --

  function unknownKeys(fault) {
    const known = Object.keys(fault.schema.properties || {});
    const patterns = Object.keys(fault.schema.patternProperties || {});
    const strange = Object.keys(fault.found).filter((key) => !known.includes(key) && !patterns.some((pattern) => new RegExp(pattern).test(key)));
    return strange.map((key) => [key, `the key ${Q.quoted(key)} is not known in ${block(fault)}`, whereItBelongs(key, known, fault)]);
  }

  function whereItBelongs(key, known, fault) {
    if (OF_A_FACT.includes(key) && !known.includes("printed")) {
      return `it belongs to a fact: write it under one of the keys of ${block(fault)}: ${known.join(", ")}`;
    }
    const places = elsewhere(fault.kind).get(key) || [];
    if (!places.length || R.nearName(key, known, 0.8)) return R.nearest(key, known);
    return `it belongs under ${places.slice(0, 3).join(", ")}${places.length > 3 ? " and others" : ""}: look at the indentation`;
  }

  const made = new Map();

  // The blocks that hold a key, for each key of the schema.
  function elsewhere(kind) {
    if (!made.has(kind)) {
      const found = new Map();
      for (const [key, at] of blocksOf(R.shape(kind), "")) if (at) found.set(key, [...(found.get(key) || []), at]);
      made.set(kind, found);
    }
    return made.get(kind);
  }

  function* blocksOf(shape, at) {
    if (shape.leaf) return;
    const below = (name) => (at ? `${at}.${name}` : name);
    for (const [key, child] of Object.entries(shape.children)) {
      yield [key, at];
      yield* blocksOf(child, below(key));
    }
    if (shape.others) yield* blocksOf(shape.others, below("<name>"));
    if (shape.items) yield* blocksOf(shape.items, below("<item>"));
  }

  function missingKey(fault) {
    const key = fault.missing;
    const shape = fault.shape && Object.hasOwn(fault.shape.children, key) && fault.shape.children[key];
    const described = shape && shape.description ? `: ${shape.description}` : "";
    return [["", `${block(fault)} has no key ${Q.quoted(key)}, which must be there`, `add '${key}: …'${described}`]];
  }

  // -- words and types --

  function notAllowed(fault) {
    const allowed = fault.wanted.map(String);
    const near = isStructure(fault.found) ? "" : R.nearName(bare(fault.found), allowed);
    const every = `allowed: ${allowed.join(", ")}`;
    const hint = near ? `did you mean ${near}?${allowed.length <= SHORT_LIST ? ` (${every})` : ""}` : every;
    return [["", `${shown(fault.found)} is not one of the words for ${block(fault)}`, hint]];
  }

  function notThis(fault) {
    return [["", `${shown(fault.found)} stands at ${block(fault)}, where only ${fault.wanted} may stand`, `write ${fault.wanted}, or leave the key out`]];
  }

  const TYPES = {
    string: "text", object: "a block of keys", array: "a list", integer: "a whole number", number: "a number", boolean: "true or false",
  };
  const LEAVES = { figures: "a list of figures", figure: "a figure", designation: "a designation", statement: "a statement" };

  function wrongType(fault) {
    const wanted = Array.isArray(fault.wanted) ? fault.wanted : [fault.wanted];
    const expected = LEAVES[fault.leaf] || wanted.map((each) => TYPES[each] || each).join(" or ");
    const hint = TYPE_HINTS.reduce((found, maker) => found || maker(fault, wanted), "") || SEE;
    return [["", `${shown(fault.found)} stands at ${block(fault)}, where ${expected} was expected`, hint]];
  }

  function unitHint({ path, found }) {
    const isPrinted = last(path, 2) === "printed" || ["from", "by", "to"].includes(last(path));
    return isPrinted && typeof found === "number" ? `write the unit that is printed behind it: ${spelt(found)} and a unit` : "";
  }

  // The fact written out, where its bare value stands.
  function factHint({ path, found, leaf }) {
    const key = path.filter((part) => typeof part === "string").pop() || "";
    if (leaf === "figures" && R.isBlock(found)) return "put '- ' before it: figures of several sources stand side by side in a list";
    if (isStructure(found)) return "";
    const forms = {
      figures: `write ${key}: [{printed: [${bare(found)}], cite: <source id> <place>}]`,
      figure: `write {printed: [${bare(found)}], cite: <source id> <place>}`,
      statement: `write ${key}: {says: ${bare(found)}, cite: <source id> <place>}`,
      designation: `write ${key}: {as: "${bare(found)}", cite: <source id> <place>}`,
    };
    return forms[leaf] || "";
  }

  function textHint({ path, found }, wanted) {
    if (!wanted.includes("string")) return "";
    if (last(path) === "cite") return "write one text: the source id, a space, then the place";
    if (isStructure(found)) return "write one text; put it in quotes if it holds brackets";
    return `write it in quotes, so that no digit is lost: "${spelt(found)}"`;
  }

  function listHint(fault, wanted) {
    if (!wanted.includes("array")) return "";
    if (R.isBlock(fault.found)) return "write it as a list: begin each item with '- '";
    return `write it as a list: [${parted(fault)}], or begin each item on a line of its own with '- '`;
  }

  // A text as the items of a list: parted where a stroke or semicolon stands, and short names and numbers at their spaces.
  function parted({ path, found }) {
    const text = bare(found);
    if (/\s[/;]\s/.test(text)) return text.split(/\s+[/;]\s+/).join(", ");
    const words = text.split(Q.SPACES).filter(Boolean);
    const isNames = last(path) !== "printed" && words.every((word) => /^[A-Za-z]{0,3}-?\d+(\.\d+)?,?$/.test(word));
    return isNames ? words.map((word) => word.replace(/,$/, "")).join(", ") : text;
  }

  function numberHint({ found }, wanted) {
    if (!(wanted.includes("integer") || wanted.includes("number")) || isStructure(found)) return "";
    const digits = /^-?\d+(\.\d+)?/.exec(bare(found));
    const whole = wanted.includes("number") ? "" : " whole";
    return `write the${whole} number alone, without quotes or unit${digits && (!whole || !digits[1]) ? `: ${digits[0]}` : ""}`;
  }

  function blockHint({ found, shape }, wanted) {
    if (!wanted.includes("object")) return "";
    if (Array.isArray(found)) return "leave the dashes or square brackets out: keys with values stand here, each on a line of its own";
    const keys = shape ? Object.keys(shape.children).slice(0, SHORT_LIST).join(", ") : "";
    return `write keys with values below it, indented deeper${keys ? `, for example ${keys}` : ""}`;
  }

  const TYPE_HINTS = [unitHint, factHint, textHint, listHint, numberHint, blockHint];

  // -- forms and sizes --

  const slug = (text) => text.toLowerCase().replaceAll("&", "-and-").replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "");

  function idForm(text) {
    const found = slug(text);
    return [`${Q.quoted(text)} is no id; lower case, digits and single hyphens were expected`, found ? `write ${found}` : "write words and digits joined by single hyphens"];
  }

  function citeForm(text) {
    const [source, ...rest] = Q.strip(text).split(" ");
    const place = rest.join(" ");
    const id = slug(source);
    if (!place) return [`the cite ${Q.quoted(text)} names no place in the source`, `write the source id, a space, then the place: ${id || "id"} page 12`];
    if (source === id) return [`the cite ${Q.quoted(text)} has not the form 'source id, one space, place'`, `write ${source} ${Q.strip(place)}`];
    return [`the cite begins with ${Q.quoted(source)}, which is no source id`, `write the id of the source, the name of its file in specs/sources: ${id} ${place}`];
  }

  function nameForm(text) {
    const name = text.replace(/[^A-Za-z0-9_-]+/g, "_").replace(/^_+|_+$/g, "").slice(0, 32);
    const message = `${Q.quoted(text)} is no short name; letters, digits, _ and - were expected, at most 32, no spaces`;
    return [message, name ? `write ${name}` : "write a short name such as A1 or long"];
  }

  const dayForm = (text) => [`${Q.quoted(text)} is no day; year, month and day were expected`, 'write it in quotes: "2026-03-14"'];
  const keysForm = (text) => [`${Q.quoted(text)} is no place in a record`, "write its keys joined by full stops: tests.compression.minimum"];

  const FORMS = {
    "^[a-z0-9]+(-[a-z0-9]+)*$": idForm, "^[a-z0-9]+(-[a-z0-9]+)* \\S.*$": citeForm, [SHORT_NAME]: nameForm, "^\\d{4}-\\d{2}-\\d{2}$": dayForm,
    "^[a-z_]+(\\.[a-z_]+)+$": keysForm,
  };

  function wrongForm(fault) {
    const writer = FORMS[fault.wanted];
    if (writer) return [["", ...writer(String(fault.found))]];
    return [["", `${shown(fault.found)} has not the form that ${block(fault)} must have`, fault.schema.description || `it must match ${fault.wanted}`]];
  }

  const sizeOf = (value) => (Array.isArray(value) ? value.length : typeof value === "string" ? Array.from(value).length : Object.keys(value).length);
  const COUNTED = { Length: ["character", "the text"], Items: ["item", "the list"], Properties: ["key", "the block"] };

  function counted({ keyword, found }) {
    return COUNTED[keyword.slice(3)][0] + (sizeOf(found) === 1 ? "" : "s");
  }

  function pairHint({ found }) {
    const isNumbers = Array.isArray(found) && found.every((each) => typeof each === "number");
    return isNumbers ? "write two numbers, x and y, in mm: [43.5, -12]; the decimal point is a full stop" : "";
  }

  function tooShort(fault) {
    const size = sizeOf(fault.found);
    if (!size) return [["", `${COUNTED[fault.keyword.slice(3)][1]} at ${block(fault)} is empty`, "fill it in, or leave the key out: what is not known is absent"]];
    const hint = pairHint(fault) || "add what is missing; a single one may need no list";
    return [["", `${block(fault)} has ${size} ${counted(fault)}; at least ${fault.wanted} were expected`, hint]];
  }

  function tooLong(fault) {
    const message = `${block(fault)} has ${sizeOf(fault.found)} ${counted(fault)}; at most ${fault.wanted} were expected`;
    return [["", message, pairHint(fault) || "shorten it"]];
  }

  const RELATIONS = { minimum: "at least", maximum: "at most", exclusiveMinimum: "more than" };

  function wrongSize(fault) {
    return [["", `${block(fault)} is ${bare(fault.found)}; ${RELATIONS[fault.keyword]} ${fault.wanted} was expected`, "correct the number"]];
  }

  function twice(fault) {
    const found = fault.found.map(bare);
    const double = found.find((each, index) => found.indexOf(each) !== index || found.lastIndexOf(each) !== index);
    return [["", `${Q.quoted(double)} stands twice in the list of ${block(fault)}`, "delete one of the two"]];
  }

  const WRITERS = {
    additionalProperties: unknownKeys, required: missingKey, enum: notAllowed, const: notThis, type: wrongType, pattern: wrongForm,
    minLength: tooShort, minItems: tooShort, minProperties: tooShort, maxLength: tooLong, maxItems: tooLong, maxProperties: tooLong,
    minimum: wrongSize, maximum: wrongSize, exclusiveMinimum: wrongSize, uniqueItems: twice,
  };

  R.schemaWords = (fault) => WRITERS[fault.keyword](fault);
})(window.Firedeck.record, window.Firedeck.quantities);
