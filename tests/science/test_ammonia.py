"""Un-ionised ammonia against printed tables, and EPA's criteria against theirs."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.science import ammonia as am

FA16 = "UF/IFAS FA16, un-ionised fraction table"
A23 = "Clinical Guide to Fish Medicine (Wiley) Table A2.3, computed with T = degC + 273.2"
EPA = "EPA 822-R-13-001 (2013), Federal Register 78:52192"
TABLES = "EPA 822-R-13-001 (2013) Tables 5a and 6, from memory"

phs = st.floats(5, 10)
temps = st.floats(0, 40)
flags = st.booleans()


@pytest.mark.parametrize(
    ("ph", "temp_c", "fraction", "tolerance", "source"),
    [
        (7.0, 20, 0.0039, 0.00011, FA16),
        (7.6, 16, 0.0116, 0.00011, FA16),
        (7.8, 6, 0.0084, 0.00011, FA16),
        (8.0, 24, 0.0502, 0.00011, FA16),
        (8.2, 30, 0.1129, 0.00011, FA16),
        (8.4, 10, 0.0445, 0.00011, FA16),
        (8.6, 28, 0.2178, 0.00011, FA16),
        (8.5, 10, 0.0556, 0.005 * 0.0556, A23),
        (8.5, 18, 0.0978, 0.005 * 0.0978, A23),
        (9.0, 15, 0.215, 0.005 * 0.215, A23),
        (8.0, 0, 0.0082, 0.0082 * 0.005 + 0.00005, A23),
    ],
)
def test_the_fraction_agrees_with_the_printed_tables(
    ph: float, temp_c: float, fraction: float, tolerance: float, source: str
) -> None:
    assert am.un_ionised_fraction(ph, temp_c) == pytest.approx(fraction, abs=tolerance), source


def test_a_harmful_amount_is_turned_back_into_what_a_kit_reads() -> None:
    # constructed from FA16's 0.05 mg/L: pH 8.5 and 25 degC, and pH 7.5 and 15 degC
    assert am.total_for_un_ionised_mg_l(0.05, 8.5, 25) == pytest.approx(0.329, abs=0.002)
    assert am.total_for_un_ionised_mg_l(0.05, 7.5, 15) == pytest.approx(5.8, abs=0.05)


@given(ph=phs, temp_c=temps, amount=st.floats(0.001, 10))
def test_total_and_un_ionised_are_inverse(ph: float, temp_c: float, amount: float) -> None:
    total = am.total_for_un_ionised_mg_l(amount, ph, temp_c)
    assert total * am.un_ionised_fraction(ph, temp_c) == pytest.approx(amount)
    assert total > amount


@given(ph=st.floats(5, 9.9), temp_c=st.floats(0, 39))
def test_the_harmful_share_grows_with_ph_and_with_warmth(ph: float, temp_c: float) -> None:
    here = am.un_ionised_fraction(ph, temp_c)
    assert 0 < here < am.un_ionised_fraction(ph + 0.1, temp_c) < 1
    assert here < am.un_ionised_fraction(ph, temp_c + 1)


@pytest.mark.parametrize(
    ("ph", "temp_c", "acute", "chronic", "source"),
    [(7.0, 20, 17, 1.9, EPA), (8.0, 25, 2.6, 0.56, TABLES)],
)
def test_the_criteria_round_to_the_printed_ones(
    ph: float, temp_c: float, acute: float, chronic: float, source: str
) -> None:
    found = am.limits(ph, temp_c)
    assert float(f"{found.acute_n_mg_l:.2g}") == acute, source
    assert float(f"{found.chronic_n_mg_l:.2g}") == chronic, source


def test_four_days_may_reach_two_and_a_half_times_the_chronic_limit() -> None:
    assert am.limits(7, 20).four_day_n_mg_l == pytest.approx(4.8, abs=0.1), EPA


def test_without_mussels_the_chronic_limit_is_milder() -> None:
    # EPA 822-R-13-001 (2013) Appendix N: 6.5 at pH 7 and 20 degC with early life
    assert am.chronic_n_mg_l(7, 20, mussels=False) == pytest.approx(6.5, abs=0.05)
    # constructed from the Appendix N formula: 7.547 takes the place of 6.920 in the cold
    cold = am.chronic_n_mg_l(7, 7, mussels=False, early_life=False)
    assert cold / am.chronic_n_mg_l(7, 7, mussels=False) == pytest.approx(
        7.547 * 10 ** (0.028 * 13) / 6.920
    )


def test_the_chronic_limit_with_mussels_stops_rising_at_seven_degrees() -> None:
    assert am.chronic_n_mg_l(8, 0) == am.chronic_n_mg_l(8, 7) > am.chronic_n_mg_l(8, 8)


def test_the_acute_limit_has_its_caps() -> None:
    # constructed: in the cold the fish's own limit holds, with salmonids and without them
    with_trout = am.acute_n_mg_l(7, 0)
    assert with_trout == am.acute_n_mg_l(7, 5) == pytest.approx(24.1, abs=0.05)
    without = am.acute_n_mg_l(7, 0, salmonids=False)
    assert without == am.acute_n_mg_l(7, 9, salmonids=False) > with_trout
    assert am.acute_n_mg_l(7, 25, salmonids=False) == am.acute_n_mg_l(7, 25)


@given(ph=st.floats(5, 9.9), temp_c=st.floats(0, 39), mussels=flags, trout=flags, fry=flags)
def test_no_limit_rises_with_ph_or_with_warmth(
    ph: float, temp_c: float, mussels: bool, trout: bool, fry: bool
) -> None:
    def at(ph: float, temp_c: float) -> am.Limits:
        return am.limits(ph, temp_c, mussels=mussels, salmonids=trout, early_life=fry)

    here, higher, warmer = at(ph, temp_c), at(ph + 0.1, temp_c), at(ph, temp_c + 1)
    for mine, other in zip(here, higher, strict=True):
        assert other < mine
    for mine, other in zip(here, warmer, strict=True):
        assert other <= mine * (1 + 1e-12)


@given(ph=phs, temp_c=temps)
def test_each_protected_kind_only_lowers_the_limits(ph: float, temp_c: float) -> None:
    strict = am.limits(ph, temp_c)
    mild = am.limits(ph, temp_c, mussels=False, salmonids=False, early_life=False)
    assert all(a <= b * (1 + 1e-12) for a, b in zip(strict, mild, strict=True))


@pytest.mark.parametrize(("ph", "temp_c"), [(5, 0), (5, 40), (10, 0), (10, 40)])
def test_the_corners_of_the_range_are_taken(ph: float, temp_c: float) -> None:
    assert 0 < am.un_ionised_fraction(ph, temp_c) < 1
    assert all(value > 0 for value in am.limits(ph, temp_c))


@pytest.mark.parametrize(
    ("ph", "temp_c", "word"),
    [(3.9, 20, "pH"), (11.1, 20, "pH"), (7, -0.1, "temperature"), (7, 41, "temperature")],
)
def test_outside_the_range_the_sentence_names_it(ph: float, temp_c: float, word: str) -> None:
    with pytest.raises(ValueError, match=rf"{word} must be .* to "):
        am.un_ionised_fraction(ph, temp_c)
    with pytest.raises(ValueError, match=rf"{word} must be .* to "):
        am.limits(ph, temp_c)
