// Rules beyond the schema that one record can be judged by alone, in the words of the check. Twin of generator/record/cites.py, of what
// generator/record/ finds in names, and of the rules in generator/audit/ that need no tables and no other engine.
// A rule: ({data, facts, sets, heads, sources, invented, ids}) -> [{path, rule, message, hint}]
(function (R, Q, C) {
  "use strict";
  const HOW_TO_CITE = "add 'cite: <source id> <place>' to it or to the block it stands in";
  const told = (path, rule, message, hint) => ({ path, rule, message, hint });
  const each = (rule) => (context) => Object.values(context.sets).flatMap((set) => rule(set, context));
  const q = Q.quoted;

  // -- what has no source --

  const takesCite = (path) => {
    const shape = R.shapeAt(path);
    return Boolean(shape && !shape.leaf && Object.hasOwn(shape.children, "cite"));
  };

  // How many facts stand below each place; the places are keys as JSON.
  function countedBelow(facts) {
    const found = new Map();
    for (const { path } of facts) {
      for (let length = 1; length < path.length; length++) {
        const key = JSON.stringify(path.slice(0, length));
        found.set(key, (found.get(key) || 0) + 1);
      }
    }
    return found;
  }

  // Told at the largest block in which nothing has a source.
  function uncited({ facts }) {
    const bare = facts.filter((fact) => !fact.cite);
    const [every, without] = [countedBelow(facts), countedBelow(bare)];
    const found = new Map();
    for (const fact of bare) {
      const above = fact.path.slice(1).map((_, index) => fact.path.slice(0, index + 1));
      const largest = above.find((path) => {
        const key = JSON.stringify(path);
        return every.get(key) === without.get(key) && without.get(key) > 1 && takesCite(path);
      });
      const key = JSON.stringify(largest || fact.path);
      if (!found.has(key)) found.set(key, largest ? uncitedBlock(largest, without.get(key)) : uncitedFact(fact));
    }
    return [...found.values()];
  }

  function uncitedFact({ path, kind }) {
    return told(path, "cite-missing", `${kind === "figure" ? "this figure" : "what stands here"} has no source`, HOW_TO_CITE);
  }

  function uncitedBlock(path, count) {
    const name = path[path.length - 1];
    const hint = `add 'cite: <source id> <place>' to '${name}', where it holds for all, or to each`;
    return told(path, "cite-missing", `none of the ${count} facts in '${name}' has a source`, hint);
  }

  // Orders and drawings are no facts, but come from a source too.
  function orderUncited(set, { facts }) {
    const said = facts.filter(({ path }) => path[0] === "fasteners" && path[1] === set.key);
    const hasOrder = Object.keys(set.orders).length > 0 || set.orderInFigure;
    // Where nothing of the set has a source, that is told already.
    if (!hasOrder || set.orderCite || (said.length && !said.some((fact) => fact.cite))) return [];
    return [told([...set.path, "tightening"], "cite-missing", "the order has no source", HOW_TO_CITE)];
  }

  function drawingUncited({ heads }) {
    return heads.length && !heads[0].cite ? [told(["geometry"], "cite-missing", "the geometry has no source", HOW_TO_CITE)] : [];
  }

  // -- names that stand for nothing --

  function unknownGroups(set) {
    const [spots, names] = [Object.values(set.spots), Object.keys(set.groups)];
    if (spots.length && !names.length) {
      const message = `the places name groups, but '${set.key}' has no groups`;
      return [told([...set.path, "places"], "group-known", message, "add 'groups' with a name and a kind for each: all: {kind: bolt}")];
    }
    return spots.filter(({ group }) => !names.includes(group)).map(({ name, group }) => told(
      [...set.path, "places", name, "group"], "group-known", `place ${name} is in group ${q(group)}, which is not among the groups`, R.nearest(group, names)));
  }

  function unknownPlaces(set) {
    const orders = Object.entries(set.orders).map(([name, order]) => [["tightening", "orders", name], order]);
    return [...orders, [["loosening", "order"], set.loosening]].filter(([, order]) => order.length).flatMap(([path, order]) => {
      const at = [...set.path, ...path];
      if (Object.keys(set.spots).length) return order.flatMap((name, index) => unknownPlace(set, [...at, index], name, order.slice(0, index)));
      const hint = "add 'places' with where each one stands; or write {in_figure: …} if the order is not transcribed";
      return [told(at, "place-known", `the order names places, but '${set.key}' has no places`, hint)];
    });
  }

  function unknownPlace(set, path, name, before) {
    if (!Object.hasOwn(set.spots, name)) {
      return [told(path, "place-known", `the order names ${q(name)}, which is not among the places`, R.nearest(name, Object.keys(set.spots)))];
    }
    return before.includes(name) ? [told(path, "order-once", `the order names ${name} a second time`, "name each place once")] : [];
  }

  function stageNames(set) {
    const [orders, groups] = [Object.keys(set.orders), Object.keys(set.groups)];
    return set.stages.flatMap(({ path, order, groups: named }) => [
      ...(order && !orders.includes(order)
        ? [told([...path, "order"], "order-known", `the stage uses the order ${q(order)}, which is not among the orders`, R.nearest(order, orders))] : []),
      ...named.flatMap((group, index) => (groups.includes(group) ? [] : [told(
        [...path, "groups", index], "group-known", `the stage is for group ${q(group)}, which is not among the groups`, R.nearest(group, groups))])),
    ]);
  }

  function stageUnits(set) {
    const { stageDimensions } = window.Firedeck.recordTables;
    return set.stages.flatMap((stage) => stage.figures.flatMap(({ path, printed }) => printed.flatMap((statement, index) => {
      const wanted = stageDimensions[stage.do];
      const measured = statement.unit && Q.UNITS[statement.unit].dimension;
      if (!wanted || !measured || measured === wanted) return [];
      const message = `${Q.printed(statement)} measures ${measured}; a stage of ${stage.do} needs a figure of ${wanted}`;
      return [told([...path, "printed", index], "unit-kind", message, "change the unit or what the stage does")];
    })));
  }

  // Heads that places and gaskets name must be drawn.
  function unknownHeads({ data, sets, heads }) {
    const drawn = heads.map(({ name }) => name);
    const named = Object.values(sets).flatMap((set) => Object.values(set.spots).flatMap((spot) =>
      spot.heads.map((name, index) => [[...set.path, "places", spot.name, "heads", index], name])));
    const gaskets = drawn.length ? Object.keys(R.blockOf(R.blockOf(data.gasket).by_head)).map((name) => [["gasket", "by_head", name], name]) : [];
    return [...named, ...gaskets].filter(([, name]) => !drawn.includes(name)).map(([path, name]) => told(
      path, "head-known", `${q(name)} is no head of the geometry`, R.nearest(name, drawn) || "draw it under geometry, or leave 'heads' out"));
  }

  // -- sources --

  // Source ids the record cites, each with the first place: one report a source is enough.
  function firstCites(data, path = [], found = new Map()) {
    for (const [key, value] of R.isBlock(data) ? Object.entries(data) : Array.isArray(data) ? [...data.entries()] : []) {
      if ((key === "cite" || key === "superseded_by") && typeof value === "string") {
        const { source } = R.cite(value);
        if (!found.has(source)) found.set(source, [...path, key]);
      } else firstCites(value, [...path, key], found);
    }
    return found;
  }

  function citedSources({ data, sources, invented }) {
    const listed = data.sources;
    if (!Array.isArray(listed)) return []; // the schema says it
    return [...firstCites(data)].flatMap(([source, path]) => {
      if (!Object.hasOwn(sources, source)) return [told(path, "cite-resolves", `the source ${q(source)} is not registered in specs/sources`, register(source, sources))];
      const isInvented = sources[source].kind === "invented";
      const kinds = invented ? ["an invented engine", "a real book"] : ["a real engine", "an invented book"];
      return [
        ...(listed.includes(source) ? [] : [told(
          path, "source-unlisted", `${q(source)} is cited here, but is not among the record's sources`, "add it to 'sources' at the top, or correct the cite")]),
        ...(isInvented === invented ? [] : [told(
          path, "real-cites-invented", `${kinds[0]} cites ${kinds[1]}, ${sources[source].number}`, "cite a book of the engine's own kind")]),
      ];
    });
  }

  function register(source, sources) {
    const near = R.nearName(source, Object.keys(sources), 0.8);
    return near ? `did you mean ${near}?` : `register the publication in specs/sources/${source}.yaml, or correct the cite`;
  }

  function unusedSources({ data }) {
    const cited = firstCites(data);
    return R.listOf(data.sources).flatMap((source, index) => (typeof source !== "string" || cited.has(source) ? []
      : [told(["sources", index], "source-unused", `${q(source)} is listed, but nothing cites it`, "delete it, or cite it")]));
  }

  // -- figures --

  function unitsAgree({ facts }) {
    return facts.flatMap(({ path, agreement, slip, doubt }) => {
      if (agreement.verdict !== Q.DISAGREE || (doubt && ["manual", "scan"].includes(doubt.kind))) return [];
      const message = `the printed units ${agreement.verdict}: ${agreement.says}${slip && `; likely ${slip}`}`;
      const hint = doubt
        ? `look at the page again; the doubt is of kind ${doubt.kind}, and this is more than rounding: its kind is manual or scan`
        : "look at the page again; if it is printed so, add 'doubt: {kind: manual, says: …}', or kind: scan if a character may be lost";
      return [told([...path, "printed"], "units-agree", message, hint)];
    });
  }

  function unreadable({ facts }) {
    return facts.flatMap(({ path, printed, doubt }) => {
      const index = printed.findIndex(({ form }) => form === "unreadable");
      if (index < 0 || doubt) return [];
      const hint = "add 'doubt: {kind: scan, says: …}' with what may be lost; the page then warns of the whole figure";
      return [told([...path, "printed", index], "unreadable-doubted", `${Q.printed(printed[index])}, and nothing says what is doubtful about it`, hint)];
    });
  }

  // A doubt of kind scan that speaks of the units, not of characters.
  const OF_THE_UNITS = new RegExp([
    String.raw`\b(?:units?|values?|figures?)\b[^;.]*\b(?:disagree|differ|do not agree|does not agree)\b`,
    String.raw`\d[\d.]* (?<one>\S+) (?:is|are|would be) \d[\d.]* (?<other>\S+?)(?=[,;:.]?(?:\s|$))`,
  ].join("|"));

  function leftOver({ doubt, printed, agreement }) {
    const symbols = printed.filter(({ unit }) => unit).map(({ unit }) => unit);
    const match = doubt.kind === "scan" && agreement.verdict === Q.AGREE && symbols.length > 1 && OF_THE_UNITS.exec(doubt.says);
    return Boolean(match) && (!match.groups.one || [match.groups.one, match.groups.other].every((unit) => symbols.includes(unit)));
  }

  // A doubt without a cause hides the next misprint. Whether one of kind manual has its cause, the check knows.
  function doubtNeeded({ facts }) {
    return facts.filter((fact) => fact.doubt).flatMap((fact) => {
      const isRounding = fact.doubt.kind === "rounding" && fact.agreement.verdict === Q.AGREE;
      const message = isRounding ? "a doubt of kind rounding, where the printed units agree" : leftOver(fact) && "a doubt about the printed units, which agree";
      return message ? [told([...fact.path, "doubt"], "doubt-needed", message, "delete the doubt")] : [];
    });
  }

  function compared({ facts }) {
    return facts.filter((fact) => fact.compared).flatMap(({ path, status, compared: { day } }) => [
      ...(status === "compared" ? [] : [told([...path, "compared"], "compared-status",
        `it says when it was compared, but its status is ${status}`, "add status: compared, or delete 'compared'")]),
      ...(isDay(day) ? [] : [told([...path, "compared", "day"], "compared-status",
        `${q(day)} is no day of the calendar`, 'write year, month and day, in quotes: "2026-03-14"')]),
    ]);
  }

  function isDay(text) {
    const [year, month, day] = text.split("-").map(Number);
    return year > 0 && month > 0 && month < 13 && day > 0 && day <= new Date(Date.UTC(2000 + (year % 400), month, 0)).getUTCDate();
  }

  function providedBy({ data, facts }) {
    return ["head", "deck"].flatMap((face) => {
      const name = R.blockOf(R.blockOf(R.blockOf(data.faces)[face]).stock_removal).provided_by;
      if (typeof name !== "string" || !name || facts.some((fact) => R.keyOf(fact) === name)) return [];
      const figures = [...new Set(facts.filter(({ kind }) => kind === "figure").map(R.keyOf))];
      const what = R.shapeAt(name.split(".")) ? "a key that this record does not give" : "no key of a record";
      const hint = `name the figure that must still hold after the cut; ${R.nearest(name, figures)}`;
      return [told(["faces", face, "stock_removal", "provided_by"], "provided-by-known", `${q(name)} is ${what}`, hint)];
    });
  }

  // -- places, orders, stages --

  // Orders with the places they leave out: each stage must reach every place of its groups, by all orders taken together.
  function leftOut(set) {
    return Object.entries(set.orders).map(([name, order]) => {
      const own = set.stages.filter((stage) => stage.order === name);
      const groups = new Set(own.flatMap((stage) => (stage.groups.length ? stage.groups : Object.keys(set.groups))));
      const missing = Object.values(set.spots).filter((spot) => groups.has(spot.group) && !order.includes(spot.name)).map((spot) => spot.name);
      const elsewhere = Object.entries(set.orders).flatMap(([other, places]) => (other === name ? [] : places));
      const isLeft = !own.some((stage) => stage.groups.length) && missing.every((place) => elsewhere.includes(place));
      return [name, isLeft ? [] : missing];
    }).filter(([, missing]) => missing.length);
  }

  function complete(set) {
    return leftOut(set).map(([name, missing]) => told([...set.path, "tightening", "orders", name], "order-complete",
      `the order ${q(name)} leaves out ${missing.join(", ")}, which its stages tighten`, "add the place, or give the stage its groups"));
  }

  function countsFit(set) {
    const spots = Object.values(set.spots);
    return Object.entries(set.groups).flatMap(([name, { count }]) => {
      const found = spots.filter(({ group }) => group === name).length;
      if (!spots.length || !Number.isInteger(count) || count === found) return [];
      const message = `group ${q(name)} has ${count} fasteners, but ${found} places`;
      return [told([...set.path, "groups", name, "count"], "count-matches-places", message, "correct the number or the places")];
    });
  }

  const NEAREST = 5; // mm: no two fasteners of a head stand nearer

  function apart(set) {
    const spots = Object.values(set.spots);
    return spots.flatMap((one, index) => spots.slice(index + 1).flatMap((other) => {
      const isShared = !one.heads.length || !other.heads.length || one.heads.some((head) => other.heads.includes(head));
      const gap = Math.hypot(one.x - other.x, one.y - other.y);
      if (!isShared || gap >= NEAREST) return [];
      const message = `places ${one.name} and ${other.name} are ${Number(gap.toPrecision(3))} mm apart: two fasteners cannot stand so near`;
      return [told([...set.path, "places", other.name, "at"], "places-apart", message, "look at the drawing again")];
    }));
  }

  function expandable(set, { facts }) {
    if (leftOut(set).length) return []; // order-complete says it
    const at = set.stages.length ? [...set.path, "tightening"] : set.path;
    try {
      const { stages } = R.plan(set, facts);
      C.tightening.expand(stages, R.groupsOf(set), set.walk || "stage by stage");
      C.tightening.loosening(stages, R.groupsOf(set), set.loosening);
      return [];
    } catch (error) {
      if (error.expected) return [told(at, "pulls-expand", `the stages cannot be walked pull by pull: ${error.message}`, "correct the stage or the order that is named")];
      if (error.hint) return [told(at, "pulls-expand", `a stage of rounds cannot be read: ${error.message}`, error.hint)];
      throw error;
    }
  }

  const LOOK_AGAIN = "look at the page again for the order of the stages, and for one that is missing";

  // The groups a stage is for: those it names, else those of its order, else all.
  function reached(set, { groups, order }) {
    const places = (Object.hasOwn(set.orders, order) ? set.orders[order] : []).filter((place) => Object.hasOwn(set.spots, place));
    const found = groups.length ? groups : places.map((place) => set.spots[place].group);
    return found.length ? found : Object.keys(set.groups);
  }

  function tightened(set) {
    const pulling = set.stages.filter((stage) => ["torque", "steps", "angle"].includes(stage.do));
    const names = set.stages.length ? Object.keys(set.groups) : [];
    return names.filter((group) => !pulling.some((stage) => reached(set, stage).includes(group))).map((group) => told(
      [...set.path, "groups", group], "group-tightened", `no stage tightens the group ${q(group)}`,
      `${LOOK_AGAIN}; a stage names its groups, or the order that reaches them`));
  }

  function ordersUsed(set) {
    const names = set.stages.length ? Object.keys(set.orders) : [];
    return names.filter((name) => !set.stages.some((stage) => stage.order === name))
      .map((name) => told([...set.path, "tightening", "orders", name], "order-used", `no stage uses the order ${q(name)}`, LOOK_AGAIN));
  }

  // -- the id --

  function idOnce({ data, ids }) {
    if (typeof data.id !== "string" || !Object.hasOwn(ids, data.id)) return [];
    return [told(["id"], "id-once", `the id ${q(data.id)} is also the id of ${ids[data.id]}`, "choose another id and file name")];
  }

  // What is found in reading a record, and what is asked only of one that was read without a fault; some sets may be judged for all that.
  R.readingRules = [uncited, each(orderUncited), drawingUncited, each(unknownGroups), each(unknownPlaces), each(stageNames), each(stageUnits), unknownHeads, idOnce];
  R.recordRules = [citedSources, unusedSources, unitsAgree, unreadable, doubtNeeded, compared, providedBy];
  R.setRules = [complete, countsFit, apart, expandable, tightened, ordersUsed];
})(window.Firedeck.record, window.Firedeck.quantities, window.Firedeck.calculations);
