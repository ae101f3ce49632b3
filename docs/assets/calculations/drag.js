// Drag while a fastener is run down, which no page asks yet. Twin of with_run_down in generator/calculations/wrench.py.
(function (C, Q) {
  "use strict";
  const { measured, sized, teller, unitOf } = C.result;
  const { say, sayQuantity } = C.wording;
  const { WITHIN, judge } = C.limits;
  const [ADDED, NOT_ADDED] = ["drag added", "drag not added"];
  const told = teller("wrench");

  function withRunDown(torque, drag, prevailing) {
    const unit = unitOf(torque, "N.m");
    const [wanted, extra] = [sized(torque, unit, "torque"), measured(drag, unit, "run-down torque")];
    const alone = (reason, step) => told(NOT_ADDED, reason, Q.quantity(wanted, unit), prevailing ? prevailing.basis : "", step);
    if (!prevailing && !extra) return alone(`No drag: the torque stays ${say(wanted, unit)}.`, "Set the wrench to the torque wanted.");
    if (!prevailing) {
      return alone(`The record states no prevailing torque here, so ${sayQuantity(drag)} of drag is a fault: the torque stays ${say(wanted, unit)}.`);
    }
    const judged = prevailing.low != null || prevailing.high != null ? judge(drag, prevailing, "run-down torque") : null;
    if (judged && judged.verdict !== WITHIN) {
      return alone(`The drag is not what a good fastener of this kind has, so it is not added: ${judged.reason}`);
    }
    const sum = Q.quantity(wanted + extra, unit);
    const reason = `${say(wanted, unit)} and ${say(extra, unit)} of prevailing torque make ${sayQuantity(sum)}.`;
    return told(ADDED, reason, sum, prevailing.basis);
  }

  Object.assign(C.wrench, { withRunDown });
})(window.Firedeck.calculations, window.Firedeck.quantities);
