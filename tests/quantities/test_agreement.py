"""Whether printed units agree, and where they part."""

import pytest

from generator.quantities import AGREE, DISAGREE, ROUNDING, agreement, parse


def verdict_of(*texts):
    return agreement([parse(text) for text in texts])


def test_the_end_that_disagrees_is_named():
    found = verdict_of("8.0 to 9.5 kgf.m", "59 to 69 lbf.ft")
    assert found.verdict == DISAGREE
    assert found.says == "low end: 8.0 kgf.m is 57.8641 lbf.ft, printed 59 lbf.ft"


@pytest.mark.parametrize(("texts", "verdict"), [
    (("120 N.m", "90 lbf.ft"), ROUNDING),
    (("90 N.m", "66 lbf.ft"), AGREE),
    (("3.39 in", "100 mm"), DISAGREE),  # 100 may be rounded to tens, not to hundreds
    (("3.8 in", "100 mm"), ROUNDING),
    (("15 N.m", "20 lbf.ft"), DISAGREE),
    (("54 N.m", "50 N.m"), ROUNDING),
    (("8.5 L", "9 qt(US)", "7 qt(imp)"), AGREE),
    (("8.5 L", "9 qt(US)", "9 qt(imp)"), DISAGREE),
    (("54 +-7 N.m", "40 +-5 lbf.ft"), AGREE),
    (("54 +-7 N.m", "40 +-9 lbf.ft"), DISAGREE),
    (("20 +-5 degC", "68 +-9 degF"), AGREE),
    (("max 0.10 mm", "min 0.0039 in"), DISAGREE),
    (("0.10 mm", "14 psi"), DISAGREE),
    (('unreadable "005 in."', "0.15 mm"), AGREE),
    (("35 N.m",), AGREE),
])
def test_verdicts(texts, verdict):
    assert verdict_of(*texts).verdict == verdict


@pytest.mark.parametrize(("texts", "says"), [
    (("120 N.m", "90 lbf.ft"), "120 N.m is 88.5075 lbf.ft, printed 90 lbf.ft"),
    (("1000 MPa", "1 psi"), "1000 MPa is 145038 psi, printed 1 psi"),
    (("0 mm", "1.0 in"), "0 mm is 0 in, printed 1.0 in"),
    (("0.001 mm", "0.1 in"), "0.001 mm is 0.0000393701 in, printed 0.1 in"),
    (("100 kg", "1 lb"), "100 kg is 220.462 lb, printed 1 lb"),
    (("2540 mm", "1 in"), "2540 mm is 100 in, printed 1 in"),
])
def test_what_the_first_is_in_the_unit_of_the_second(texts, says):
    assert verdict_of(*texts).says == says
