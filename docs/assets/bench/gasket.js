// The worksheet of an engine that has several gaskets: which one.
(function (Firedeck) {
  "use strict";
  const { SHEETS, answer, many } = Firedeck.worksheets;
  const { byClearance, byMeasurement, byProtrusion } = Firedeck.calculations.gasket;

  const tableOf = (sizes, ctx) => sizes.map((index) => {
    const place = `gasket.choice.sizes.${index}`;
    const limit = ctx.limit(`${place}.reading`, "class");
    return { mark: ctx.says(`${place}.mark`) || `size ${index + 1}`, low: limit && limit.low, high: limit && limit.high, thickness: ctx.value(`${place}.thickness`), basis: limit ? limit.basis : "" };
  });

  SHEETS.gasket = {
    title: "gasket thickness",
    form: (ctx) => [many("readings", ctx.says("gasket.choice.by") === "required clearance" ? "From the top of the barrel down to the crown, at top dead centre" : "Readings, in the order of the cylinders")],
    judge(ctx) {
      const indices = [...new Set(ctx.model.facts.map((fact) => /^gasket\.choice\.sizes\.(\d+)\./.exec(fact.at)).filter(Boolean).map((match) => Number(match[1])))];
      const table = tableOf(indices, ctx), by = ctx.says("gasket.choice.by");
      const readings = ctx.readAll("readings", "mm");
      if (!readings.length) return [];
      if (by === "required clearance") {
        const band = ctx.limit("gasket.choice.clearance", "clearance");
        if (!band) return [];
        return [answer("", byClearance(band.low, band.high, readings[0].value, table, ctx.says("gasket.choice.between") || null).result)];
      }
      if (by !== "piston protrusion") return [answer("", byMeasurement(readings[0].value, table, by).result)];
      const places = readings.map(({ name, value }) => ({ place: name, value, head: headOf(ctx, name) }));
      return byProtrusion(places, table, ctx.says("gasket.choice.decides") || "highest", ctx.says("gasket.choice.per") || "engine")
        .map((each) => answer(each.head ? `Head ${each.head}` : "", each.result));
    },
  };

  const headOf = (ctx, cylinder) => (ctx.model.heads.find((head) => (head.bores || []).some((bore) => bore.name === cylinder)) || { name: "1" }).name;
})((window.Firedeck = window.Firedeck || {}));
