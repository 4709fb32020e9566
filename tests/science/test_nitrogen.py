"""Bases of nitrogen against printed factors."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.science import nitrogen as ni

FACTORS = "printed factors of nitrate-N and nitrate"
bases = st.sampled_from(sorted(ni.MOLAR_G))


@pytest.mark.parametrize(
    ("value", "start", "end", "expected", "tolerance", "source"),
    [
        (1, "N", "NO3", 4.4268, 0.001, FACTORS),
        (1, "NO3", "N", 0.2259, 0.0001, FACTORS),
        (1, "N", "NH3", 1.2159, 0.0005, "IUPAC weights"),
        (1, "N", "NH4", 1.2878, 0.0005, "IUPAC weights"),
        (1, "N", "NO2", 3.2845, 0.0005, "constructed, IUPAC weights"),
        (50, "NO3", "N", 11.3, 0.05, "WHO nitrate guideline, from memory"),
        (10, "N", "NO3", 44.3, 0.1, "US limit 10 mg/L nitrate-N, from memory"),
    ],
)
def test_bases_convert_by_the_printed_factors(
    value: float, start: str, end: str, expected: float, tolerance: float, source: str
) -> None:
    assert ni.convert(value, start, end) == pytest.approx(expected, abs=tolerance), source


@given(value=st.floats(0, 1e4), start=bases, middle=bases, end=bases)
def test_the_way_between_two_bases_does_not_matter(
    value: float, start: str, middle: str, end: str
) -> None:
    round_about = ni.convert(ni.convert(value, start, middle), middle, end)
    assert round_about == pytest.approx(ni.convert(value, start, end))
    assert ni.convert(value, start, start) == value


def test_an_unknown_basis_is_refused_with_the_list() -> None:
    with pytest.raises(ValueError, match="use N, NH3, NH4, NO2, NO3"):
        ni.convert(1, "NO", "N")
    with pytest.raises(ValueError, match="negative"):
        ni.convert(-1, "N", "NO3")
