// Flatness of a face by straightedge and blades. Twin of generator/calculations/flatness.py, which explains every rule.
(function (C, Q) {
  "use strict";
  const { refuse, measured, sized, teller, isOwn } = C.result;
  const { compare, total, listing, say, sayBeside, sayQuantity, boundsText } = C.wording;
  const { WITHIN, OVER, NO_LIMIT, NO_NUMBER, PRACTICE } = C.limits;
  const [LENGTHWISE, CROSSWISE, DIAGONAL, DIAMETER, ANY] = ["lengthwise", "crosswise", "diagonal", "diameter", "any"];
  const DIRECTIONS = [LENGTHWISE, CROSSWISE, DIAGONAL, DIAMETER, ANY];
  const [CANNOT_TELL, TOO_CLOSE, ROCKS] = ["cannot tell yet", "too close for these tools", "another method"];
  const [NOT_MEASURED, NO_OWN] = ["not measured", "no limit of its own"];
  const WEIGHT = [OVER, ROCKS, TOO_CLOSE, CANNOT_TELL, NOT_MEASURED, NO_NUMBER, NO_LIMIT, NO_OWN, PRACTICE, WITHIN];
  const told = teller("flatness");
  const judged = (result, more) => ({ result, by_blades: "", at_least: null, at_most: null, borrowed: false, share: 0, ...more });

  function linesOf(bores) {
    if (!bores.length) refuse("too-few", "bores", "name at least one bore");
    if (new Set(bores).size < bores.length) refuse("too-many", "bores", "name every bore once");
    const [first, last] = [bores[0], bores[bores.length - 1]];
    return [
      ["edge-a", "along one edge", LENGTHWISE], ["edge-b", "along the other edge", LENGTHWISE],
      ["diagonal-a", "one diagonal", DIAGONAL], ["diagonal-b", "the other diagonal", DIAGONAL],
      ["end-a", `across the end at bore ${first}`, CROSSWISE],
      ...bores.slice(1).map((bore, n) => [`between-${bores[n]}-${bore}`, `across between bores ${bores[n]} and ${bore}`, CROSSWISE]),
      ["end-b", `across the ${last === first ? "other " : ""}end at bore ${last}`, CROSSWISE],
    ].map(([id, name, direction]) => ({ id, name, direction, length: null }));
  }

  function linesOfRound(count = 4) {
    if (count < 2) refuse("too-few", "diameters", "take at least two diameters");
    return Array.from({ length: count }, (_, n) => ({ id: `diameter-${n + 1}`, name: `diameter ${n + 1} of ${count}`, direction: DIAMETER, length: null }));
  }

  function judgeLine(line, readings, limits, blades = []) {
    const felt = readings.map((reading) => ({ goes: [], stops: [], span: null, ...reading }));
    felt.forEach((reading) => check(line, reading));
    limits.forEach(checkLimit);
    blades.forEach((blade) => sized(blade, "mm", "blades in hand"));
    const alone = (verdict, ending) => {
      const found = judged(told(verdict, `${line.name}: ${ending}.`));
      return { line, each: [found], deciding: found };
    };
    if (!felt.length) return alone(NOT_MEASURED, "not measured");
    if (felt.some((reading) => reading.rocks)) return alone(ROCKS, "the straightedge rocks, so the face is convex and no blade decides");
    const each = bearing(line, limits).map(([limit, how]) => against(line, felt, limit, how, blades));
    if (!each.length) return alone(NO_LIMIT, `${feltText(felt)}, and this record has no limit for it`);
    const deciding = each.filter((one) => ![PRACTICE, NO_OWN].includes(one.result.verdict));
    return { line, each, deciding: worstOf(deciding.length ? deciding : each, (one) => one) };
  }

  function judgeFace(lines, readings, limits, blades = []) {
    if (!lines.length) refuse("too-few", "lines", "name at least one line");
    for (const { line } of readings) if (!lines.some(({ id }) => id === line)) refuse("unknown", "line", `${line} is no line of this face`);
    const found = lines.map((line) => judgeLine(line, readings.filter((reading) => reading.line === line.id), limits, blades));
    const worst = worstOf(found, (one) => one.deciding);
    const missing = found.filter((one) => one.deciding.result.verdict === NOT_MEASURED).map((one) => one.line.name);
    return { lines: found, result: faceResult(lines.length, worst.deciding.result, missing), worst: worst.line.id, missing };
  }

  function faceResult(count, { verdict, reason, next_step: step, number, basis }, missing) {
    if (verdict === NOT_MEASURED) return told(verdict, `${count - missing.length} of ${count} lines are measured; not yet: ${listing(missing)}.`);
    if (verdict === WITHIN) {
      return told(verdict, `All ${count} lines are within; the nearest to its limit, ${reason}`, number, basis, "Write the blades down and go on.");
    }
    const heading = [OVER, ROCKS, TOO_CLOSE, CANNOT_TELL].includes(verdict) ? "Worst line" : "Not decided";
    return told(verdict, `${heading}, ${reason}${missing.length ? ` Not measured yet: ${listing(missing)}.` : ""}`, number, basis, step);
  }

  // The weightiest; of equals the one nearest to or farthest past its limit, then the first.
  function worstOf(list, judgedOf) {
    const order = (one, other) => WEIGHT.indexOf(one.result.verdict) - WEIGHT.indexOf(other.result.verdict) || other.share - one.share;
    return list.reduce((one, other) => (order(judgedOf(other), judgedOf(one)) < 0 ? other : one));
  }

  // -- which limits bear on a line --

  const [OWN, BETWEEN, OTHER] = [
    "", "; no limit of its own in this record, so the stricter one stands here",
    "; that is said of another direction, and this line has no limit of its own in this record",
  ];
  const isFor = (direction) => (one) => (one.direction ?? ANY) === direction;
  const bearing = (line, limits) => [true, false].flatMap((own) => ofOneKind(line, limits.filter((one) => isOwn(one.limit) === own)));

  function ofOneKind(line, limits) {
    const own = limits.filter((one) => isFor(ANY)(one) || isFor(line.direction)(one));
    if (own.length) return own.map((one) => [one, OWN]);
    const sameSpan = ({ span: one }, { span: other }) => (one && other ? !compare(Q.mm(one), Q.mm(other)) : !one && !other);
    const firsts = limits.filter((one, n) => limits.findIndex((other) => sameSpan(other, one)) === n);
    return firsts.map((first) => borrowed(line, limits.filter((one) => sameSpan(one, first))));
  }

  // The lowest upper bound of one span; of equals the strict one; without number is stricter than any number.
  function borrowed(line, limits) {
    const bound = ({ limit }) => (limit.high ? Q.mm(limit.high) : 0);
    const isStricter = (one, other) => bound(one) < bound(other) || (bound(one) === bound(other) && one.limit.strict && !other.limit.strict);
    const both = limits.some(isFor(LENGTHWISE)) && limits.some(isFor(CROSSWISE));
    return [limits.reduce((one, other) => (isStricter(other, one) ? other : one)), both && line.direction === DIAGONAL ? BETWEEN : OTHER];
  }

  // -- one line against one limit --

  function against(line, felt, { limit, span = null }, ending, blades) {
    const { high, basis } = limit;
    const more = { borrowed: ending !== OWN };
    const undecided = !isOwn(limit) ? PRACTICE : ending === OTHER ? NO_OWN : "";
    if (!high) {
      return judged(told(undecided || NO_NUMBER, `${line.name}: ${feltText(felt)}, and the source gives no number to hold it against${ending}.`, null, basis), more);
    }
    const proof = proofOf(line, felt, span, high.unit);
    const verdict = bladesSay(proof, high.value);
    const [by, other] = verdict === OVER ? [proof.goes, proof.stops] : [proof.stops, proof.goes];
    const number = verdict === WITHIN ? proof.stops : proof.goes;
    const proven = number && Q.quantity(number.size, high.unit);
    const clause = `${line.name}: ${clauseOf(felt, proof, verdict, by, limit, span)}`;
    if (undecided) {
      const practice = isOwn(limit) ? "" : "; a rule of practice and not this engine's limit";
      return judged(told(undecided, `${clause}${practice}${ending}.`, proven, basis), more);
    }
    Object.assign(more, { by_blades: verdict, share: number ? number.size / high.value : 0 });
    if (verdict === CANNOT_TELL) return judged(told(verdict, `${clause}${ending}.`, proven, basis, next(proof, span, high, blades)), more);
    const [least, most] = [by, other].map((each) => each && Q.quantity(distance(each.size, high.value), high.unit));
    const [decided, doubt] = withDoubt(verdict, by.reading.doubt, least);
    return judged(told(decided, `${clause}${settled(least, most)}${doubt}${ending}.`, proven, basis), { ...more, at_least: least, at_most: most });
  }

  function bladesSay({ goes, stops }, bound) {
    if (goes && compare(goes.size, bound) >= 0) return OVER;
    return stops && compare(stops.size, bound) <= 0 ? WITHIN : CANNOT_TELL;
  }

  const distance = (one, other) => (compare(one, other) ? Math.abs(one - other) : 0);

  function withDoubt(verdict, doubt, least) {
    const text = doubt && `tools' doubt ${sayQuantity(doubt)}`;
    if (!doubt || compare(Q.to(doubt, least.unit), least.value) <= 0) return [verdict, doubt ? `, ${text}` : ""];
    return [TOO_CLOSE, `, but the ${text} is larger than what the blades leave`];
  }

  // What the readings prove for a limit: the thickest that goes and the thinnest that does not, each {size, reading} or null.
  // tooLong: goes over a longer span than the limit's. tooShort: does not go, over a shorter one.
  function proofOf(line, felt, span, unit) {
    const length = (reading) => reading.span || line.length;
    const isInside = ({ reading }) => !span || Boolean(length(reading) && compare(Q.mm(length(reading)), Q.mm(span)) <= 0);
    const isWhole = ({ span: part }) => !part || (line.length && compare(Q.mm(part), Q.mm(line.length)) >= 0);
    const isAll = ({ reading }) => isWhole(reading) || Boolean(span && compare(Q.mm(reading.span), Q.mm(span)) >= 0);
    const most = (sizes) => sizes.reduce((one, other) => (one && one.size >= other.size ? one : other), null);
    const least = (sizes) => sizes.reduce((one, other) => (one && one.size <= other.size ? one : other), null);
    const goes = felt.filter((one) => one.goes.length).map((one) => ({ size: total(one.goes.map((blade) => Q.to(blade, unit))), reading: one }));
    const stops = felt.filter((one) => one.stops.length === 1).map((one) => ({ size: Q.to(one.stops[0], unit), reading: one }));
    const proof = {
      goes: most(goes.filter(isInside)), stops: least(stops.filter(isAll)),
      tooLong: most(goes.filter((one) => !isInside(one))), tooShort: least(stops.filter((one) => !isAll(one))),
      rightSpan: felt.some((reading) => isInside({ reading }) && isAll({ reading })),
    };
    if (proof.goes && proof.stops && compare(proof.goes.size, proof.stops.size) >= 0) {
      refuseOrder(line, say(proof.goes.size, unit), say(proof.stops.size, unit));
    }
    return proof;
  }

  // -- words --

  function feltText(felt) {
    const parts = felt.flatMap(({ goes, stops, span }) => [[goes, "goes", span], [stops, "does not go", span]]);
    const said = parts.filter(([blades]) => blades.length);
    return said.map(([blades, word, span]) => `${bladeText(blades)} ${word}${span ? ` over ${sayQuantity(span)}` : ""}`).join(", ");
  }

  const bladeText = (blades) => (blades.length === 1 ? sayQuantity(blades[0]) : `a stack of ${listing(blades.map(sayQuantity))}`);
  const provenText = (blades, size, high) => (blades.length === 1 ? sayBeside(blades[0], high) : `${bladeText(blades)} (${say(size, high.unit)})`);

  function clauseOf(felt, proof, verdict, by, limit, span) {
    const { high } = limit;
    const bounds = boundsText(limit) + (span ? ` over any ${sayQuantity(span)}` : "");
    if (verdict === CANNOT_TELL) return `${feltText(felt)}, and the limit is ${bounds}${hindrance(proof, felt, high.value)}`;
    if (verdict === WITHIN) return `${provenText(by.reading.stops, by.size, high)} does not go, against ${bounds}`;
    return `${provenText(by.reading.goes, by.size, high)}${compare(by.size, high.value) ? "" : ", the limit blade itself,"} goes, against ${bounds}`;
  }

  // Why a blade that seems to decide does not.
  function hindrance({ tooLong, tooShort }, felt, bound) {
    if (tooLong && compare(tooLong.size, bound) >= 0) return ", so a gap over a longer span decides nothing yet";
    if (tooShort && compare(tooShort.size, bound) <= 0) return ", so a gap over a shorter span decides nothing yet";
    return felt.some(({ stops }) => stops.length > 1) ? ", and a stack that does not go proves nothing" : "";
  }

  function settled(least, most) {
    const parts = [least.value > 0 && `at least ${sayQuantity(least)}`, most && `less than ${sayQuantity(most)}`].filter(Boolean);
    return parts.length ? `: settled by ${parts.join(" and ")}` : ": by how much is not known";
  }

  // The blade that settles most: the limit blade, else the one in hand nearest to it that can decide, the thinner of two.
  function next({ goes, stops, rightSpan }, span, high, blades) {
    if (!rightSpan && !span) return "Lay a straightedge over the whole line and feel again.";
    if (!rightSpan) return `Lay the straightedge over ${sayQuantity(span)} at a time, all along the line, and feel again.`;
    const size = (blade) => Q.to(blade, high.unit);
    const isOpen = (blade) => (!goes || compare(size(blade), goes.size) > 0) && (!stops || compare(size(blade), stops.size) < 0);
    const open = (blades.length ? blades : [high]).filter(isOpen);
    if (!open.length) return `No single blade in hand settles it: get a ${sayQuantity(high)} blade, or have it measured.`;
    const away = (blade) => distance(size(blade), high.value);
    const order = (one, other) => compare(away(one), away(other)) || size(one) - size(other);
    const best = open.reduce((one, other) => (order(other, one) < 0 ? other : one));
    const outcomes = ["if it does not go, the line is within", "if it goes, the line is over; if not, within", "if it goes, the line is over"];
    return `Try the ${sayBeside(best, high)} blade: ${outcomes[compare(size(best), high.value) + 1]}.`;
  }

  // -- bad input --

  function check(line, { line: id, goes, stops, span, rocks, doubt }) {
    const field = line.name;
    if (id !== line.id) refuse("unknown", "line", `${id} is not ${line.id}`);
    for (const blade of [...goes, ...stops]) sized(blade, "mm", `${field}: blade`);
    if (span != null) sized(span, "mm", `${field}: span`);
    if (line.length != null) sized(line.length, "mm", `${field}: length`);
    if (doubt != null) measured(doubt, "mm", `${field}: doubt`);
    if (!rocks && !goes.length && !stops.length) {
      refuse("missing", `${field}: blade`, "give the thickest blade that goes, or the thinnest that does not");
    }
    const isTogether = goes.length && stops.length === 1;
    if (isTogether && compare(total(goes.map(Q.mm)), Q.mm(stops[0])) >= 0) refuseOrder(line, bladeText(goes), bladeText(stops));
  }

  const refuseOrder = (line, goes, stops) =>
    refuse("out-of-order", `${line.name}: blade`, `the blade that goes (${goes}) must be thinner than the one that does not (${stops})`);

  function checkLimit({ limit, direction = ANY, span }) {
    if (!DIRECTIONS.includes(direction)) refuse("unknown", limit.label, `the direction is one of ${DIRECTIONS.join(", ")}`);
    if (limit.low != null) refuse("out-of-range", limit.label, "a flatness limit has an upper bound only");
    if (limit.high != null) sized(limit.high, "mm", limit.label);
    if (span != null) sized(span, "mm", `${limit.label}: span`);
  }

  C.flatness = { linesOf, linesOfRound, judgeLine, judgeFace };
})(window.Firedeck.calculations, window.Firedeck.quantities);
