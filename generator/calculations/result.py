"""What every calculation takes and gives back: limits in, a result or one typed error out."""

from __future__ import annotations

from dataclasses import dataclass

from generator.quantities import Quantity

# Codes of InputError, with what each means; the browser's twin uses the same.
CODES = {
    "missing": "an input that the calculation cannot do without is not there",
    "not-a-number": "the text is no number, or the number is not finite",
    "ambiguous": "a comma that may part thousands or decimals",
    "negative": "below zero where nothing below zero can be measured",
    "zero": "zero where a size is needed",
    "wrong-unit": "a bare number, or a unit that measures something else",
    "out-of-order": "two values that contradict each other's order",
    "too-many": "more values than there are places for them",
    "too-few": "fewer values than the rule needs",
    "out-of-range": "a value outside what the rule covers",
    "refused": "a test or rule that does not apply to this engine",
    "unknown": "a name that stands for nothing here",
}


# No size of the job comes near these; between them no product or quotient of two inputs leaves the finite numbers.
SMALLEST, LARGEST = 1e-60, 1e60


class InputError(ValueError):
    """One input that cannot be used. code: a key of CODES. field: which input. expected: what would be right."""

    def __init__(self, code: str, field: str, expected: str) -> None:
        super().__init__(f"{field}: {expected}")
        self.code = code
        self.field = field
        self.expected = expected


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit or tolerance band as the caller found it.

    label: what it limits, in words. low, high: the bounds, either may be None; both
    None is a limit without number ("any deformation: replace"). strict: the bound
    itself is not allowed ("under", "over"). basis: opaque text, returned in the
    result. own: False for a rule of practice, which is not this engine's limit and
    never yields "within".
    """

    label: str
    low: Quantity | None = None
    high: Quantity | None = None
    strict: bool = False
    basis: str = ""
    own: bool = True


@dataclass(frozen=True, slots=True)
class Result:
    """verdict: one of the calculation's fixed words. reason: one sentence, with the numbers.

    next_step: what to do now. number: the deciding value where there is one.
    basis: of the limit or rule that decided.
    """

    verdict: str
    reason: str
    next_step: str
    number: Quantity | None = None
    basis: str = ""


def measured(value: object, unit: str, field: str, *, zero: bool = True, negative: bool = False) -> float:
    """The value of a quantity in `unit`; raise InputError for anything that cannot be used.

    zero, negative: whether such values are allowed.
    """
    if value is None:
        raise InputError("missing", field, f"give a value in {unit}")
    if not isinstance(value, Quantity):
        raise InputError("wrong-unit", field, f"a bare number has no meaning; give it with its unit, for example {unit}")
    try:
        number = value.to(unit)
    except ValueError:
        raise InputError("wrong-unit", field, f"{value.unit} measures {value.dimension}; give a value in {unit}") from None
    too_small = not zero and 0 < abs(number) < SMALLEST  # where zero is refused the number may stand below a line
    if abs(number) > LARGEST or too_small:
        raise InputError("out-of-range", field, "that is no size that can be measured")
    if number < 0 and not negative:
        raise InputError("negative", field, "it cannot be below zero")
    if number == 0 and not zero:
        raise InputError("zero", field, "it must be more than zero")
    return number


def check_bounds(limit: Limit, unit: str) -> None:
    """Raise InputError for a bound that cannot be used, as `measured` does: a bare number, a size that nobody measures.

    unit: what to ask for where a bound has none of its own. A bound may be of any dimension and below zero.
    """
    for bound in (limit.low, limit.high):
        if bound is not None:
            measured(bound, bound.unit if isinstance(bound, Quantity) else unit, limit.label, negative=True)
