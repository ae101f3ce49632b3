"""Whether an extra measure pays: the chance of a comeback above which it costs less than leaving it out."""

from __future__ import annotations

from math import isfinite

from generator.calculations.result import InputError, Result
from generator.calculations.wording import compare, number_text, say
from generator.quantities import Quantity

PAYS_ABOVE, NEVER_BY_PRICE = "pays above this chance", "never pays by price alone"
NEXT = {
    PAYS_ABOVE: "Judge from what you found on this engine whether the chance is higher than that.",
    NEVER_BY_PRICE: "Decide by safety and by what the owner wants, not by price.",
}
_MONEY_DECIMALS = 2
_LARGEST = 1e12  # a sum of money beyond it is a slip of the keyboard


def break_even(extra: float, comeback: float, basis: str = "") -> Result:
    """The chance of a comeback at which an extra measure costs as much as it saves.

    Formula: chance = extra / comeback, from extra = chance x comeback (expected cost; the measure is taken to
    prevent the comeback whole, so the real chance needed is this or higher). extra: price of the measure.
    comeback: what the comeback it prevents would cost. Both the reader's own, in one currency: plain positive
    numbers, money being the one input without a unit. number: the chance in percent; no chance is assumed.
    Verdicts: pays above this chance; never pays by price alone (the measure costs as much as the comeback or more).
    Raise InputError: missing, not-a-number (NaN, infinity, anything but a number), negative, zero, out-of-range.
    """
    price, loss = _amount(extra, "extra measure"), _amount(comeback, "comeback")
    chance = Quantity(price / loss * 100, "%")
    prices = f"{_money(price)} against a comeback of {_money(loss)}"
    if compare(price, loss) >= 0:
        return Result(NEVER_BY_PRICE, f"{prices}: the measure costs no less than what it prevents.", NEXT[NEVER_BY_PRICE], chance, basis)
    reason = f"{prices}: it pays if more than {say(chance.value, '%')} of such jobs would come back, 1 in {number_text(loss / price, 1)}."
    return Result(PAYS_ABOVE, reason, NEXT[PAYS_ABOVE], chance, basis)


def _amount(value: object, field: str) -> float:
    if value is None:
        raise InputError("missing", field, "give the price")
    if isinstance(value, bool) or not isinstance(value, int | float) or (isinstance(value, float) and not isfinite(value)):
        raise InputError("not-a-number", field, "give the price as a plain number")
    if value < 0:
        raise InputError("negative", field, "a price cannot be below zero")
    if value == 0:
        raise InputError("zero", field, "it must be more than zero")
    if not 1 / _LARGEST <= value <= _LARGEST:
        raise InputError("out-of-range", field, "that is no price")
    return float(value)


def _money(value: float) -> str:
    return number_text(value, _MONEY_DECIMALS)
