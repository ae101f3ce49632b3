// A cut off head or deck: allowed or not, ratio, valve timing. Twin of generator/calculations/cut.py, which has the formulas;
// what else to check after a cut stands in the page.
(function (C, Q, NOT_STRAIGHT) {
  "use strict";
  const { refuse, measured, sized, signed, teller, isOwn } = C.result;
  const { compare, sayNumber, sayQuantity } = C.wording;
  const [ALLOWED, CANNOT_TELL, NOT_ALLOWED] = ["allowed", "cannot tell", "not allowed"];
  const VERDICTS = [ALLOWED, CANNOT_TELL, NOT_ALLOWED]; // rising
  const FACES = { head: ["head", "block"], deck: ["block", "head"] };
  const LOOK_UP = "Look it up in the manual before anything is cut.";
  const told = teller("cut");

  // planned: {cut, before, other_face, height, recession, per_cut, total, together, height_limit, recession_limit, face}
  function stockRemoval(planned) {
    const { face = "head" } = planned;
    if (!Object.keys(FACES).includes(face)) refuse("unknown", "face", "head or deck");
    sized(planned.cut, "mm", "cut");
    const checks = [mostInOne, mostInAll, mostTogether, leastHeight, leastRecession].map((check) => check(planned, ...FACES[face])).filter(Boolean);
    const left = ({ number }) => (number ? Q.mm(number) : 0);
    if (!checks.length) return { overall: told(CANNOT_TELL, "This record gives no limit for stock removal.", null, "", LOOK_UP), checks, left: null };
    const graver = (one, other) => VERDICTS.indexOf(one.verdict) - VERDICTS.indexOf(other.verdict) || left(other) - left(one);
    const overall = checks.reduce((one, other) => (graver(other, one) > 0 ? other : one));
    const isOpen = checks.some(({ verdict }) => verdict === CANNOT_TELL);
    return { overall, checks, left: isOpen ? null : checks.reduce((one, other) => (left(other) < left(one) ? other : one)).number };
  }

  const length = (millimetres, { cut }) => sayQuantity(Q.fromMm(millimetres, cut.unit));

  function mostInOne(planned) {
    const { cut, per_cut: limit } = planned;
    return limit ? most(planned, limit, Q.mm(cut), `This cut takes ${sayQuantity(cut)}`, "in one cut") : null;
  }

  function mostInAll(planned, part) {
    const { cut, before, total: limit } = planned;
    if (!limit) return null;
    if (before == null) return inPart(planned, limit, Q.mm(cut), "in all", part);
    const earlier = measured(before, "mm", "cut before");
    const taken = earlier + Q.mm(cut);
    const words = `${length(earlier, planned)} before and ${sayQuantity(cut)} now make ${length(taken, planned)}`;
    return most(planned, limit, taken, words, "in all");
  }

  function mostTogether(planned, part, other) {
    const { cut, before, other_face: otherFace, together: limit } = planned;
    if (!limit) return null;
    const earlier = before == null ? 0 : measured(before, "mm", "cut before");
    const off = otherFace == null ? 0 : measured(otherFace, "mm", "other face");
    const [taken, where] = [earlier + Q.mm(cut), "head and block together"];
    if (before == null || otherFace == null) return inPart(planned, limit, taken + off, where, before == null ? part : other);
    const [one, two, both] = [taken, off, taken + off].map((each) => length(each, planned));
    return most(planned, limit, taken + off, `${one} off the ${part} and ${two} off the ${other} make ${both}`, where);
  }

  // A sum of which a part is missing: what is known may still be too much.
  function inPart(planned, limit, known, where, part) {
    if (limit.high != null && isBeyond(known, measured(limit.high, "mm", limit.label), limit.strict)) {
      return most(planned, limit, known, `${length(known, planned)} is known to come off with this cut, which is too much`, where);
    }
    const reason = `What may come off ${where} cannot be checked: what came off the ${part} before is not known.`;
    return told(CANNOT_TELL, reason, null, limit.basis, "Measure the height and compare it with the new one, or find out who cut it.");
  }

  function most(planned, limit, taken, words, where) {
    if (limit.high == null) return noNumber(limit, `how much may come off ${where}`);
    const bound = measured(limit.high, "mm", limit.label);
    const reason = `${words}; ${limit.strict ? "less than" : "at most"} ${length(bound, planned)} may come off ${where}.`;
    return judged(isBeyond(taken, bound, limit.strict), reason, Q.fromMm(bound - taken, planned.cut.unit), limit);
  }

  const leastHeight = (planned, part) =>
    least(planned, planned.height_limit, planned.height, `${part} height`, (now, after) => `The ${part} is ${now} high and ${after} after the cut`);
  const leastRecession = (planned, part) => (part === "head" ? least(planned, planned.recession_limit, planned.recession, "valve recession",
    (now, after) => `The valves stand ${now} deep and ${after} after the cut`) : null);

  function least(planned, limit, reading, name, words) {
    if (!limit) return null;
    if (limit.low == null) return noNumber(limit, `the least ${name}`);
    const bound = signed(limit.low, "mm", limit.label);
    const text = length(bound, planned);
    if (reading == null) {
      return told(CANNOT_TELL, `The ${name} is not measured, so the limit of ${text} cannot be checked.`, null, limit.basis, `Measure the ${name}.`);
    }
    const now = signed(reading, "mm", name);
    const after = now - Q.mm(planned.cut);
    const reason = `${words(length(now, planned), length(after, planned))}; ${limit.strict ? "more than" : "at least"} ${text} must be left.`;
    return judged(isBeyond(-after, -bound, limit.strict), reason, Q.fromMm(after - bound, planned.cut.unit), limit);
  }

  const judged = (beyond, reason, left, limit) => isOwn(limit)
    ? told(beyond ? NOT_ALLOWED : ALLOWED, reason, left, limit.basis)
    : told(CANNOT_TELL, `${reason} This is not this engine's limit.`, left, limit.basis);
  const noNumber = (limit, what) => told(CANNOT_TELL, `The record gives no number for ${what}.`, null, limit.basis, LOOK_UP);

  function isBeyond(value, bound, strict) {
    const order = compare(value, bound);
    return order > 0 || Boolean(strict && !order);
  }

  // -- compression ratio --

  function circleArea(diameter) {
    const inches = Q.isQuantity(diameter) && diameter.unit === "in";
    const across = sized(diameter, inches ? "in" : "mm", "bore");
    const area = (Math.PI / 4) * across * across;
    return inches ? Q.quantity(area, "in2") : Q.quantity(area / 100, "cm2");
  }

  function sweptVolume(bore, stroke) {
    const { value, unit } = circleArea(bore);
    return unit === "in2" ? Q.quantity(value * sized(stroke, "in", "stroke"), "in3") : Q.quantity((value * sized(stroke, "mm", "stroke")) / 10, "cm3");
  }

  function compressionRatio(swept, clearance) {
    const [vs, vc] = [sized(swept, "cm3", "swept volume"), sized(clearance, "cm3", "clearance volume")];
    return Q.quantity((vs + vc) / vc, "ratio");
  }

  function ratioAfter(swept, clearance, areas, headCut, deckCut, gasketGain) {
    const [chamber, gasket, cylinder] = areasOf(areas);
    const [head, deck] = cuts(headCut, deckCut);
    const gain = signed(gasketGain, "mm", "gain in gasket thickness");
    const before = compressionRatio(swept, clearance);
    const volume = Q.to(clearance, "cm3") - (chamber * head + cylinder * deck - gasket * gain) / 10;
    if (volume <= 0) refuse("out-of-range", "clearance volume", "cuts that leave room above the piston");
    const after = compressionRatio(swept, Q.quantity(volume, "cm3"));
    const left = Q.converted(Q.quantity(volume, "cm3"), clearance.unit);
    const volumes = `The clearance volume goes from ${sayQuantity(clearance)} to ${sayQuantity(left)}`;
    return { before, after, clearance: left, reason: `${volumes}, the compression ratio from ${sayNumber(before)} to ${sayNumber(after)} to 1.` };
  }

  function restoringGaskets(areas, headCut, deckCut, drive) {
    const [chamber, gasket, cylinder] = areasOf(areas);
    const [head, deck] = cuts(headCut, deckCut);
    const forRatio = Q.fromMm((chamber * head + cylinder * deck) / gasket, headCut.unit);
    const found = (forTiming, ending) => ({
      for_ratio: forRatio, for_timing: forTiming, reason: `A gasket ${sayQuantity(forRatio)} thicker restores the compression ratio${ending}.`,
    });
    const why = whyNot(drive);
    if (why) return found(null, `. For the valve timing none is computed: ${why}`);
    const forTiming = Q.fromMm(head + deck, headCut.unit);
    if (!compare(Q.mm(forRatio), head + deck)) return found(forTiming, " and the valve timing");
    return found(forTiming, `; one ${sayQuantity(forTiming)} thicker restores the valve timing. They are two different gaskets`);
  }

  const cuts = (headCut, deckCut) => [measured(headCut, "mm", "head cut"), measured(deckCut, "mm", "deck cut")];

  function areasOf(areas) {
    if (!areas) refuse("missing", "areas", "chamber at the face, gasket bore and cylinder bore");
    const chamber = measured(areas.chamber, "cm2", "chamber area at the face");
    return [chamber, sized(areas.gasket, "cm2", "gasket bore area"), sized(areas.cylinder, "cm2", "cylinder bore area")];
  }

  // -- valve timing --

  const STRAIGHT = ["chain", "belt"];
  const DRIVES = [...STRAIGHT, ...Object.keys(NOT_STRAIGHT)];

  function sprocketRadius(teeth, pitch, drive) {
    if (!Number.isInteger(teeth)) refuse("not-a-number", "teeth", "a whole number");
    if (teeth < 6) refuse("too-few", "teeth", "6 or more");
    if (teeth > 1000) refuse("out-of-range", "teeth", "1000 or fewer");
    if (!STRAIGHT.includes(drive)) refuse("refused", "drive", "a chain or a belt");
    sized(pitch, "mm", "pitch");
    const radius = drive === "chain" ? pitch.value / (2 * Math.sin(Math.PI / teeth)) : (teeth * pitch.value) / (2 * Math.PI);
    return Q.quantity(radius, pitch.unit);
  }

  function camRetard(drive, headCut, deckCut, gasketGain, strandAngle, camRadius) {
    const [COMPUTED, NOT_COMPUTED] = ["computed", "not computed"];
    const found = (verdict, cam, crank, reason, step) => ({ verdict, cam, crank, reason, next_step: step });
    const why = whyNot(drive);
    if (why) {
      return found(NOT_COMPUTED, null, null, `Not computed: ${why}.`, "Check the timing by the maker's method; no number can be given for it here.");
    }
    const [head, deck] = cuts(headCut, deckCut);
    const lower = head + deck - signed(gasketGain, "mm", "gain in gasket thickness");
    const angle = measured(strandAngle, "deg", "strand angle");
    const radius = sized(camRadius, "mm", "cam sprocket radius");
    if (angle >= 90) refuse("out-of-range", "strand angle", "less than 90 deg, between the cut and the strand");
    const degrees = (((lower * Math.cos((angle * Math.PI) / 180)) / radius) * 180) / Math.PI;
    const [cam, crank] = [degrees, 2 * degrees].map((each) => Q.quantity(each, "deg"));
    const step = "Set the timing by the engine's marks, turn the crank twice by hand and check it again.";
    if (!compare(lower, 0)) return found(COMPUTED, cam, crank, "The head sits as high as before: the timing stays.", step);
    const [where, when] = lower > 0 ? ["lower", "late"] : ["higher", "early"];
    const [moved, onCam, onCrank] = [Q.fromMm(lower, headCut.unit), cam, crank].map((each) => sayQuantity(Q.quantity(Math.abs(each.value), each.unit)));
    return found(COMPUTED, cam, crank, `The head sits ${moved} ${where}: the camshaft runs ${onCam} ${when}, ${onCrank} at the crank.`, step);
  }

  // Why a drive is not computed; empty if it is.
  function whyNot(drive) {
    if (drive == null) return "how the camshaft is driven is not in this record";
    if (!DRIVES.includes(drive)) refuse("unknown", "drive", `one of: ${DRIVES.join(", ")}`);
    return NOT_STRAIGHT[drive] || "";
  }

  C.cut = { stockRemoval, circleArea, sweptVolume, compressionRatio, ratioAfter, restoringGaskets, sprocketRadius, camRetard };
})(window.Firedeck.calculations, window.Firedeck.quantities, window.Firedeck.tables.drives);
