// The chance of a comeback above which an extra measure pays. Twin of generator/calculations/cost.py.
(function (C, Q) {
  "use strict";
  const { refuse, teller } = C.result;
  const { compare, numberText, say } = C.wording;
  const LARGEST = 1e12;
  const [PAYS_ABOVE, NEVER_BY_PRICE] = ["pays above this chance", "never pays by price alone"];
  const told = teller("cost");

  // extra, comeback: the reader's own prices, plain numbers of one currency.
  function breakEven(extra, comeback, basis = "") {
    const [price, loss] = [amount(extra, "extra measure"), amount(comeback, "comeback")];
    const chance = Q.quantity((price / loss) * 100, "%");
    const prices = `${numberText(price, 2)} against a comeback of ${numberText(loss, 2)}`;
    if (compare(price, loss) >= 0) return told(NEVER_BY_PRICE, `${prices}: the measure costs no less than what it prevents.`, chance, basis);
    const share = `${say(chance.value, "%")} of such jobs would come back, 1 in ${numberText(loss / price, 1)}`;
    return told(PAYS_ABOVE, `${prices}: it pays if more than ${share}.`, chance, basis);
  }

  function amount(value, field) {
    if (value == null) refuse("missing", field, "give the price");
    if (!Number.isFinite(value)) refuse("not-a-number", field, "give the price as a plain number");
    if (value < 0) refuse("negative", field, "a price cannot be below zero");
    if (value === 0) refuse("zero", field, "it must be more than zero");
    if (value < 1 / LARGEST || value > LARGEST) refuse("out-of-range", field, "that is no price");
    return value;
  }

  C.cost = { breakEven };
})(window.Firedeck.calculations, window.Firedeck.quantities);
