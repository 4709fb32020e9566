"""What a hurried number off a kit is kept as. Cases are constructed."""

from __future__ import annotations

import pytest

from pondtui.errors import InputError
from pondtui.pond.daily.kit import degrees, off_the_kit
from tests.pond.box import POND, setup_of

KIT = POND + '[kit]\nammonia = "0.25 mg/L as NH4"\nalkalinity = "1 dH"\nnitrite = "0.1 ppm as N"\n'


@pytest.mark.parametrize(
    ("field", "typed", "kept"),
    [
        ("ammonia", "0", "<0.25 mg/L as NH4"),
        ("ammonia", "0.0 mg/L", "<0.25 mg/L as NH4"),
        ("ammonia", "0.5", "0.5 mg/L as NH4"),
        ("ammonia", "<0.5", "<0.5 mg/L as NH4"),
        ("ammonia", "0.5 mg/L", "0.5 mg/L as NH4"),
        ("ammonia", "0.5 mg/L as N", "0.5 mg/L as N"),
        ("nitrite", "0.2", "0.2 ppm as N"),
        ("alkalinity", "4", "4 dH"),
        ("alkalinity", "70 mg/L CaCO3", "70 mg/L CaCO3"),
        ("chlorine_total", "0", "<0.02 mg/L"),
        ("chlorine_total", "0.5", "0.5 mg/L"),
        ("ph", "7.5", "7.5"),
        ("temp", "0", "0"),
        ("ammonia", "much", "much"),
    ],
)
def test_a_number_is_kept_in_the_kits_own_unit_and_a_nought_as_below_its_first_step(
    field: str, typed: str, kept: str
) -> None:
    assert off_the_kit(setup_of(KIT), field, typed) == kept


def test_a_nought_of_a_kit_that_nobody_described_is_refused_with_both_ways_out() -> None:
    with pytest.raises(InputError, match=r"write <5 mg/L as NO3, or once for all \[kit\] nitrate"):
        off_the_kit(setup_of(KIT), "nitrate", "0")


def test_alkalinity_is_told_in_the_degrees_of_the_kit() -> None:
    # one German degree is 17.85 mg/L CaCO3: 10 mg/L CaO, IUPAC atomic weights
    assert degrees(setup_of(KIT), 71.4) == "4.0 dH (71.4 mg/L CaCO3)"
    us = setup_of(POND.replace('currency = "EUR"', 'units = "us"'))
    assert degrees(us, 17.118).startswith("1.0 gpg")  # one grain in a US gallon is 17.118 mg/L
