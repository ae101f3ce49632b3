// What the job still lacks: the table is that of the engine page's "not in this record" (generator/pages/engine.py), made into recordTables.
//   lacks(record) -> [{what, topic, heading, places}]
(function (R) {
  "use strict";
  const { needs } = window.Firedeck.recordTables;

  // Whether a fact stands at a place or under it; * stands for any one key.
  function isGiven(place, keys) {
    const parts = place.split(".");
    return keys.some((key) => key.length >= parts.length && parts.every((part, index) => part === "*" || part === key[index]));
  }

  function isOpen({ places, unless: [place, word], all }, keys, facts) {
    if (all) return !places.every((each) => isGiven(each, keys));
    const said = place && facts.find((fact) => R.keyOf(fact) === place);
    return !places.some((each) => isGiven(each, keys)) && !(said && said.text === word);
  }

  R.lacks = function (record) {
    const data = R.tidy(record);
    const { facts } = R.facts(data);
    const { head } = R.sets(data, facts);
    // Orders and places are no facts.
    const drawn = head ? [...Object.keys(head.orders).map((name) => ["tightening", "orders", name]), ...Object.keys(head.spots).map((name) => ["places", name])] : [];
    const keys = [...facts.map((fact) => R.keyOf(fact).split(".")), ...drawn.map((path) => ["fasteners", "head", ...path])];
    return needs.filter((need) => isOpen(need, keys, facts)).map(({ what, topic, heading, places }) => ({ what, topic, heading, places }));
  };
})(window.Firedeck.record);
