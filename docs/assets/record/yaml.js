// A record as the canonical text of its file: what `fmt` leaves unchanged and `check` reads. Where `fmt` keeps the layout that
// the writer chose, it is the layout of the records in specs/demo.
//   yaml(record) -> text
//   sourceYaml(source) -> text
(function (R) {
  "use strict";
  const { stated } = window.Firedeck.recordTables;
  const LONGEST = 140; // characters of a line that may still stand in brackets
  const SIMPLE = /^[A-Za-z0-9+.-][A-Za-z0-9 +./()%-]*$/; // a statement that needs no quotes; as in generator/drafting/canonical.py
  const PLAIN = /^[A-Za-z(0-9][A-Za-z0-9_ +./()%&'-]*$/;
  const COMMAS = /^[A-Za-z(0-9][A-Za-z0-9_ +./()%&',-]*$/; // outside brackets
  // Words and numbers that YAML reads as something else than text.
  const TRAPS = /^(y|yes|n|no|on|off|true|false|null|[\d+. ()&',-]*|[\d_.]+e[+-]?\d+|0[xob][\da-f]+|\d[\d_.]*)$/i;
  const ESCAPES = { "\n": "\\n", "\r": "\\r", "\t": "\\t", '"': '\\"', "\\": "\\\\" };
  const IN_BRACKETS = ["doubt", "compared", "treatment", "hole"];

  // -- one text --

  const isSafe = (text, pattern) => pattern.test(text) && !TRAPS.test(text) && text === text.trim() && !text.endsWith(",");

  function quotes(text) {
    return `"${text.replace(/[\n\r\t"\\]/g, (sign) => ESCAPES[sign])}"`;
  }

  function statement(text) {
    if (SIMPLE.test(text) && !TRAPS.test(text) && !/^-[^\d.]|^[+.]\D|\s$/.test(text)) return text;
    return /[\n\r\t]/.test(text) ? quotes(text) : `'${text.replace(/'/g, "''")}'`;
  }

  // key: that the text stands at. loose: outside brackets.
  function scalar(value, key, loose = false) {
    if (typeof value !== "string") return typeof value === "number" ? R.digits(value) : String(value);
    if (stated.includes(key)) return statement(value);
    return isSafe(value, loose ? COMMAS : PLAIN) ? value : quotes(value);
  }

  const name = (key) => scalar(key, "");

  // -- in brackets --

  function brackets(value, key) {
    if (Array.isArray(value)) return `[${value.map((each) => brackets(each, key)).join(", ")}]`;
    if (!R.isBlock(value)) return scalar(value, key);
    return `{${Object.entries(value).map(([below, each]) => `${name(below)}: ${brackets(each, below)}`).join(", ")}}`;
  }

  const isList = (value) => Array.isArray(value) && value.some(R.isBlock);
  const holdsLists = (value) => isList(value) || (R.isBlock(value) && Object.values(value).some(holdsLists));

  // Whether what stands at a key stands in brackets. above: the key above.
  function isInBrackets(value, key, above, shape) {
    if (Array.isArray(value)) return !isList(value);
    if (!Object.keys(value).length || IN_BRACKETS.includes(key)) return true;
    if (Array.isArray(value.at)) return true; // a place or bore of the drawing
    if (shape && ["designation", "statement"].includes(shape.leaf)) return true;
    if (key === "order") return true; // in a figure that is not transcribed
    return above === "groups" && !holdsLists(value) && brackets(value, key).length <= LONGEST;
  }

  // -- in lines --

  function lines(block, shape, key, pad) {
    return Object.entries(block).flatMap(([below, value]) => entry(value, shape && shape.below(below), below, key, pad));
  }

  function entry(value, shape, key, above, pad) {
    const head = `${pad}${name(key)}:`;
    if (value === null || typeof value !== "object") return [`${head} ${scalar(value, key, true)}`];
    if (isInBrackets(value, key, above, shape)) return [`${head} ${brackets(value, key)}`];
    if (!Array.isArray(value)) return [head, ...lines(value, shape, key, `${pad}  `)];
    return [head, ...value.flatMap((each) => item(each, shape && shape.items, key, shape && shape.leaf === "figures", `${pad}  `))];
  }

  // A figure that says more than what is printed stands in brackets, unless there is a doubt to read.
  function item(value, shape, key, isFigure, pad) {
    const isBare = !R.isBlock(value) || !Object.keys(value).length;
    const isShort = isFigure && !("doubt" in value) && Object.keys(value).length > 1 && brackets(value, key).length <= LONGEST;
    if (isBare || isShort) return [`${pad}- ${brackets(value, key)}`];
    const [first, ...more] = lines(value, shape, key, `${pad}  `);
    return [`${pad}- ${first.slice(pad.length + 2)}`, ...more];
  }

  // A blank line before each section.
  function file(data, shape) {
    const text = Object.entries(data).flatMap(([key, value]) => {
      const found = entry(value, shape.below(key), key, "", "");
      return found.length > 1 ? ["", ...found] : found;
    });
    return text.join("\n") + "\n";
  }

  R.yaml = (record) => file(R.tidy(record), R.shape());
  R.sourceYaml = (source) => file(R.tidy(source, "source"), R.shape("source"));
})(window.Firedeck.record);
