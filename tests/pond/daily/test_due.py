"""Which chores are due. All cases are constructed; 10 June 2026 is a Wednesday."""

from __future__ import annotations

from datetime import date

import pytest

from pondtui.pond.daily.due import Due, due
from pondtui.pond.setup.days import in_year
from tests.pond.box import POND, at, entries_of, setup_of

NOW = "2026-06-10 09:00"


def told(chore: str, lines: str = "", now: str = NOW) -> tuple[Due, ...]:
    setup = setup_of(POND + f'[[chore]]\nname = "rinse sponge"\n{chore}\n')
    return due(setup, entries_of(lines), at(now))


def done(day: str, more: str = "") -> str:
    return f"2026-{day} 18:00 | chore | name=rinse sponge{more}"


@pytest.mark.parametrize(
    ("chore", "last", "late"),
    [
        ('every = "7 d"', "06-04", None),
        ('every = "7 d"', "06-03", 0),
        ('every = "7 d"', "06-01", 2),
        ('weekdays = ["sat"]', "06-06", None),
        ('weekdays = ["sat"]', "06-05", 4),
        ('weekdays = ["sat", "wed"]', "06-09", 0),
        ("monthly = 1", "06-01", None),
        ("monthly = 1", "05-31", 9),
        ("monthly = 31", "05-30", 10),
    ],
)
def test_a_chore_is_due_when_its_day_has_come(chore: str, last: str, late: int | None) -> None:
    found = told(chore, done(last))
    assert [d.days_late for d in found] == ([] if late is None else [late])


def test_twice_a_day_counts_hours() -> None:
    evening = "2026-06-09 20:00 | chore | name=rinse sponge"
    assert told('every = "12 h"', evening, "2026-06-10 07:59") == ()
    assert len(told('every = "12 h"', evening, "2026-06-10 08:00")) == 1


def test_a_chore_never_done_is_due_today() -> None:
    assert told('every = "7 d"') == (Due("rinse sponge", None, 0),)


def test_a_chore_skipped_with_a_reason_counts_as_done() -> None:
    assert told('every = "7 d"', done("06-09", "; skipped=yes") + " | too cold") == ()


def test_a_name_is_known_by_any_case_and_an_entry_of_tomorrow_is_not_done_yet() -> None:
    assert told('every = "7 d"', done("06-09").replace("rinse", "Rinse")) == ()
    assert len(told('every = "7 d"', done("06-11"))) == 1


@pytest.mark.parametrize("chore", ['every = "7 d"', 'weekdays = ["sat"]', "monthly = 1"])
def test_out_of_its_window_nothing_is_due(chore: str) -> None:
    window = '\nwindow = ["07-01", "10-31"]'
    assert told(chore + window) == ()
    assert len(told(chore + window, now="2026-07-04 09:00")) == 1


def test_a_day_before_the_window_began_is_not_made_up_for() -> None:
    assert told('weekdays = ["sat"]\nwindow = ["06-08", "10-31"]') == ()


def test_the_latest_stands_first_with_the_day_it_was_last_done() -> None:
    setup = setup_of(
        POND + '[[chore]]\nname = "a"\nevery = "1 d"\n[[chore]]\nname = "b"\nevery = "1 d"\n'
    )
    lines = "2026-06-08 08:00 | chore | name=a\n2026-06-01 08:00 | chore | name=b"
    assert due(setup, entries_of(lines), at(NOW)) == (
        Due("b", date(2026, 6, 1), 8),
        Due("a", date(2026, 6, 8), 1),
    )


@pytest.mark.parametrize(
    ("day", "inside"),
    [((2026, 9, 30), False), ((2026, 10, 1), True), ((2027, 1, 1), True), ((2027, 4, 30), True),
     ((2027, 5, 1), False)],
)  # fmt: skip
def test_a_span_may_pass_new_year(day: tuple[int, int, int], inside: bool) -> None:
    assert in_year(date(*day), (10, 1), (4, 30)) is inside
