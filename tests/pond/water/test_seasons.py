"""Seasons and periods as days."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.setup.model import Pond, Season, Setup
from pondtui.pond.water.seasons import CUTS, cut, midnight, season_of, year_before

NORTH = Setup(Pond("North", "Europe/Brussels"))
SOUTH = Setup(Pond("South", "Pacific/Auckland"), season=Season((10, 1), (4, 30)))


def test_a_season_is_the_one_of_the_day_or_the_last_one_before_it() -> None:
    assert season_of(NORTH, date(2026, 6, 1))[1:] == (date(2026, 4, 1), date(2026, 10, 31))
    assert season_of(NORTH, date(2026, 2, 1))[1:] == (date(2025, 4, 1), date(2025, 10, 31))
    assert season_of(SOUTH, date(2026, 2, 1)) == (
        "season 2025-26", date(2025, 10, 1), date(2026, 4, 30),
    )  # fmt: skip


def test_the_day_a_year_before_a_leap_day_is_the_28th() -> None:
    assert year_before(date(2028, 2, 29)) == date(2027, 2, 28)


def test_a_local_day_begins_at_its_own_midnight_also_when_the_clock_changes() -> None:
    before, after = date(2026, 3, 29), date(2026, 3, 30)
    assert midnight(NORTH, after) - midnight(NORTH, before) == 23 * 3600


@given(
    st.dates(date(2020, 1, 1), date(2030, 1, 1)), st.integers(0, 900), st.sampled_from(CUTS),
    st.sampled_from([NORTH, SOUTH]),
)  # fmt: skip
def test_periods_cover_every_day_once(first: date, days: int, by: str, setup: Setup) -> None:
    last = first + timedelta(days)
    spans = list(cut(setup, first, last, by))
    assert spans[0].first == first
    assert spans[-1].last == last
    assert all(a.last + timedelta(1) == b.first for a, b in pairwise(spans))
    assert all(span.first <= span.last for span in spans)
