// The worksheets of the job but flatness: what each asks, and which calculation answers.
(function (Firedeck) {
  "use strict";
  const { SHEETS } = Firedeck.worksheets;
  const { calculations: C, quantities: Q } = Firedeck;

  const LENGTHS = "in mm unless a unit is written: 0.05, .002 in, 2/1000 in";
  const many = (name, label) => ({ name, label: `${label}, one a line`, rows: 3, hint: LENGTHS });
  const one = (name, label, hint = LENGTHS) => ({ name, label, hint });
  const answer = (what, found) => ({ what, found });
  const told = (verdict, reason, next_step = "", basis = "") => ({ verdict, reason, next_step, basis });

  // Rows of [field, label, place of the limit, place of the spread]; a row without a figure in the record is measured and written down.
  function measuredRows(title, rows, signed = false) {
    return {
      title,
      form: () => rows.map(([name, label]) => many(name, label)),
      judge: (ctx) => rows.flatMap(([name, label, place, spread]) => {
        const readings = ctx.readAll(name, "mm");
        if (!readings.length) return [];
        const found = C.limits.judgeSeveral(readings, ctx.limit(place, label), readings.length > 1 && spread ? ctx.limit(spread, `${label}, spread`) : null, name, { signed });
        return [answer(label, found.result)];
      }),
    };
  }

  const GROUP = "fasteners.head.groups";

  function bolts() {
    const rows = (ctx) => Object.entries((ctx.model.fasteners.head || { groups: {} }).groups).flatMap(([group, { label }]) => [
      [`length ${group}`, `Length, ${label || group}`, `${GROUP}.${group}.length_limit`], [`neck ${group}`, `Neck, ${label || group}`, `${GROUP}.${group}.neck_limit`]]);
    return { title: "bolts", form: (ctx) => measuredRows("", rows(ctx)).form(), judge: (ctx) => measuredRows("", rows(ctx)).judge(ctx) };
  }

  // Cylinders along each bank; those that share no head gasket, or of whose banks nothing is known, stand in rows of their own.
  function banks(ctx) {
    const drawn = ctx.model.heads.map((head) => head.bores.map((bore) => bore.name)).filter((names) => names.length);
    if (drawn.length) return drawn;
    const count = Number(ctx.says("identity.cylinders")) || Number(ctx.text("cylinders")) || 0;
    if (!(Number.isInteger(count) && count > 0 && count <= 24)) return [];
    const names = [...Array(count).keys()].map((index) => String(index + 1));
    return (ctx.says("identity.layout") || ctx.text("row") || "in-line") === "in-line" ? [names] : names.map((name) => [name]);
  }

  const RULES = [
    ["minimum", "tests.compression.minimum", "lowest compression"], ["minimum", "tests.compression.normal", "normal compression"],
    ["spread", "tests.compression.spread", "difference between cylinders"], ["of highest", "tests.compression.fraction_of_highest", "lowest against highest"],
    ["below mean", "tests.compression.below_mean", "below the mean"],
  ];

  function altitudeRule(ctx) {
    const rows = [...Array(30).keys()].map((index) => `tests.compression.by_altitude.${index}`)
      .map((place) => ({ altitude: ctx.value(`${place}.altitude`), also: ctx.values(`${place}.altitude`).slice(1), minimum: ctx.value(`${place}.minimum`), basis: (ctx.limit(`${place}.minimum`, "") || {}).basis }))
      .filter(({ altitude, minimum }) => altitude && minimum);
    const altitude = rows.length ? ctx.read("altitude", "m") : null;
    return altitude ? [{ kind: "minimum", limit: C.compression.altitudeMinimum("minimum at this altitude", rows, altitude, rows[0].basis) }] : [];
  }

  const PRACTICE = { kind: "of highest", limit: { label: "lowest against highest", low: { value: 75, unit: "%" }, high: null, strict: false, basis: "common practice, no source", own: false } };

  SHEETS.compression = {
    title: "compression",
    form(ctx) {
      const rows = banks(ctx);
      const asked = rows.length && !ctx.text("cylinders") ? [] : [{ ...one("cylinders", "How many cylinders", ""), remake: true }];
      const row = ctx.says("identity.layout") || ctx.model.heads.length ? [] : [{ name: "row", label: "The cylinders stand", options: [["", "in one row"], ["apart", "in two banks, or each under a head of its own"]] }];
      const ignition = ctx.says("identity.ignition") ? [] : [{ name: "ignition", label: "Ignition", options: [["", "choose"], ["spark", "spark"], ["compression", "compression (diesel)"]] }];
      const altitude = ctx.facts("tests.compression.by_altitude").length ? [one("altitude", "Altitude of the place", "in m unless a unit is written")] : [];
      const hint = "in kPa unless a unit is written";
      const cells = rows.flat().flatMap((name) => [one(`dry ${name}`, `Cylinder ${name}, dry`, hint), one(`wet ${name}`, `Cylinder ${name}, with oil`, hint)]);
      return [...asked, ...row, ...ignition, ...altitude, ...cells];
    },
    judge(ctx) {
      const rows = banks(ctx);
      const cylinders = rows.flat().map((name) => ({ name, dry: ctx.read(`dry ${name}`, "kPa"), wet: ctx.read(`wet ${name}`, "kPa") })).filter((each) => each.dry);
      const ignition = ctx.says("identity.ignition") || ctx.text("ignition");
      const read = [...(rows.length ? [] : [told("how many cylinders?", "Say how many cylinders there are.")]), ...(ignition ? [] : [told("which ignition?", "Say how it ignites: it decides whether oil may be used.")])];
      if (!cylinders.length || read.length) return Object.keys(ctx.readings).length ? read.map((each) => answer("", each)) : [];
      // A single "normal" value is what to expect, not a limit.
      const bounds = ({ limit }) => limit && !(limit.low && limit.high && limit.low.value === limit.high.value);
      const own = RULES.map(([kind, place, label]) => ({ kind, limit: ctx.limit(place, label) })).filter(bounds);
      const high = altitudeRule(ctx); // it takes the place of the least pressure near the sea
      const found = C.compression.judgeCompression(rows, ignition, cylinders, [...own.filter(({ kind }) => !high.length || kind !== "minimum"), ...high, PRACTICE]);
      const answers = [answer("Compression", found.result), ...found.rules.map((each) => answer(each.kind, each.result)),
        ...found.practice.map((each) => answer(`Practice, ${each.kind}`, each.result)),
        ...found.patterns.map((each) => answer("Where to look", { ...each, verdict: each.kind }))];
      return Object.assign(answers, { patterns: found.patterns });
    },
  };

  SHEETS["compression after"] = { ...SHEETS.compression, title: "compression after the job" };
  SHEETS.bolts = bolts();
  SHEETS.liners = measuredRows("liner stand-out", [["stand out", "Liner stand-out", "faces.liners.stand_out", "faces.liners.spread"]], true);
  SHEETS.recession = measuredRows("valve recession", ["intake", "exhaust", "both"].map((valve) =>
    [valve, `Valve recession, ${valve === "both" ? "intake and exhaust" : valve}`, `valves.recession.${valve}.limit`]), true);
  SHEETS.height = measuredRows("head height", [["height", "Head height", "faces.head.height.minimum"]]);

  const CUT = [
    ["cut", "To come off this face now"], ["before", "Came off this face before"], ["other", "Came off the other part, head or block"],
    ["height", "Head height now"], ["recession", "Valve recession now, the smallest"], ["gain", "New gasket thicker by"],
  ];
  const AREAS = [["chamber", "Chamber area at the face, 0 for a flat face"], ["gasket", "Area of the gasket bore"], ["cylinder", "Area of the cylinder bore"]];

  // Where intake and exhaust have each their own, the one smallest reading is held against the higher.
  const least = ({ low }) => (low ? Q.mm(low) : -1);
  const strictest = (limits) => limits.filter(Boolean).sort((a, b) => least(b) - least(a))[0] || null;

  SHEETS.cut = {
    title: "what a cut changes",
    form: () => [{ name: "face", label: "Face", options: [["head", "head"], ["deck", "deck"]] }, ...CUT.map(([name, label]) => one(name, label)),
      ...AREAS.map(([name, label]) => one(name, label, "in cm2 unless a unit is written; for the ratio")), one("clearance volume", "Clearance volume of one cylinder", "in cm3 unless a unit is written; for the ratio")],
    judge(ctx) {
      const face = ctx.text("face") || "head";
      const [cut, before, other, height, recession] = CUT.slice(0, 5).map(([name]) => ctx.read(name, "mm"));
      if (!cut) return [];
      const at = (place, label, low, high) => ctx.limit(place, label, low, high);
      const removal = C.cut.stockRemoval({
        cut, before, other_face: other, height: face === "head" ? height : null, recession, face,
        per_cut: at(`faces.${face}.stock_removal.per_cut`, "stock removal a cut"), total: at(`faces.${face}.stock_removal.total`, "stock removal in all", false),
        together: at("faces.head.stock_removal.head_and_block", "off head and block together", false),
        height_limit: face === "head" ? at("faces.head.height.minimum", "head height", true, false) : null,
        recession_limit: strictest(["both", "intake", "exhaust"].map((valve) => at(`valves.recession.${valve}.limit`, "valve recession", true, false))),
      });
      return [answer("This cut", removal.overall), ...removal.checks.map((each) => answer("", each)), ...ratio(ctx, face, cut), ...retard(ctx, face, cut)];
    },
  };

  const NOTHING = { value: 0, unit: "mm" };

  function ratio(ctx, face, cut) {
    const [chamber, gasket, cylinder] = AREAS.map(([name]) => ctx.read(name, "cm2"));
    const clearance = ctx.read("clearance volume", "cm3"), gain = ctx.read("gain", "mm") || NOTHING;
    const bore = ctx.value("identity.bore"), stroke = ctx.value("identity.stroke");
    if (!chamber || !gasket || !cylinder || !clearance || !bore || !stroke) {
      return [answer("Compression ratio", told("not computed", "Bore and stroke of the record, the clearance volume and the three areas are all needed; none is assumed."))];
    }
    const [head, deck] = face === "head" ? [cut, NOTHING] : [NOTHING, cut];
    const areas = { chamber, gasket, cylinder };
    const found = C.cut.ratioAfter(C.cut.sweptVolume(bore, stroke), clearance, areas, head, deck, gain);
    return [answer("Compression ratio", told("computed", found.reason)), answer("A thicker gasket", told("computed", C.cut.restoringGaskets(areas, head, deck, drive(ctx)).reason))];
  }

  // The drive as the calculation names it; null where the record does not say.
  function drive(ctx) {
    const train = ctx.says("identity.valve_train"), by = ctx.says("identity.cam_drive");
    if (train === "push rod") return "push rods";
    if (ctx.says("identity.intermediate_sprocket") === "present") return "intermediate sprocket";
    return train.includes("overhead") && by ? by : null;
  }

  function retard(ctx, face, cut) {
    const pitch = ctx.value("timing.sprockets.pitch"), strand = ctx.value("timing.sprockets.strand_angle");
    const teeth = Number(ctx.says("timing.sprockets.cam_teeth"));
    const by = drive(ctx);
    if ((by === "chain" || by === "belt") && !(pitch && strand && teeth)) {
      return [answer("Valve timing", told("not computed", "Teeth of the camshaft sprocket, pitch and angle of the strand are not in this record.", "Check the timing by the maker's method."))];
    }
    const [head, deck] = face === "head" ? [cut, NOTHING] : [NOTHING, cut];
    const radius = by === "chain" || by === "belt" ? C.cut.sprocketRadius(teeth, pitch, by) : null;
    const found = C.cut.camRetard(by, head, deck, ctx.read("gain", "mm") || NOTHING, strand, radius);
    return [answer("Valve timing", found)];
  }

  SHEETS.wrench = {
    title: "torque wrench",
    form: () => [one("torque", "Torque that the bolt must get", "in N.m unless a unit is written"), one("length", "Wrench, from the square drive to the middle of the grip"),
        one("sideways", "Adapter, from the square drive to the bolt; 0 for a bar in line with the bolt, which changes nothing"), one("angle", "Angle of the adapter", "in degrees: 0 straight on, 90 across"),
        one("full scale", "Full scale of the wrench", "in N.m unless a unit is written")],
    judge(ctx) {
      const torque = ctx.read("torque", "N.m"), length = ctx.read("length", "mm"), sideways = ctx.read("sideways", "mm"), angle = ctx.read("angle", "deg"), full = ctx.read("full scale", "N.m");
      if (!torque) return [];
      const set = length ? C.wrench.adapterSetting(torque, length, sideways, angle) : null;
      const setting = set ? set.number : torque;
      return [answer("", set), full ? answer("", C.wrench.wrenchRange(setting, { full_scale: full })) : null].filter(Boolean);
    },
  };

  SHEETS.cost = {
    title: "cost against risk",
    form: () => [one("extra", "Price of the extra measure", "your own prices, one currency"), one("comeback", "What the comeback would cost", "head off again, parts, goodwill")],
    judge(ctx) {
      const [extra, comeback] = ["extra", "comeback"].map((name) => (ctx.text(name) ? ctx.attempt(name, () => C.entry.readAmount(ctx.text(name), name)) : null));
      return extra === null || comeback === null ? [] : [answer("", C.cost.breakEven(extra, comeback))];
    },
  };

  Object.assign(Firedeck.worksheets, { answer, many });
})((window.Firedeck = window.Firedeck || {}));
