"""Schedules over ten years against dateutil's recurrence rules, and what follows events.

The rules of RFC 5545 as python-dateutil works them out are the reference; cases are constructed.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import Any

import pytest
from dateutil.rrule import (
    DAILY,
    MONTHLY,
    WEEKLY,
    rrule,
)
from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.daily.due import ChoreNow, chores_now, falls_due
from pondtui.pond.setup.days import in_year, never_comes
from pondtui.pond.setup.model import Chore
from pondtui.pond.setup.windows import WEEKDAYS
from tests.pond.box import POND, at, entries_of, setup_of, state_of

BEGIN = date(2024, 1, 1)  # a Monday of a leap year
END = date(2033, 12, 31)
NOW = "2026-06-10 09:00"


def kept(chore: Chore, first: date) -> list[date]:
    """The days on which a keeper does it who never misses one, over ten years."""
    days, last, day = [], first, first
    while day <= END:
        if falls_due(chore, last, day) == day and day != last:
            days.append(day)
            last = day
        day += timedelta(1)
    return days


def ruled(freq: Any, first: date, **rule: Any) -> list[date]:
    start = datetime(first.year, first.month, first.day)
    until = datetime(END.year, END.month, END.day)
    return [d.date() for d in rrule(freq, dtstart=start, until=until, **rule)]


@pytest.mark.parametrize("days", [1, 2, 3, 7, 10, 30, 90, 365])
def test_every_so_many_days_is_the_daily_rule_with_that_interval(days: int) -> None:
    expected = [d for d in ruled(DAILY, BEGIN, interval=days) if d > BEGIN]
    assert kept(Chore("x", every_days=float(days)), BEGIN) == expected


@pytest.mark.parametrize("names", [("sat",), ("mon", "thu"), ("sun", "tue", "fri"), WEEKDAYS])
def test_weekdays_are_the_weekly_rule(names: tuple[str, ...]) -> None:
    days = [WEEKDAYS.index(name) for name in names]
    expected = [d for d in ruled(WEEKLY, BEGIN, byweekday=days) if d > BEGIN]
    assert kept(Chore("x", weekdays=names), BEGIN) == expected


@pytest.mark.parametrize("day", [1, 15, 28, 29, 30, 31])
def test_monthly_is_the_monthly_rule_and_the_last_day_of_a_shorter_month(day: int) -> None:
    # the day itself, or the last one that the month has
    rule = {"bymonthday": list(range(28, day + 1)) or [day], "bysetpos": -1}
    expected = [d for d in ruled(MONTHLY, BEGIN, **rule) if d > BEGIN]
    assert kept(Chore("x", monthly=day), BEGIN) == expected


@pytest.mark.parametrize(
    "window",
    [((4, 1), (10, 31)), ((10, 1), (4, 30)), ((12, 24), (1, 6)), ((2, 29), (3, 15)),
     ((7, 7), (7, 7))],
)  # fmt: skip
@pytest.mark.parametrize(
    ("chore", "rule"),
    [
        (Chore("x", weekdays=("sat",)), lambda: ruled(WEEKLY, BEGIN, byweekday=5)),
        (Chore("x", monthly=7), lambda: ruled(MONTHLY, BEGIN, bymonthday=7)),
        (Chore("x", every_days=1.0), lambda: ruled(DAILY, BEGIN)),
    ],
)
def test_a_window_keeps_of_the_rule_what_lies_in_it_also_across_new_year(
    chore: Chore, rule: Callable[[], list[date]], window: tuple[tuple[int, int], tuple[int, int]]
) -> None:
    expected = [d for d in rule() if d > BEGIN and in_year(d, *window)]
    chore = chore._replace(window=window)
    assert never_comes(chore) is (not expected)
    assert (kept(chore, BEGIN) if expected else []) == expected


def test_every_ten_days_in_a_season_begins_anew_with_each_season() -> None:
    chore = Chore("x", every_days=10.0, window=((4, 1), (5, 31)))
    done = kept(chore, date(2023, 12, 31))
    expected = [
        day
        for year in range(2024, 2034)
        for day in ruled(DAILY, date(year, 4, 1), interval=10)
        if day <= date(year, 5, 31)
    ]
    assert done == expected


@given(
    st.dates(BEGIN, END), st.integers(0, 900), st.sampled_from((1.0, 7.0, 30.0)),
    st.sampled_from((None, ((4, 1), (10, 31)), ((11, 1), (2, 28)))),
)  # fmt: skip
def test_what_fell_due_stays_due_until_it_is_done_or_its_window_ends(
    last: date, later: int, every: float, window: tuple[tuple[int, int], tuple[int, int]] | None
) -> None:
    chore = Chore("x", every_days=every, window=window)
    today = last + timedelta(later)
    day = falls_due(chore, last, today)
    assert day is not None
    if day <= today:
        tomorrow = today + timedelta(1)
        still = window is None or in_year(tomorrow, *window)
        assert (falls_due(chore, last, tomorrow) == day) is still
    else:
        assert falls_due(chore, last, day) == day


# --- what follows events, water and levels --------------------------------------------------------


def told(chore: str, lines: str = "", now: str = NOW, *, pond: str = POND) -> ChoreNow:
    setup = setup_of(pond + f'[[chore]]\nname = "watch"\n{chore}\n')
    levels = state_of(setup, lines, now).levels
    return chores_now(setup, entries_of(lines), at(now), levels)[0]


FISH = "2026-06-08 15:00 | event | what=new-fish; count=2\n"


@pytest.mark.parametrize(
    ("lines", "state", "late"),
    [
        ("", "resting", 0),
        (FISH, "late", 2),
        (FISH + "2026-06-08 14:00 | chore | name=watch", "late", 2),
        (FISH + "2026-06-08 16:00 | chore | name=watch", "resting", 0),
        (FISH + "2026-06-10 08:00 | chore | name=watch", "done", 0),
        (FISH + "2026-06-09 08:00 | chore | name=watch\n2026-06-10 07:00 | event | what=new-fish",
         "due", 0),
        ("2026-06-08 15:00 | event | what=medicine", "resting", 0),
    ],
)  # fmt: skip
def test_after_an_event_it_is_due_once(lines: str, state: str, late: int) -> None:
    found = told('after = "new-fish"', lines)
    assert (found.state, found.days_late) == (state, late)


@pytest.mark.parametrize(
    ("now", "state"),
    [("2026-06-08 16:00", "due"), ("2026-06-21 09:00", "late"), ("2026-06-22 09:00", "resting")],
)
def test_after_an_event_it_may_come_again_and_again_for_a_while(now: str, state: str) -> None:
    assert told('after = "new-fish, medicine"\nevery = "1 d"\nlasts = "14 d"', FISH, now).state == (
        state
    )


def test_done_before_the_event_is_not_done_after_it() -> None:
    daily = 'after = "new-fish"\nevery = "7 d"'
    assert told(daily, FISH + "2026-06-07 08:00 | chore | name=watch").state == "late"
    after = told(daily, FISH + "2026-06-09 08:00 | chore | name=watch")
    assert (after.state, after.next) == ("later", date(2026, 6, 16))


def test_a_chore_may_follow_another_one_and_a_skipped_one_starts_nothing() -> None:
    rinse = '[[chore]]\nname = "rinse"\nevery = "90 d"\n'
    pond = POND
    setup = setup_of(pond + '[[chore]]\nname = "watch"\nafter = "rinse"\n' + rinse)
    done = "2026-06-09 08:00 | chore | name=Rinse"
    assert chores_now(setup, entries_of(done), at(NOW))[0].state == "late"
    skipped = entries_of(done + "; skipped=yes | no time")
    assert chores_now(setup, skipped, at(NOW))[0].state == "resting"


WATER = 'water = [["10 degC", "15 degC", "3 d"], ["15 degC", "28 degC", "1 d"]]'


@pytest.mark.parametrize(
    ("temps", "state", "why"),
    [
        ((), "resting", "no water temperature in the last 5 days"),
        ((9.9,) * 5, "resting", "not now"),
        ((10.0,) * 5, "late", "every 3 days"),
        ((14.0, 14.0, 14.0, 14.0, 25.0), "late", "every day"),  # mean 16.2: one warm day counts
        ((14.0, 14.0, 14.0, 14.0, 16.0), "late", "every 3 days"),  # mean 14.4
        ((30.0,) * 5, "resting", "not now"),
    ],
)
def test_by_the_water_the_mean_of_several_days_decides(
    temps: tuple[float, ...], state: str, why: str
) -> None:
    lines = "2026-06-01 08:00 | chore | name=watch\n" + "\n".join(
        f"2026-06-{6 + n:02} 08:00 | level | reading=60 mm; temp={temp} degC"
        for n, temp in enumerate(temps)
    )
    found = told(WATER, lines)
    assert (found.state, why in found.why) == (state, True)


def test_a_temperature_of_last_week_says_nothing_of_today() -> None:
    assert told(WATER, "2026-06-05 08:00 | level | reading=60 mm; temp=18 degC").state == "resting"
    assert told(WATER, "2026-06-06 08:00 | test | where=pond; temp=18 degC").state == "due"
    assert told(WATER, "2026-06-06 08:00 | test | where=tap; temp=18 degC").state == "resting"


SHELF = POND.replace('role = "warn"', 'role = "warn"\nrising = "lilies back"')


@pytest.mark.parametrize(
    ("readings", "state"),
    [
        ((120, 100), "due"),
        ((120, 111), "resting"),
        ((111, 100), "resting"),  # under it by no more than the gauge's error
        ((120, 100, 120), "resting"),  # it fell again before anything was done
        ((60, 100), "resting"),
    ],
)
def test_a_level_back_over_its_mark_starts_the_marks_chore(
    readings: tuple[int, ...], state: str
) -> None:
    lines = "\n".join(
        f"2026-06-10 0{hour}:00 | level | reading={mm} mm" for hour, mm in enumerate(readings, 1)
    )
    setup = setup_of(SHELF)
    levels = state_of(setup, lines, NOW).levels
    (found,) = chores_now(setup, entries_of(lines), at(NOW), levels)
    assert (found.name, found.state) == ("lilies back", state)
    ticked = entries_of(lines + "\n2026-06-10 08:00 | chore | name=lilies back")
    assert chores_now(setup, ticked, at(NOW), levels)[0].state == "done"


def test_one_tells_what_is_late_due_done_and_when_it_comes_again() -> None:
    setup = setup_of(POND + "".join(f'[[chore]]\nname = "{n}"\nevery = "7 d"\n' for n in "abcd"))
    lines = """
    2026-06-01 08:00 | chore | name=a; by=MO
    2026-06-03 08:00 | chore | name=b
    2026-06-10 08:00 | chore | name=c; skipped=yes | rain
    2026-06-09 08:00 | chore | name=d
    """
    a, b, c, d = chores_now(setup, entries_of(lines), at(NOW))
    assert [x.state for x in (a, b, c, d)] == ["late", "due", "done", "later"]
    assert (a.days_late, a.since, a.next) == (2, date(2026, 6, 8), None)
    assert a.last is not None
    assert (a.last.by, a.last.skipped) == ("MO", False)
    assert c.last is not None
    assert (c.last.skipped, c.last.note, c.next) == (True, "rain", date(2026, 6, 17))
    assert d.next == date(2026, 6, 16)


def test_a_day_whose_clock_changes_makes_nothing_late() -> None:
    setup = setup_of(POND + '[[chore]]\nname = "x"\nevery = "1 d"\n')
    before = entries_of("2026-10-24 23:30 | chore | name=x")  # the night has 25 hours
    assert chores_now(setup, before, at("2026-10-25 00:30"))[0].state == "due"
    assert chores_now(setup, before, at("2026-10-26 00:30"))[0].days_late == 1


def test_a_late_tick_counts_for_the_time_that_was_chosen() -> None:
    found = told('every = "7 d"', "2026-06-06 18:00 | chore | name=watch")
    assert (found.state, found.next) == ("later", date(2026, 6, 13))


def test_food_is_withheld_while_there_is_a_reason() -> None:
    setup = setup_of(POND + '[[chore]]\nname = "Feed"\nevery = "1 d"\n')
    (found,) = chores_now(setup, [], at(NOW), no_food="ammonia is high")
    assert (found.state, found.why) == ("resting", "ammonia is high")


@pytest.mark.parametrize(
    ("chore", "sentence"),
    [
        ('monthly = 15\nwindow = ["04-16", "05-10"]', "never comes: widen it"),
        ('water = [["50 degC", "60 degC", "1 d"]]', "never comes by this row"),
        ('after = "watch"', "come after itself, and so never"),
        ("weekdays = []", "one of every, weekdays, monthly, after, water"),
    ],
)
def test_a_schedule_that_never_comes_is_refused_in_one_sentence(chore: str, sentence: str) -> None:
    from pondtui.books.pondfile import parse

    problems = parse(POND + f'[[chore]]\nname = "watch"\n{chore}\n').problems
    (problem,) = [p for p in problems if p.severity == "problem"]
    assert sentence in problem.message
    assert problem.line > 0


def test_a_chore_named_twice_is_refused_in_one_sentence() -> None:
    from pondtui.books.pondfile import parse

    twice = '[[chore]]\nname = "feed"\nevery = "1 d"\n[[chore]]\nname = "Feed"\nevery = "2 d"\n'
    (problem,) = [p for p in parse(POND + twice).problems if p.severity == "problem"]
    assert "there is another one of this name" in problem.message


def test_a_marks_chore_and_a_chore_of_one_name_are_refused() -> None:
    from pondtui.books.pondfile import parse

    both = SHELF + '[[chore]]\nname = "Lilies back"\nevery = "1 d"\n'
    (problem,) = [p for p in parse(both).problems if p.severity == "problem"]
    assert "one tick would count for both" in problem.message


def test_two_ticks_of_one_second_both_count_at_once() -> None:
    found = told('every = "1 d"', "2026-06-10 09:00:01 | chore | name=watch")  # moved on by one
    assert found.state == "done"
