// Tightening: stages expanded into pulls, a target for a row, the way out. Twin of generator/calculations/tightening.py.
(function (C, Q) {
  "use strict";
  const { refuse, sized } = C.result;
  const { compare, sayQuantity, sayRange, boundsText } = C.wording;
  const ALL = "all"; // the place of a pull whose order is not known, or that is no pull at a bolt
  const [STAGE_BY_STAGE, BOLT_BY_BOLT] = ["stage by stage", "bolt by bolt"];
  const [SET, CHOOSE, DOUBTFUL] = ["set", "choose one value from the range", "doubtful: look it up in the manual"];
  const [NOT_GIVEN, NOTHING] = ["not in this record: look it up in the manual", "nothing to set"];
  // What a stage may do, and the units its figure may have.
  const ACTIONS = { torque: ["N.m"], angle: ["deg"], loosen: ["deg", "N.m"], recheck: ["N.m", "deg"], steps: ["N.m"], wait: [], retorque: ["N.m", "deg"] };
  const MOST_ROUNDS = 50;

  // stages: as in the model. groups: place -> group. chosen: stage index -> the one target that the reader chose for the row.
  function expand(stages, groups = {}, walk = STAGE_BY_STAGE, chosen = {}) {
    if (walk !== STAGE_BY_STAGE && walk !== BOLT_BY_BOLT) refuse("unknown", "walk", "stage by stage, or bolt by bolt");
    const strays = Object.keys(chosen).map(Number).filter((index) => index < 0 || index >= stages.length);
    if (strays.length) refuse("unknown", "chosen", `there is no stage ${Math.min(...strays) + 1}`);
    const rows = stages.map((stage, index) => rowOf(index, stage, groups, wantedFor(index, stages, chosen)));
    return walk === STAGE_BY_STAGE ? rows.flat() : runsOf(rows).flatMap(boltByBolt);
  }

  function chooseTarget(low, high, wanted = null) {
    const unit = Q.isQuantity(low) ? low.unit : "N.m";
    const [bottom, top] = boundsOf(low, high, unit, "range");
    const proposed = Q.quantity((bottom + top) / 2, unit);
    const target = wanted != null ? inside(wanted, low, high, unit) : compare(bottom, top) ? null : low;
    const [state, reason, step] = target
      ? [SET, `${sayQuantity(target)} for every bolt of the row.`, "Set the wrench once for the whole row."]
      : [CHOOSE, `Any value from ${sayRange(low, high)} will do, but it must be the same for every bolt of the row; the middle is ${sayQuantity(proposed)}.`,
        "Choose one value now and keep it for the whole row."];
    return { state, proposed, target, reason, next_step: step };
  }

  function loosening(stages, groups = {}, own = []) {
    const found = (order, basis, text) => ({ order, basis, text: `${text}Only when the engine is cold, never hot. Undo every bolt by part of a turn, go `
      + "round again until all are loose, then take them out. The tightening stages are not done backwards." });
    const places = Object.keys(groups);
    if (own.length) {
      checkOrder(own, places, places, "loosening order");
      return found(own, "the record's own loosening order", "");
    }
    const orders = stages.map((stage, index) => (stage.order || []).length && orderOf(stage, groups, `stage ${index + 1} order`)).filter(Boolean);
    const most = places.length || Math.max(0, ...orders.map((order) => order.length));
    const whole = orders.find((order) => order.length === most) || [];
    if (whole.length) return found([...whole].reverse(), "common practice, no source", "The tightening order backwards. ");
    return found([], "", "The order is not in this record: look it up in the manual. ");
  }

  // -- orders --

  function rowOf(stage, { low = null, high = null, ...planned }, groups, wanted) {
    const [name, { do: action, covers = [] }] = [`stage ${stage + 1}`, planned];
    if (!Object.keys(ACTIONS).includes(action)) refuse("unknown", `${name} do`, `one of: ${Object.keys(ACTIONS).join(", ")}`);
    const order = orderOf(planned, groups, `${name} order`);
    const places = order.length ? order : [ALL];
    const order_known = order.length > 0 || action === "wait";
    return aimsOf({ ...planned, low, high }, wanted, name).flatMap((aim, turn) => places.map((place, n) => (
      { stage, action, place, position: order.length && n + 1, ...aim, round: turn + 1, order_known, covers })));
  }

  // The stage's order with only the places it covers, each exactly once; empty if not known or for a wait.
  function orderOf({ do: action, order = [], covers = [] }, groups, where) {
    const [names, places] = [[...new Set(Object.values(groups))].sort(), Object.keys(groups)];
    const stray = covers.find((group) => !names.includes(group) && (places.length || order.length));
    if (stray !== undefined) refuse("unknown", where, `there is no group ${stray}; there are: ${names.join(", ") || "none"}`);
    if (action === "wait" || !order.length) return [];
    const covered = places.filter((place) => !covers.length || covers.includes(groups[place]));
    checkOrder(order, covered, places, where);
    return order.filter((place) => !places.length || covered.includes(place));
  }

  function checkOrder(order, needed, places, where) {
    order.forEach((place, position) => {
      if (order.indexOf(place) < position) refuse("too-many", where, `${place} stands twice; each bolt stands once`);
      if (place === ALL) refuse("refused", where, 'a bolt cannot be named "all"');
      if (places.length && !places.includes(place)) refuse("unknown", where, `there is no place ${place}`);
    });
    const missing = needed.filter((place) => !order.includes(place)).sort();
    if (missing.length) refuse("too-few", where, `${missing.join(", ")} missing; each bolt stands once`);
  }

  // -- figures --

  // A re-check takes over the target chosen for the latest stage before it with the same bounds; nothing else does.
  function wantedFor(index, stages, chosen) {
    const [{ do: action, low, high }, own] = [stages[index], chosen[index] ?? null];
    if (own || action !== "recheck" || !(low || high)) return own;
    const same = (one, other) => (one && other ? one.value === other.value && one.unit === other.unit : !one && !other);
    return stages.slice(0, index).reduce((found, each, n) => (chosen[n] && same(each.low, low) && same(each.high, high) ? chosen[n] : found), null);
  }

  // What each round of the stage is to reach: one round, more for a step rule.
  function aimsOf(stage, wanted, name) {
    checkFigure(stage, wanted, name);
    const { do: action, low, high, doubtful } = stage;
    const [state, target] = stateOf(stage, wanted);
    const rises = action === "steps" ? risesOf(stage, low || target, name) : [];
    return [...rises.map((value) => ({ low: value, high: value, ...(doubtful ? { target: null, state: DOUBTFUL } : { target: value, state: SET }) })),
      { low, high, target, state }];
  }

  function stateOf({ do: action, low, high, nominal, doubtful }, wanted) {
    if (action === "wait") return [NOTHING, null];
    if (low && high && !doubtful) {
      const { state, target } = chooseTarget(low, high, wanted);
      return nominal && !wanted ? [SET, nominal] : [state, target];
    }
    if (wanted) return [SET, doubtful ? wanted : inside(wanted, low, high, wanted.unit)]; // looked up; one printed bound still holds
    return [doubtful ? DOUBTFUL : action === "loosen" && !low && !high ? NOTHING : NOT_GIVEN, null];
  }

  // Values of the rounds before the last one of a step rule.
  function risesOf({ first, by }, top, name) {
    if (!top) return [];
    const { unit, value: end } = top;
    const [start, step] = [sized(first, unit, `${name} from`), sized(by, unit, `${name} by`)];
    if (compare(start, end) > 0) refuse("out-of-order", `${name} from`, `a value not above the last one, ${sayQuantity(top)}`);
    if ((end - start) / step > MOST_ROUNDS) refuse("out-of-range", `${name} by`, `a step that needs at most ${MOST_ROUNDS} rounds`);
    const rises = Array.from({ length: MOST_ROUNDS + 1 }, (_, count) => start + step * count);
    return rises.filter((value) => compare(value, end) < 0).map((value) => Q.quantity(value, unit));
  }

  function checkFigure({ do: action, low, high, nominal }, wanted, name) {
    const units = ACTIONS[action];
    for (const [which, value] of Object.entries({ low, high, nominal, target: wanted })) {
      const field = `${name} ${which}`;
      if (value == null) continue;
      if (!units.length) refuse("refused", field, "a wait has no figure");
      sized(value, units.find((unit) => Q.isQuantity(value) && Q.UNITS[unit].dimension === Q.dimensionOf(value)) || units[0], field);
    }
    if (low && high) boundsOf(low, high, low.unit, name);
    if (low && high && nominal) inside(nominal, low, high, low.unit, `${name} nominal`);
  }

  function boundsOf(low, high, unit, where) {
    const [bottom, top] = [sized(low, unit, `${where} low`), sized(high, unit, `${where} high`)];
    if (compare(bottom, top) > 0) refuse("out-of-order", where, "the lower bound first");
    return [bottom, top];
  }

  function inside(wanted, low, high, unit, where = "target") {
    const value = sized(wanted, unit, where);
    const isOut = (low && compare(value, Q.to(low, unit)) < 0) || (high && compare(value, Q.to(high, unit)) > 0);
    return isOut ? refuse("out-of-range", where, `a value that keeps to ${boundsText({ low, high })}`) : wanted;
  }

  // -- walking bolt by bolt --

  const isOneAtATime = ([pull]) => ["torque", "angle", "loosen"].includes(pull.action) && pull.place !== ALL;

  // Rows in runs: those that one bolt can have after another together, every other row alone.
  function runsOf(rows) {
    return rows.reduce((runs, row) => {
      const last = runs[runs.length - 1];
      const joins = last && isOneAtATime(row) && isOneAtATime(last[0]);
      return joins ? [...runs.slice(0, -1), [...last, row]] : [...runs, [row]];
    }, []);
  }

  function boltByBolt(run) {
    if (!isOneAtATime(run[0])) return run[0];
    const longestFirst = [...run].sort((one, other) => other.length - one.length);
    const line = [...new Set(longestFirst.flat().map((pull) => pull.place))]; // one order, which every row must follow
    for (const row of run) {
      const rank = row.map((pull) => line.indexOf(pull.place));
      const field = `stage ${row[0].stage + 1} order`;
      if (rank.some((each, n) => each < rank[n - 1])) refuse("out-of-order", field, "bolt by bolt needs one order for all stages of the walk");
    }
    return line.flatMap((place) => run.flat().filter((pull) => pull.place === place));
  }

  C.tightening = { ALL, expand, chooseTarget, loosening };
})(window.Firedeck.calculations, window.Firedeck.quantities);
