// The torque wrench: sideways adapter and range. Twin of generator/calculations/wrench.py.
(function (C, Q) {
  "use strict";
  const { refuse, measured, sized, teller, unitOf } = C.result;
  const { compare, say, sayQuantity } = C.wording;
  const IN_LINE = "A bar in line with the bolt changes nothing: leave 0.";
  const [AS_IS, CORRECTED] = ["set as it stands", "set corrected"];
  const [BELOW, ABOVE, USABLE, BEST] = ["below its range", "above its range", "in its range", "best part of its range"];
  const told = teller("wrench");

  function adapterSetting(torque, length, sideways, angle = null, basis = "") {
    const unit = unitOf(torque, "N.m");
    const wanted = sized(torque, unit, "torque");
    const [arm, effective] = arms(length, sideways, angle);
    if (compare(arm, effective) === 0) {
      const reason = !sideways || !sideways.value ? `${IN_LINE} Set` : "An adapter at a right angle changes nothing: set";
      return told(AS_IS, `${reason} ${say(wanted, unit)}.`, Q.quantity(wanted, unit), basis);
    }
    const setting = Q.quantity((wanted * arm) / effective, unit);
    const lengths = `${sayQuantity(Q.fromMm(effective, length.unit))} instead of ${sayQuantity(length)}`;
    const reason = `The adapter makes the wrench ${effective > arm ? "longer" : "shorter"}, ${lengths}: set ${sayQuantity(setting)} for ${say(wanted, unit)} at the bolt.`;
    return told(CORRECTED, reason, setting, basis);
  }

  function torqueDelivered(setting, length, sideways, angle = null) {
    const unit = unitOf(setting, "N.m");
    const value = sized(setting, unit, "setting");
    const [arm, effective] = arms(length, sideways, angle);
    return Q.quantity((value * effective) / arm, unit);
  }

  // wrench: {full_scale, lowest, from_percent, best_from, best_to, basis}
  function wrenchRange(setting, wrench) {
    const { full_scale: scale, lowest, from_percent: from = 20, best_from: bestFrom = 30, best_to: bestTo = 80, basis } = wrench;
    const unit = unitOf(scale, "N.m");
    const full = sized(scale, unit, "full scale");
    const value = sized(setting, unit, "setting");
    const share = (value / full) * 100;
    const best = compare(share, bestFrom) >= 0 && compare(share, bestTo) <= 0;
    let verdict = compare(share, 100) > 0 ? ABOVE : compare(share, from) < 0 ? BELOW : best ? BEST : USABLE;
    if (lowest && compare(value, measured(lowest, unit, "lowest mark")) < 0) verdict = BELOW;
    const bounds = {
      [BELOW]: `, which begins at ${lowest && compare(Q.to(lowest, unit), (full * from) / 100) > 0 ? sayQuantity(lowest) : say(from, "%")}`,
      [BEST]: `, ${say(bestFrom, "%")} to ${say(bestTo, "%")}`,
    };
    const reason = `${sayQuantity(setting)} is ${say(share, "%")} of the full scale of ${say(full, unit)}: ${verdict}${bounds[verdict] || ""}.`;
    return told(verdict, reason, Q.quantity(share, "%"), basis);
  }

  // Length of the wrench and what the adapter makes of it, in mm.
  function arms(length, sideways, angle) {
    const arm = sized(length, "mm", "length");
    const reach = sideways == null ? 0 : measured(sideways, "mm", "adapter");
    const degrees = angle == null ? 0 : measured(angle, "deg", "angle");
    if (degrees > 180) refuse("out-of-range", "angle", "give 0 to 180 degrees: 0 straight on, 90 across, 180 back over the handle");
    const effective = arm + reach * (degrees === 90 ? 0 : Math.cos((degrees * Math.PI) / 180));
    if (compare(effective, 0) <= 0) refuse("out-of-range", "adapter", "an adapter turned back must be shorter than the wrench");
    return [arm, effective];
  }

  C.wrench = { IN_LINE, adapterSetting, torqueDelivered, wrenchRange };
})(window.Firedeck.calculations, window.Firedeck.quantities);
