"""Amounts to weigh out, against extension tables."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.science import salts

US_GAL_L = 3.785411784
IMP_GAL_L = 4.54609
FT3_L = 28.316846592
ACRE_FT_L = 43560 * FT3_L
LB_G = 453.59237
GRAIN_G = 0.06479891
TABLE = "SRAC 410 (Masser & Jensen 1991) conversion table"


@pytest.mark.parametrize(
    ("volume_l", "gram_per_unit", "printed", "tolerance", "source"),
    [
        (ACRE_FT_L, LB_G, 2.72, 0.005, TABLE + ": lb per acre-foot"),
        (ACRE_FT_L, 1, 1233, 1, TABLE + ": g per acre-foot"),
        (FT3_L, 1, 0.0283, 0.00005, TABLE + ": g per cubic foot"),
        (US_GAL_L, 1, 0.0038, 0.00002, TABLE + ": g per US gallon"),
        (1e6 * US_GAL_L, LB_G, 8.345, 0.002, TABLE + ": lb per million US gallons"),
        (US_GAL_L, GRAIN_G, 0.058419, 0.000005, TABLE + ": grain per US gallon"),
        (IMP_GAL_L, GRAIN_G, 0.07016, 0.00001, TABLE + ": grain per imperial gallon"),
    ],
)
def test_one_part_per_million_weighs_what_the_table_says(
    volume_l: float, gram_per_unit: float, printed: float, tolerance: float, source: str
) -> None:
    mass = salts.dose_g(volume_l, 1) / gram_per_unit
    assert mass == pytest.approx(printed, abs=tolerance), source


def test_an_insurance_level_of_chloride_takes_this_much_salt() -> None:
    # SRAC 462: 100 mg/L chloride; the mass for 1,000 US gal from IUPAC weights
    assert salts.salt_for_chloride_g(100, 1000 * US_GAL_L) == pytest.approx(624, abs=1)


def test_salt_against_nitrite_counts_what_is_there() -> None:
    # constructed on SRAC 462's ratio of ten
    plain = salts.salt_for_nitrite_g(2, 0, 1000)
    assert plain == pytest.approx(20 * 1.6485, abs=0.01)
    assert salts.salt_for_nitrite_g(2, 5, 1000) == pytest.approx(plain * 15 / 20)
    assert salts.salt_for_nitrite_g(2, 20, 1000) == 0
    assert salts.salt_for_nitrite_g(2, 50, 1000) == 0


def test_a_pound_of_salt_in_a_hundred_gallons_is_an_eighth_of_a_percent() -> None:
    # trade and club pages in common: 0.12 % weight by volume
    assert salts.percent_of_salt(LB_G, 100 * US_GAL_L) == pytest.approx(0.12, abs=0.001)


@given(volume=st.floats(0.001, 1e7), target=st.floats(0, 0.1))
def test_percent_and_salt_are_inverse(volume: float, target: float) -> None:
    salt = salts.salt_for_percent_g(volume, target)
    assert salts.percent_of_salt(salt, volume) == pytest.approx(target * 100, abs=1e-9)


def test_bicarbonate_raises_alkalinity_by_its_equivalent() -> None:
    # constructed, IUPAC weights: 84.007 / 50.04 g for 1,000 L and 1 mg/L
    assert salts.bicarbonate_g(1, 1000) == pytest.approx(1.679, abs=0.001)
    assert salts.bicarbonate_g(50, 4000) == pytest.approx(50 * 4 * 1.679, abs=0.3)


@given(volume=st.floats(0, 1e7), target=st.floats(0, 1e4), active=st.floats(0.01, 1))
def test_a_thinner_product_takes_more_and_brings_the_same(
    volume: float, target: float, active: float
) -> None:
    assert salts.dose_g(volume, target, active) * active == pytest.approx(
        salts.dose_g(volume, target)
    )


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="active part"):
        salts.dose_g(1, 1, 0)
    with pytest.raises(ValueError, match="salt strength must be 0 to 10 %"):
        salts.salt_for_percent_g(1, 0.5)
    with pytest.raises(ValueError, match="nitrite"):
        salts.salt_for_nitrite_g(-1, 0, 1)
    with pytest.raises(ValueError, match="volume"):
        salts.percent_of_salt(1, 0)
    with pytest.raises(ValueError, match="alkalinity"):
        salts.bicarbonate_g(-5, 1)
