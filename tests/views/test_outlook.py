"""The outlook in one line: the mark that comes next, when, and on how many days it rests."""

from __future__ import annotations

from datetime import date, timedelta

from pondtui.pond.away.falling import TooLittle
from pondtui.pond.away.outlook import DayLevel, MarkAhead, Outlook
from pondtui.pond.away.weather_ahead import HOT_DAYS, PAST_YEARS
from pondtui.views.outlook import glance, glance_json, level_lines, lines, next_mark
from tests.pond.box import POND, setup_of

TODAY = date(2026, 8, 14)


def day(number: int) -> date:
    return TODAY + timedelta(number)


def found(*marks: MarkAhead, kind: str = PAST_YEARS) -> Outlook:
    levels = tuple(DayLevel(day(n), 80, 90, 100) for n in range(1, 15))
    return Outlook(33.6, levels, marks, (), kind, 5, True, TODAY)


SHELF = MarkAhead("shelf", "warn", day(2), day(4), day(9))
SPILL = MarkAhead("rim", "spill", day(1), None, None)
FULL = MarkAhead("full", "target", TODAY, TODAY, TODAY)
PUMP = MarkAhead("pump", "danger", None, None, None)


def test_the_mark_that_comes_next_is_told_with_its_three_days() -> None:
    told = glance(found(SPILL, FULL, SHELF, PUMP), TODAY)
    assert told == "shelf by 10 % 16 Aug, 50 % 18 Aug, 90 % 23 Aug; on 34 days of readings"


def test_marks_that_are_passed_or_lie_above_do_not_come_next() -> None:
    assert next_mark(found(SPILL, FULL, SHELF), TODAY) == SHELF
    assert next_mark(found(SPILL, FULL), TODAY) is None
    assert "no mark lies below" in glance(found(SPILL, FULL), TODAY)


def test_days_beyond_the_look_are_told_as_such() -> None:
    late = SHELF._replace(p50=None, p90=None)
    assert "10 % 16 Aug, 50 % after 28 Aug, 90 % after 28 Aug" in glance(found(late), TODAY)
    assert glance(found(PUMP), TODAY).startswith("pump not by 28 Aug with 90 %")


def test_without_years_of_weather_no_chance_is_told() -> None:
    told = glance(found(SHELF, kind=HOT_DAYS), TODAY)
    assert told == (
        "shelf about 18 Aug if hot and dry, how likely is not known; on 34 days of readings"
    )
    assert "%" not in glance(found(PUMP, kind=HOT_DAYS), TODAY)


def test_the_keys_say_the_same() -> None:
    data = glance_json(found(FULL, SHELF), TODAY)["outlook"]
    assert data["mark"] == {"name": "shelf", "role": "warn", "p10_day": "2026-08-16",
                            "p50_day": "2026-08-18", "p90_day": "2026-08-23"}  # fmt: skip
    assert data["rests_on_days"] == 33.6
    assert data["more_readings"] == 0


def test_too_little_says_how_many_readings_are_wanted() -> None:
    few = TooLittle("no loss yet", 3)
    assert glance(few, TODAY) == ""  # what the level loses says it in words
    assert glance_json(few, TODAY)["outlook"]["more_readings"] == 3


def test_the_gauge_day_by_day_is_told_as_the_rule_reads() -> None:
    metric = level_lines(found(PUMP), setup_of(POND))
    assert metric[1].split()[1:] == ["80", "mm", "90", "mm", "100", "mm"]
    us = setup_of(POND.replace("[pond]", '[pond]\nunits = "us"'))
    assert level_lines(found(PUMP), us)[1].endswith("  3 1/8 in   3 9/16 in  3 15/16 in")


def test_a_narrow_window_keeps_the_dates_and_the_middle_value() -> None:
    told = "\n".join(lines(found(PUMP), setup_of(POND), 36))
    assert "90 mm" in told
    assert "50 %" in told
    assert not any(other in told for other in ("80 mm", "100 mm", "10 %", "90 %"))
    assert max(map(len, told.splitlines()[1:-3])) <= 36
