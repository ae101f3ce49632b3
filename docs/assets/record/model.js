// The JSON model of a record, as the build makes it. Twin of generator/pages/model.py and generator/pages/pulls.py.
//   model(record, sources, {invented, changed}) -> model
//   revision(record) -> 8 hex digits
// What only a build can know: changed (the day of the last commit; null unless it is given), warnings and exceptions (what the check
// finds; none here). Never an error for a record left half done: what cannot be read is left out, and faults() says it.
(function (R, Q, C) {
  "use strict";
  const { schemaVersion, baseUnits } = window.Firedeck.recordTables;
  const STAGE_BY_STAGE = "stage by stage";
  const only = (keys) => (block) => Object.fromEntries(keys.map((key) => [key, block[key] ?? null]));

  function model(record, sources, { invented, changed = null } = {}) {
    const data = R.tidy(record);
    const { facts } = R.facts(data);
    const listed = R.listOf(data.sources).filter((each) => typeof each === "string");
    return {
      schema_version: schemaVersion, id: R.textOf(data.id), name: R.textOf(data.name), invented: invented ?? isInvented(listed, sources),
      revision: hash(data), changed,
      sources: listed.filter((id) => Object.hasOwn(sources, id)).map((id) => ({ id, number: sources[id].number, kind: sources[id].kind })),
      facts: facts.map(factModel),
      fasteners: Object.fromEntries(Object.entries(R.sets(data, facts)).map(([key, set]) => [key, setModel(set, facts)])),
      heads: R.heads(data).map(headModel),
      warnings: [], exceptions: [],
    };
  }

  // A record that cites invented books alone is invented itself; as the check holds of a draft.
  const isInvented = (listed, sources) => listed.length > 0 && listed.every((id) => Object.hasOwn(sources, id) && sources[id].kind === "invented");

  // -- revision: of the content, whatever its order and layout --

  function content(data) {
    if (Array.isArray(data)) return `[${data.map(content).join(",")}]`;
    if (R.isBlock(data)) return `{${Object.keys(data).sort(R.byCodePoint).map((key) => `${JSON.stringify(key)}:${content(data[key])}`).join(",")}}`;
    return typeof data === "number" ? numberText(data) : JSON.stringify(data);
  }

  // Python writes an exponent from 0.0001 down, of two digits at least.
  function numberText(value) {
    if (!value || Math.abs(value) >= 1e-4) return String(value);
    return value.toExponential().replace(/e-(\d)$/, "e-0$1");
  }

  const hash = (data) => R.sha256(content(data)).slice(0, 8);

  // -- facts --

  function factModel(fact) {
    const { path, labels, kind, status, compared, cite, when, called, doubt, superseded_by } = fact;
    const found = {
      at: path.join("."), anchor: path.map((part) => String(part).replaceAll("_", "-")).join("-"), labels, kind, status, compared, cite, when, called,
      doubt, superseded_by,
    };
    if (kind !== "figure") return { ...found, text: fact.text };
    return { ...found, printed: fact.printed.map(statementModel), conversions: fact.conversions.map(statementModel), agreement: fact.agreement };
  }

  function statementModel(statement) {
    const { form, unit: symbol } = statement;
    const found = { text: Q.printed(statement), form, unit: symbol };
    if (!symbol) return found;
    const [unit, ends] = [Q.UNITS[symbol], [Q.lowest(statement), Q.highest(statement)]];
    const [low, high] = ends.map((end) => end && Q.asNumber(Q.toBase(end, unit)));
    const { dimension } = unit;
    const strict = form === "under" || form === "over";
    return { ...found, dimension, base_unit: baseUnits[dimension], low, high, strict, in_unit: ends.map((end) => end && Q.asNumber(end)) };
  }

  // -- fasteners and heads --

  function setModel(set, facts) {
    return {
      per: set.per,
      groups: Object.fromEntries(Object.entries(set.groups).map(([name, group]) => [name, only(["kind", "count", "label"])(group)])),
      places: Object.fromEntries(Object.entries(set.spots).map(([name, { x, y, group, heads, opens }]) => [name, { x, y, group, heads, opens }])),
      orders: set.orders, order_in_figure: set.orderInFigure, walk: set.walk, stages: set.stages.map((stage) => stageModel(set, stage)),
      ...pullsModel(set, facts),
    };
  }

  function stageModel(set, stage) {
    const { do: action, order, groups, rounds, until, when, method, by, cite, doubt } = stage;
    return { do: action, order, groups, places: R.covered(set, stage), figures: stage.figures.map(factModel), rounds, until, when, method, by, cite, doubt };
  }

  function pullsModel(set, facts) {
    const groups = R.groupsOf(set);
    const walk = set.walk || STAGE_BY_STAGE;
    const { stages, figures } = attempt(() => R.plan(set, facts), { stages: [], figures: [] });
    const pulls = attempt(() => C.tightening.expand(stages, groups, walk), []);
    const { order, basis, text } = attempt(() => C.tightening.loosening(stages, groups, set.loosening), { order: [], basis: "", text: "" });
    return {
      tightening: {
        walk, implied: stages.length > 0 && !set.stages.length, groups, stages: stages.map((stage, index) => plannedModel(stage, figures[index])), pulls,
      },
      loosening: {
        order, own: set.loosening.length > 0, in_figure: set.looseningInFigure, basis, text,
        pulls: order.map((place, index) => ({ place, position: index + 1 })),
      },
    };
  }

  function plannedModel(stage, facts) {
    const bounds = only(["low", "high", "nominal"]);
    return {
      ...stage,
      figures: facts.map((fact) => {
        const values = R.valuesOf(fact);
        return { at: fact.path.join("."), ...bounds(values), doubtful: values.doubtful };
      }),
    };
  }

  // What the call gives; the other where the record refuses it.
  function attempt(call, otherwise) {
    try {
      return call();
    } catch (error) {
      if (!error.expected && !error.hint) throw error;
      return otherwise;
    }
  }

  function headModel({ name, outline, dowels, round, bores, front, exhaust }) {
    return { name, outline, dowels, round: round && { x: round.x, y: round.y, diameter: round.diameter }, bores, front, exhaust };
  }

  Object.assign(R, { model, revision: (record) => hash(R.tidy(record)), isInvented });
})(window.Firedeck.record, window.Firedeck.quantities, window.Firedeck.calculations);
