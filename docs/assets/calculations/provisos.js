// Limits that hang on a condition, which no page asks yet. Twin of judge_when and judge_provided in generator/calculations/limits.py.
(function (C) {
  "use strict";
  const { refuse, teller } = C.result;
  const { WITHIN, judge } = C.limits;
  const [SAY_WHICH, CONDITION_FAILS] = ["say which", "condition not met"];
  const told = teller("limits");

  function judgeWhen(reading, cases, when, field = "reading", options) {
    const wanted = when == null && !cases.some((each) => each.when) ? "" : when;
    const found = cases.find((each) => each.when === wanted);
    if (found || !cases.length) return judge(reading, found && found.limit, field, options);
    const choices = cases.map((each) => each.when || "none of these").join("; ");
    if (when != null) refuse("unknown", "when", `say one of: ${choices}`);
    return told(SAY_WHICH, `${cases[0].limit.label}: the limit depends on which of these holds: ${choices}.`, reading);
  }

  function judgeProvided(found, conditions) {
    const broken = conditions.find((each) => each.verdict !== WITHIN);
    if (found.verdict !== WITHIN || !broken) return found;
    const reason = `${found.reason.replace(/[.]$/, "")}, but that counts only while another figure holds, and it is not shown to: ${broken.reason}`;
    return told(CONDITION_FAILS, reason, found.number, broken.basis);
  }

  Object.assign(C.limits, { judgeWhen, judgeProvided });
})(window.Firedeck.calculations);
