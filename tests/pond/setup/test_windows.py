"""Watering hours: the grammar, and when drawing water is allowed again."""

from __future__ import annotations

from datetime import date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.errors import InputError
from pondtui.pond.setup.windows import (
    WEEKDAYS,
    begins_on,
    forbidden,
    forbidden_end,
    forbidden_until,
    parse,
)


def at(text: str) -> datetime:
    return datetime.fromisoformat(text)


@pytest.mark.parametrize(
    ("window", "moment", "until"),
    [
        # 2026-07-06 is a Monday.
        ("mon-fri 08:00-20:00", "2026-07-06 08:00", "20:00"),
        ("mon-fri 08:00-20:00", "2026-07-06 07:59:59", None),
        ("mon-fri 08:00-20:00", "2026-07-06 20:00", None),
        ("mon-fri 08:00-20:00", "2026-07-11 12:00", None),
        ("07-01..08-31 odd days", "2026-07-07 12:00", "2026-07-08 00:00"),
        ("07-01..08-31 odd days", "2026-07-08 12:00", None),
        ("07-01..08-31 odd days", "2026-09-01 12:00", None),
        ("07-01..08-31 odd days", "2026-07-31 12:00", "2026-08-02 00:00"),  # 31st, then 1st
        ("even days", "2026-07-08 23:59", "2026-07-09 00:00"),
        ("sat,sun", "2026-07-11 09:00", "2026-07-13 00:00"),  # both days are one ban
        ("fri-mon", "2026-07-10 00:00", "2026-07-14 00:00"),  # round the week's end
        ("22:00-06:00", "2026-07-06 23:00", "2026-07-07 06:00"),
        ("22:00-06:00", "2026-07-07 05:59", "06:00"),
        ("22:00-06:00", "2026-07-07 06:00", None),
        ("fri 22:00-06:00", "2026-07-11 03:00", "06:00"),  # Saturday, begun on Friday
        ("fri 22:00-06:00", "2026-07-10 03:00", None),  # Friday, Thursday's night
        ("12-01..02-28 10:00-24:00", "2026-12-31 23:00", "2027-01-01 00:00"),  # round New Year
        ("12-01..02-28", "2027-01-15 09:00", "2027-03-01 00:00"),
        ("12-01..02-28", "2026-11-30 23:59", None),
        ("12-31 20:00-04:00", "2027-01-01 02:00", "04:00"),  # one night, begun last year
        ("07-14", "2026-07-14 06:00", "2026-07-15 00:00"),
        ("02-29", "2028-02-29 06:00", "2028-03-01 00:00"),
        ("MON - FRI  08:00 - 20:00", "2026-07-06 09:00", "20:00"),
        ("mon-sun", "2026-07-06 09:00", "further notice"),
    ],
)
def test_one_window(window: str, moment: str, until: str | None) -> None:
    assert forbidden_until((window,), at(moment)) == until


def test_windows_that_follow_on_each_other_are_one_ban() -> None:
    windows = ("mon 08:00-12:00", "mon 12:00-18:00", "mon 17:00-20:00")
    assert forbidden_until(windows, at("2026-07-06 09:00")) == "20:00"


def test_without_windows_water_may_be_drawn() -> None:
    assert forbidden_until((), at("2026-07-06 09:00")) is None


def test_the_ponds_own_clock_counts_whatever_its_offset() -> None:
    there = at("2026-07-06 09:00").replace(tzinfo=timezone(timedelta(hours=-8)))
    assert forbidden_until(("mon 08:00-20:00",), there) == "20:00"


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("", "not an empty text"),
        ("noon", "neither dates, days nor hours"),
        ("08:00-20:00 mon", "dates, then days, then hours, each once"),
        ("mon odd days", "each once"),
        ("mon tue", "each once"),
        ("13-01..14-01", "there is no day 13-01"),
        ("02-30", "there is no day 02-30"),
        ("25:00-26:00", "there is no time 25:00"),
        ("08:60-09:00", "there is no time 08:60"),
        ("08:00-08:00", "from one time to another"),
        ("mon-fry", "neither dates, days nor hours"),
        ("odd", "neither dates, days nor hours"),
        ("mon 08:00", "neither dates, days nor hours"),
    ],
)
def test_what_is_no_window_is_refused(text: str, part: str) -> None:
    with pytest.raises(InputError, match=part):
        parse(text)


moments = st.datetimes(min_value=datetime(2020, 1, 1), max_value=datetime(2040, 1, 1))
hours = st.integers(0, 23).map(lambda hour: f"{hour:02}:00")


@given(moments, st.sampled_from(WEEKDAYS), hours, hours)
def test_at_its_end_a_ban_is_over_and_just_before_it_is_not(
    moment: datetime, weekday: str, begin: str, end: str
) -> None:
    if begin == end:
        return
    windows = (f"{weekday} {begin}-{end}",)
    over = forbidden_end(windows, moment)
    assert forbidden(windows, moment) is (over is not None)
    if over is None:
        return
    assert over > moment
    assert forbidden_end(windows, over) is None
    assert forbidden_end(windows, over - timedelta(microseconds=1)) == over


@given(st.dates(min_value=date(2020, 1, 1), max_value=date(2040, 1, 1)))
def test_a_day_is_odd_or_even(day: date) -> None:
    assert begins_on(parse("odd days"), day) != begins_on(parse("even days"), day)
