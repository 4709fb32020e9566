"""Pan coefficients against FAO-56."""

from __future__ import annotations

import pytest

from pondtui.science import pans


def test_the_formulas_give_the_printed_coefficients() -> None:
    # FAO-56 (1998) Example 22 p. 86: 0.83 green, 0.61 dry
    assert pans.coefficient("green", 1.9, 73, 1000) == pytest.approx(0.83, abs=0.005)
    assert pans.coefficient("dry", 1.9, 73, 1000) == pytest.approx(0.61, abs=0.005)


def test_the_table_gives_the_printed_coefficient_and_evaporation() -> None:
    # FAO-56 (1998) Table 5 p. 81 and Example 21 p. 83: 0.85, a week's mean of 6.7 mm/day
    factor = pans.table_coefficient("green", 1.9, 73, 1000)
    assert factor == 0.85
    week = [8.2, 7.5, 7.6, 6.8, 7.6, 8.9, 8.5]
    assert factor * sum(week) / 7 == pytest.approx(6.7, abs=0.05)


@pytest.mark.parametrize(
    ("surround", "wind", "humidity", "fetch", "printed"),
    # FAO-56 (1998) Table 5 p. 81
    [
        ("green", 1, 30, 1, 0.55),
        ("green", 2, 40, 10, 0.70),
        ("green", 5, 70, 100, 0.75),
        ("green", 5.1, 71, 1000, 0.75),
        ("green", 9, 80, 1, 0.50),
        ("dry", 1, 30, 1, 0.70),
        ("dry", 3, 50, 1000, 0.55),
        ("dry", 8, 90, 10, 0.65),
        ("dry", 8.1, 20, 100, 0.40),
        ("dry", 0, 0, 0, 0.70),
        ("dry", 20, 100, 50_000, 0.45),
    ],
)
def test_the_table_is_read_at_its_borders(
    surround: str, wind: float, humidity: float, fetch: float, printed: float
) -> None:
    assert pans.table_coefficient(surround, wind, humidity, fetch) == printed


def test_formula_and_table_agree_roughly() -> None:
    for surround in pans.SURROUNDS:
        for wind in (1.5, 3.5, 6.5):
            for fetch in (1, 10, 100, 1000):
                by_table = pans.table_coefficient(surround, wind, 55, fetch)
                assert pans.coefficient(surround, wind, 55, fetch) == pytest.approx(
                    by_table, abs=0.08
                )


def test_what_the_formula_does_not_cover_is_refused() -> None:
    with pytest.raises(ValueError, match="green or dry"):
        pans.coefficient("wood", 2, 50, 100)
    with pytest.raises(ValueError, match="1 to 8 m/s"):
        pans.coefficient("green", 0.5, 50, 100)
    with pytest.raises(ValueError, match="30 to 84 %"):
        pans.coefficient("green", 2, 90, 100)
    with pytest.raises(ValueError, match="1 to 1000 m"):
        pans.coefficient("green", 2, 50, 5000)
    with pytest.raises(ValueError, match="0 to 100 %"):
        pans.table_coefficient("green", 2, 120, 5000)
