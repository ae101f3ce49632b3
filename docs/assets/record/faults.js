// What can be said at once of a record that is being typed. `check` remains the judge: it knows the standards, the other engines, and what
// figures of one engine must fit each other.
//   faults(record, sources, {invented, ids}) -> [{at, path, rule, message, hint}], in the order of the file
//   sourceFaults(source) -> the same for the data of a source
(function (R, Q) {
  "use strict";
  // Signs that an editor does not show; as in generator/reading/decoding.py, and halves of a sign.
  const UNSEEN = /[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\xad\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufffe\uffff\ud800-\udfff]|[\xa0\u1680\u2000-\u200a\u202f\u205f\u3000]/u;
  // Rules about names that other keys give, with the blocks that give them: where such a block is at fault, its names are unknown.
  const GIVEN_IN = { "place-known": ["places", "groups"], "group-known": ["groups", "places"], "order-known": ["tightening"], "head-known": ["heads"] };
  const BLOCK_RULES = ["schema-additionalProperties", "schema-type", "schema-required"];
  const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);

  function hidden(data, path = []) {
    if (typeof data === "string") return hiddenIn(data, path);
    const below = R.isBlock(data) ? Object.entries(data) : Array.isArray(data) ? [...data.entries()] : [];
    return below.flatMap(([key, value]) => [...(typeof key === "string" ? hiddenIn(key, [...path, key]) : []), ...hidden(value, [...path, key])]);
  }

  function hiddenIn(text, path) {
    const found = UNSEEN.exec(text);
    if (!found) return [];
    const name = `U+${found[0].codePointAt(0).toString(16).toUpperCase().padStart(4, "0")}`;
    const [message, hint] = /\p{Zs}/u.test(found[0])
      ? [`this space is none of the space bar's, but ${name}`, "type a plain space in its place"]
      : [`a character that cannot be seen, ${name}`, "delete it; if it does not show, delete its neighbours and type them again"];
    return [{ path, rule: "hidden-character", message: `${message}, in ${Q.quoted(text.slice(0, 60))}`, hint }];
  }

  // Whether a fault only repeats an earlier one; as in generator/record/echoes.py.
  function echoes(later, earlier) {
    if (earlier.rule !== "schema-required" && same(earlier.path, later.path)) return true;
    const given = GIVEN_IN[later.rule];
    if (!given) return false;
    if (later.rule === "head-known") return earlier.path[0] === "geometry";
    const isBlock = earlier.path.length <= 3 && BLOCK_RULES.includes(earlier.rule);
    return same(earlier.path.slice(0, 2), later.path.slice(0, 2)) && (given.includes(earlier.path[2]) || isBlock);
  }

  const begins = (path, start) => start.every((part, index) => part === path[index]);

  function faults(record, sources, { invented, ids = {} } = {}) {
    const data = R.tidy(record);
    const { facts, refusals } = R.facts(data);
    const listed = R.listOf(data.sources).filter((each) => typeof each === "string");
    const context = { data, facts, sets: R.sets(data, facts), heads: R.heads(data), sources, ids, invented: invented ?? R.isInvented(listed, sources) };
    const shape = [...hidden(data), ...R.checkSchema(data, "engine")];
    const fresh = (found, earlier) => found.filter((later) => !earlier.some((each) => echoes(later, each)));
    const read = [...shape, ...fresh([...refusals, ...R.readingRules.flatMap((rule) => rule(context))], shape)];
    const judged = fresh(R.recordRules.flatMap((rule) => rule(context)), read);
    // A set that cannot be read would only echo its first fault.
    const sound = Object.fromEntries(Object.entries(context.sets).filter(([, set]) => !read.some(({ path }) => begins(path, set.path))));
    const ofSets = R.setRules.flatMap((rule) => Object.values(sound).flatMap((set) => rule(set, context)));
    return inOrder([...read, ...judged, ...ofSets], data);
  }

  // Sorted by where it stands in the file; at its nearest parent where it is not there.
  function inOrder(found, data) {
    const places = new Map();
    const walk = (value, path) => {
      places.set(JSON.stringify(path), places.size);
      const below = R.isBlock(value) ? Object.entries(value) : Array.isArray(value) ? [...value.entries()] : [];
      for (const [key, each] of below) walk(each, [...path, key]);
    };
    walk(data, []);
    const rank = (path) => places.get(JSON.stringify(path)) ?? rank(path.slice(0, -1));
    const sorted = found.map((each) => [rank(each.path), each]).sort(([one], [other]) => one - other);
    return sorted.map(([, { path, rule, message, hint }]) => ({ at: path.join("."), path, rule, message, hint: hint || "" }));
  }

  function sourceFaults(source) {
    const data = R.tidy(source, "source");
    return inOrder([...hidden(data), ...R.checkSchema(data, "source")], data);
  }

  Object.assign(R, { faults, sourceFaults });
})(window.Firedeck.record, window.Firedeck.quantities);
