"""What readings mean, at the published limits and on both sides of them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.daily.readings import (
    READINGS,
    ammonia_emergency,
    judge,
    judge_ammonia,
    judge_nitrite,
)

CP = "common practice, no source"


@pytest.mark.parametrize(
    ("reading", "value", "verdict", "source"),
    [
        ("oxygen", 5.0, "ok", "UF/IFAS FA27: 5 mg/L recommended"),
        ("oxygen", 4.0, "watch", "UF/IFAS FA27"),
        ("oxygen", 3.9, "act", "UF/IFAS FA27: emergency aeration below 4 mg/L"),
        ("ammonia_un_ionised", 0.019, "ok", CP),
        ("ammonia_un_ionised", 0.02, "watch", CP),
        ("ammonia_un_ionised", 0.05, "act", "UF/IFAS FA16: 0.05 mg/L may harm"),
        ("alkalinity", 60, "watch", "SRAC 464: 75 to 200 desirable"),
        ("alkalinity", 76, "ok", "SRAC 464"),
        ("alkalinity", 19, "act", "SRAC 464: 20 is a floor"),
        ("alkalinity_falling", 60, "watch", CP),
        ("alkalinity_falling", 49, "act", CP),
        ("ph", 9.2, "act", "SRAC 464: 6.5 to 9.0"),
        ("ph", 9.0, "watch", "SRAC 464"),
        ("ph", 8.5, "ok", CP),
        ("ph", 7.0, "ok", CP),
        ("ph", 6.9, "watch", CP),
        ("ph", 6.4, "act", "SRAC 464"),
        ("ph_change", 0.2, "ok", "SRAC 464"),
        ("ph_change", 0.3, "watch", "SRAC 464"),
        ("ph_change", 0.5, "act", "FAO"),
        ("nitrite", 0.09, "ok", CP),
        ("nitrite", 0.1, "watch", CP),
        ("nitrite", 1.0, "act", CP),
        ("nitrate", 49, "ok", CP),
        ("nitrate", 100, "watch", CP),
        ("nitrate", 101, "act", CP),
        ("chlorine_total", 0, "ok", "no colour on a TOTAL test"),
        ("chlorine_total", 0.02, "act", "any colour"),
        ("temp", 27, "ok", CP),
        ("temp", 3, "ok", CP + ": winter"),
        ("temp", 30, "watch", CP),
        ("temp", 30.1, "act", CP),
        ("temp_change", 2.9, "ok", CP),
        ("temp_change", 3, "act", CP),
    ],
)
def test_a_reading_means_what_the_limit_says(
    reading: str, value: float, verdict: str, source: str
) -> None:
    assert judge(reading, value) == verdict, source


@given(reading=st.sampled_from(sorted(READINGS)), value=st.floats(-10, 1000))
def test_every_number_has_one_of_three_meanings(reading: str, value: float) -> None:
    assert judge(reading, value) in ("ok", "watch", "act")


@pytest.mark.parametrize("reading", sorted(READINGS))
def test_the_steps_of_a_reading_rise(reading: str) -> None:
    limits = [step.limit for step in READINGS[reading].steps]
    assert limits == sorted(set(limits))
    assert READINGS[reading].source


def test_the_same_total_ammonia_may_be_harmless_or_harmful() -> None:
    # UF/IFAS FA16 with Emerson (1975): 0.0039 un-ionised at pH 7, 20 degC; 0.0502 at pH 8, 24 degC
    assert judge_ammonia(1.0, 7.0, 20) == "ok"
    assert judge_ammonia(1.0, 8.0, 24) == "act"
    assert not ammonia_emergency(1.0, 8.0, 24)
    assert ammonia_emergency(1.0, 9.0, 24)


def test_nitrite_without_chloride_to_shield_the_fish_is_act() -> None:
    # SRAC 462: chloride at least ten times the nitrite
    assert judge_nitrite(0.5) == "watch"
    assert judge_nitrite(0.5, 5.0) == "watch"
    assert judge_nitrite(0.5, 4.9) == "act"
    assert judge_nitrite(0.05, 0.0) == "ok"
    assert judge_nitrite(1.0, 100.0) == "act"


def test_no_number_is_no_reading() -> None:
    with pytest.raises(ValueError, match="ph has no value"):
        judge("ph", float("nan"))
