"""Printed statements: one canonical form, the usual variants, kind refusals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities import UNITS, StatementError, parse

CANONICAL = [
    "0.05 mm", "max 0.10 mm", "under 0.1 mm", "min 0.45 mm", "over 0.15 mm", "39.2 to 44.1 N.m", "54 +-7 N.m", "7 +4 -2 lbf.ft",
    "2 7/8 in", "1/32 to 3/64 in", "-0.004 to 0.019 in", 'unreadable "005 in."', "-430 mmHg", "min 5 min", "17 ratio", "0.050 mm",
]


@pytest.mark.parametrize("text", [*CANONICAL, "1000000000000 mm", "0.000000000001 mm", "0 mm", "-0.0 degC"])
def test_printing_what_was_parsed_gives_the_canonical_text(text):
    assert str(parse(text)) == text


@pytest.mark.parametrize(("variant", "canonical"), [
    ("35Nm", "35 N.m"), ("35 N·m", "35 N.m"), ("39.2-44.1 Nm", "39.2 to 44.1 N.m"), ("3 – 4 mm", "3 to 4 mm"),
    ("54±7 ft-lb", "54 +-7 lbf.ft"), ("54 +/- 7 N.m", "54 +-7 N.m"), ("54 +7 -7 N.m", "54 +-7 N.m"), ("0.10 mm max.", "max 0.10 mm"),
    ("<0.1mm", "under 0.1 mm"), ("less than 0.1 mm", "under 0.1 mm"), ("not over 2.0 mm", "max 2.0 mm"), ("17:1", "17 ratio"),
    (".002 in", "0.002 in"), ("2-7/8 in", "2 7/8 in"), ("−430 mmHg", "-430 mmHg"), ("85 F", "85 degF"), ("11.0 kg/cm²", "11.0 kgf/cm2"),
    ("5\u2009mm", "5 mm"), ("59 to 69 ft-lb", "59 to 69 lbf.ft"), ("59 lb.ft", "59 lbf.ft"), ("8.0 kg-m", "8.0 kgf.m"),
    ("45°", "45 deg"), ("9 US qt", "9 qt(US)"),
    ("0.2 millimetre", "0.2 mm"), ("1 meter", "1 m"), ("35 ft-lbs", "35 lbf.ft"), ("35 ft. lbs.", "35 lbf.ft"), ("9 in. lbs", "9 lbf.in"),
])
def test_variants_become_canonical(variant, canonical):
    assert str(parse(variant)) == canonical


@pytest.mark.parametrize(("text", "message", "hint"), [
    ("1,524 m", "comma", "'1524 m'"),
    ("0,05 mm", "comma", "'0.05 mm'"),
    ("1,250 to 1,300 kPa", "comma", "'1250 to 1300 kPa' if it parts thousands, '1.250 to 1.300 kPa'"),
    ("39,2 to 44,1 N.m", "comma", "write '39.2 to 44.1 N.m': the decimal point is a full stop"),
    ("35", "no unit", "write the unit"),
    ("8.0 to 9.5 kgf.m, 59 to 69 lbf.ft", "two statements", "own item"),
    ("35 N.m / 26 lbf.ft", "two statements", "own item"),
    ("35 N.m or 26 lbf.ft", "two statements", "own item"),
    ("35 Nm dry", "more than number and unit: 'dry'", "write '35 Nm' here, and the rest under 'when' or 'label'"),
    ("35 foot lbs", "unit 'foot lbs' is not known", "did you mean lbf.ft?"),
    ("0.05 mm or less", "more than number and unit", "write max 0.05 mm"),
    ("35 N.m (26 lbf.ft)", "two statements", "own item"),
    ("44 to 39 N.m", "from high to low", "lower bound first"),
    ("9 qt", "'qt' is not known", "qt(US) or qt(imp)"),
    ("0.3 mil", "'mil' is not known", "thousandth of an inch, or an angle"),
    ("35 N.mm", "is not known", "did you mean"),
    ("tight", "not a printed statement", "for example"),
    ("1/0 in", "0 below the line", "for example"),
    ("le\u017fs than 0.1 mm", "not a printed statement", "for example"),
    ("\u0663 mm", "not a printed statement", "for example"),
    ("", "not a printed statement", "for example"),
    ("9" * 300 + " mm", "characters", "at most 200"),
    ("9" * 190 + " mm", "a number above 1000000000000", "look at the digits"),
    ("1000000000001 mm", "a number above 1000000000000", "look at the digits"),
    ("1 to 1000000000001 mm", "a number above 1000000000000", "look at the digits"),
    ("1 +-0.0000000000009 mm", "below 0.000000000001", "look at the digits"),
    ("-1/1000000000001 in", "below 0.000000000001", "look at the digits"),
])
def test_what_is_no_statement_is_refused_with_the_mend(text, message, hint):
    with pytest.raises(StatementError) as caught:
        parse(text)
    assert message in str(caught.value)
    assert hint in caught.value.hint


@pytest.mark.parametrize(("text", "unit"), [("35", ""), ("35 newtons", "newtons"), ("tight", None), ("35 N.m (26 lbf.ft)", None)])
def test_a_refusal_names_what_stands_for_the_unit(text, unit):
    with pytest.raises(StatementError) as caught:
        parse(text)
    assert caught.value.unit == unit


def test_digits_are_kept_as_printed():
    assert parse("0.050 mm").numbers[0].text == "0.050"
    assert parse("0.050 mm").numbers[0].step == parse("0.001 mm").numbers[0].value


def test_bounds_of_each_form():
    assert (parse("54 +-7 N.m").low, parse("54 +-7 N.m").high) == (47, 61)
    assert (parse("7 +4 -2 lbf.ft").low, parse("7 +4 -2 lbf.ft").high) == (5, 11)
    assert (parse("max 2 mm").low, parse("max 2 mm").high) == (None, 2)
    assert (parse("over 2 mm").low, parse("over 2 mm").high) == (2, None)


digits = st.from_regex(r"(0|[1-9][0-9]{0,4})(\.[0-9]{1,4})?|[1-9][0-9]? [1-7]/8|[1-7]/8", fullmatch=True)
signed = st.builds(lambda sign, text: sign + text, st.sampled_from(["", "-"]), digits)
statements = st.one_of(
    st.builds("{} {}".format, signed, st.sampled_from(sorted(UNITS))),
    st.builds("{} {} {}".format, st.sampled_from(["max", "min", "under", "over"]), signed, st.sampled_from(sorted(UNITS))),
    st.builds("{} +-{} {}".format, signed, digits, st.sampled_from(sorted(UNITS))),
)


@given(statements)
def test_canonical_text_is_stable(text):
    once = str(parse(text))
    assert str(parse(once)) == once


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text):
    try:
        statement = parse(text)
    except StatementError as error:
        assert str(error) and error.hint
    else:
        assert str(parse(str(statement))) == str(statement)
