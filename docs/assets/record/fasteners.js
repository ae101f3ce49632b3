// Sets of fasteners, the drawn heads, and the stages that are expanded into pulls. Twin of generator/record/fasteners.py, of the heads of
// generator/record/engine.py and of generator/audit/pulls.py.
//   sets(data, facts) -> {key: set}     data: a tidy record; facts: of the same
//   heads(data) -> [head]
//   plan(set, facts) -> {stages, figures}     as calculations.tightening.expand takes them; an Error with message for what cannot be read
(function (R, Q) {
  "use strict";
  const { blockOf, listOf, textOf } = R;
  const isNumber = (value) => typeof value === "number";
  const isPoint = (value) => Array.isArray(value) && value.length === 2 && value.every(isNumber);
  const texts = (value) => listOf(value).map(textOf);
  const blocks = (value) => Object.fromEntries(Object.entries(blockOf(value)).filter(([, each]) => R.isBlock(each)));

  // -- sets --

  function sets(data, facts) {
    return Object.fromEntries(Object.entries(blocks(data.fasteners)).map(([key, block]) => [key, setOf(key, block, facts)]));
  }

  function setOf(key, block, facts) {
    const tightening = blockOf(block.tightening);
    const [orders, loosening] = [blockOf(tightening.orders), blockOf(block.loosening).order];
    const cite = R.ownCite(tightening) || R.ownCite(block);
    const ofOrders = R.ownCite(orders) || cite;
    return {
      key, path: ["fasteners", key], per: textOf(block.per), groups: blocks(block.groups), spots: spotsOf(block.places),
      orders: Object.fromEntries(Object.entries(orders).filter(([, order]) => Array.isArray(order)).map(([name, order]) => [name, texts(order)])),
      orderInFigure: textOf(orders.in_figure), orderCite: ofOrders ? R.cite(ofOrders) : null,
      stages: listOf(tightening.stages).flatMap((stage, index) => (R.isBlock(stage) ? [stageOf(stage, ["fasteners", key, "tightening", "stages", index], facts, cite)] : [])),
      walk: textOf(tightening.walk), loosening: texts(loosening), looseningInFigure: textOf(blockOf(loosening).in_figure),
    };
  }

  function spotsOf(places) {
    const sound = Object.entries(blockOf(places)).filter(([, place]) => R.isBlock(place) && isPoint(place.at) && typeof place.group === "string");
    return Object.fromEntries(sound.map(([name, { at: [x, y], group, heads, hole }]) => [
      name, { name, x, y, group, heads: texts(heads), opens: textOf(blockOf(hole).opens) },
    ]));
  }

  function stageOf(stage, path, facts, around) {
    const own = R.ownCite(stage) || around;
    const key = [...path, "figure"].join(".");
    return {
      path, do: textOf(stage.do), order: textOf(stage.order), groups: texts(stage.groups), figures: facts.filter((fact) => R.keyOf(fact) === key),
      rounds: stage.do === "steps" ? ["from", "by", "to"].filter((each) => each in stage).map((each) => textOf(stage[each])) : [],
      until: textOf(stage.until), when: textOf(stage.when), method: textOf(stage.method), by: textOf(stage.by), cite: own ? R.cite(own) : null,
      doubt: R.isBlock(stage.doubt) ? { kind: textOf(stage.doubt.kind), says: textOf(stage.doubt.says) } : null,
    };
  }

  // Places that a stage turns, in its order; none where the record gives no order.
  function covered(set, stage) {
    const wanted = stage.groups.length ? stage.groups : Object.keys(set.groups);
    const order = Object.hasOwn(set.orders, stage.order) ? set.orders[stage.order] : [];
    return order.filter((name) => Object.hasOwn(set.spots, name) && wanted.includes(set.spots[name].group));
  }

  // -- heads --

  function heads(data) {
    const { heads: all, cite } = blockOf(data.geometry);
    return Object.entries(blocks(all)).map(([name, head]) => ({
      name, outline: listOf(head.outline).filter(isPoint), dowels: listOf(head.dowels).filter(isPoint), round: boresOf({ face: head.round })[0] || null,
      bores: boresOf(head.bores), front: textOf(head.front), exhaust: textOf(head.exhaust), cite: typeof cite === "string" ? R.cite(cite) : null,
    }));
  }

  function boresOf(data) {
    const sound = Object.entries(blockOf(data)).filter(([, bore]) => R.isBlock(bore) && isPoint(bore.at) && isNumber(bore.diameter));
    return sound.map(([name, { at: [x, y], diameter }]) => ({ name, x, y, diameter }));
  }

  // -- stages as the calculation takes them --

  const groupsOf = (set) => Object.fromEntries(Object.values(set.spots).map(({ name, group }) => [name, group]));
  const live = (facts) => facts.filter((fact) => !fact.superseded_by);
  const quantity = (value, unit) => (value === null ? null : { value: Q.asNumber(value), unit });
  const NOTHING = { low: null, high: null, nominal: null, first: null, by: null, doubtful: false, text: "", until: "", when: "", method: "" };

  // figures: the live ones of each stage, one a source.
  function plan(set, facts) {
    if (set.stages.length) return { stages: set.stages.map((stage) => planned(set, stage)), figures: set.stages.map((stage) => live(stage.figures)) };
    const torques = live(facts.filter((fact) => R.keyOf(fact) === `fasteners.${set.key}.torque`));
    if (!torques.length) return { stages: [], figures: [] };
    const names = Object.keys(set.orders);
    const order = names.length === 1 ? names[0] : "";
    const stage = { ...NOTHING, do: "torque", order: orderOf(set, order), covers: coversOf(set, order, []), ...figure(torques) };
    return { stages: [stage], figures: [torques] };
  }

  const orderOf = (set, name) => (Object.hasOwn(set.orders, name) ? set.orders[name] : []);

  function planned(set, stage) {
    const { do: action, until, when, method } = stage;
    const more = action === "steps" ? rounds(stage) : stage.figures.length ? figure(stage.figures) : turn(stage);
    const doubtful = Boolean(more.doubtful || stage.doubt);
    return { ...NOTHING, do: action, order: orderOf(set, stage.order), covers: coversOf(set, stage.order, stage.groups), until, when, method, ...more, doubtful };
  }

  // The groups a stage is for: those it names, else those of its order, else all.
  function coversOf(set, order, named) {
    const spots = Object.values(set.spots);
    if (named.length || !spots.length) return named;
    const found = new Set(orderOf(set, order).filter((place) => Object.hasOwn(set.spots, place)).map((place) => set.spots[place].group));
    const isAll = spots.every(({ group }) => found.has(group));
    return !found.size || isAll ? [] : Object.keys(set.groups).filter((group) => found.has(group));
  }

  function figure(facts) {
    const found = live(facts);
    return found.length === 1 ? valuesOf(found[0]) : { doubtful: true };
  }

  // low, high, nominal of a figure's leading unit, as far as it has them, and whether it may be trusted.
  function valuesOf({ printed: [leading], doubt, status, agreement }) {
    const doubtful = Boolean(doubt) || status === "contested" || agreement.verdict !== Q.AGREE || !leading || !leading.unit;
    return { ...(leading ? boundsOf(leading) : {}), doubtful };
  }

  function boundsOf(statement) {
    const { form, unit, numbers } = statement;
    if (!unit) return {};
    const nominal = form === "tolerance" ? quantity(numbers[0].value, unit) : null;
    return { low: quantity(Q.lowest(statement), unit), high: quantity(Q.highest(statement), unit), nominal };
  }

  function rounds(stage) {
    if (stage.rounds.length < 3) return {};
    const [first, by, last] = stage.rounds.map(Q.parse);
    return { ...boundsOf(last), first: boundsOf(first).low ?? null, by: boundsOf(by).low ?? null };
  }

  // How far a loosening goes, where that is a quantity; else its words.
  function turn({ by }) {
    if (!by) return {};
    try {
      return boundsOf(Q.parse(by));
    } catch (error) {
      return { text: by };
    }
  }

  Object.assign(R, { sets, heads, covered, plan, groupsOf, valuesOf });
})(window.Firedeck.record, window.Firedeck.quantities);
