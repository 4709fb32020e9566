"""The log of a sensor as entries: by its own name, at its own times, the same every time."""

from __future__ import annotations

import random
from datetime import datetime
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.books.lines import parse_line, render
from pondtui.books.logs import Log, Sensor, key_of, read_log
from pondtui.books.tables import parse_table
from tests.pond.box import ZONE, at, setup_of

QUICK = settings(max_examples=40, deadline=None)
SETUP = setup_of()
NOW = at("2026-08-14 18:20")


def read(text: str, sensor: Sensor | None = None, given: dict[str, str] | None = None) -> Log:
    table = parse_table(text.encode(), "log.csv")
    return read_log(table, given or {}, sensor or Sensor(), SETUP, NOW)


def lines(log: Log) -> list[str]:
    return [render(entry) for entry in log.entries]


def test_a_level_sensor_writes_readings_in_its_own_name() -> None:
    log = read("Time,Level [cm]\n2026-06-01 08:00,6.2\n2026-06-02 08:00,6.65\n")
    assert lines(log) == [
        "2026-06-01 08:00:00+02:00 | level   | reading=62 mm; by=level sensor |",
        "2026-06-02 08:00:00+02:00 | level   | reading=66.5 mm; by=level sensor |",
    ]
    assert (log.rows, log.problems) == (2, [])


def test_a_sensor_that_counts_the_other_way_is_turned_to_the_gauge() -> None:
    sensor = Sensor(by="probe", offset_mm=700.0, turned=True)
    log = read("Time;Level [mm]\n2026-06-01 08:00;640,5\n", sensor)
    assert lines(log) == ["2026-06-01 08:00:00+02:00 | level   | reading=59.5 mm; by=probe |"]


def test_a_thermometer_writes_tests_of_where_it_hangs() -> None:
    text = "Time,Water [degF]\n2026-06-01 08:00,59\n2026-06-01 12:00,64.4\n"
    log = read(text, Sensor(where="yard"), {"temp": "Water [degF]"})
    assert lines(log) == [
        "2026-06-01 08:00:00+02:00 | test    | where=yard; temp=15 degC; by=thermometer |",
        "2026-06-01 12:00:00+02:00 | test    | where=yard; temp=18 degC; by=thermometer |",
    ]


def meter_text() -> str:
    counts = [1000 + 20 * min(max(n - 3, 0), 15) for n in range(40)]
    rows = [f"2026-06-01T06:{n:02}:00Z,{count}" for n, count in enumerate(counts)]
    return "timestamp,Count\n" + "\n".join(rows)


@pytest.mark.parametrize(
    ("sensor", "expected"),
    [
        (
            Sensor(barrel="yard"),
            "fill    | barrel=yard; added=150 L; source=tap; meter=650 L; by=flow meter |",
        ),
        (Sensor(source="rain"), "direct  | volume=150 L; source=rain; by=flow meter |"),
    ],
)
def test_the_pulses_of_a_meter_become_one_pouring_by_their_factor(
    sensor: Sensor, expected: str
) -> None:
    log = read(meter_text(), sensor, {"meter": "Count [0.5 L]"})
    assert lines(log) == [f"2026-06-01 08:18:00+02:00 | {expected}"]


def test_one_log_may_hold_several_sensors() -> None:
    log = read("Time,Level [mm],Temp [degC]\n2026-06-01 08:00,62,15\n")
    assert [entry.kind for entry in log.entries] == ["test", "level"]


def test_entries_are_found_again_by_moment_kind_sensor_and_place() -> None:
    text = "Time,Temp [degC]\n2026-06-01 08:00,15\n"
    pond, yard = read(text), read(text, Sensor(where="yard"))
    assert key_of(pond.entries[0]) != key_of(yard.entries[0])
    assert key_of(pond.entries[0]) == key_of(read(text.replace(",15", ",16")).entries[0])


# --- what is wrong --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("2026-06-02 08:00,wet", "log.csv:3: level: wet is no number; left out"),
        ("2026-06-02 08:00,9999", "9999 mm cannot be"),
        ("2026-06-01 08:00:30,90", "90 in the same minute as 62 in line 2; left out"),
        ("1970-01-01 00:10,62", "clock was not set"),
        ("2026-06-02,62", "the time of day is missing"),
        ("someday,62", "someday is no day"),
        ("2026-09-01 08:00,62", "lies in the future"),
        ('2026-06-02 08:00,"62', "a quote opens at column 18"),
        ("2026-06-02 08:00,62,1", "2 cells are named"),
    ],
)
def test_a_row_that_cannot_be_taken_is_named_and_costs_nothing_else(row: str, words: str) -> None:
    log = read(f"Time,Level [mm]\n2026-06-01 08:00,62\n{row}\n2026-06-03 08:00,70\n")
    assert [entry.get("reading") for entry in log.entries] == [62, 70]
    assert len(log.problems) == 1
    assert words in str(log.problems[0])


@pytest.mark.parametrize(
    ("header", "given", "words"),
    [
        ("Time,Value", {}, "no column is known as a time and one as level"),
        ("Time,Level", {}, "say the unit of Level: write Level [mm]"),
        ("Time,Level [L]", {}, "L is no unit of a length"),
        ("Time,Value", {"level": "Depth [mm]"}, "no column is called Depth [mm]; there are Time"),
    ],
)
def test_a_log_whose_columns_are_unknown_gives_nothing_and_says_why(
    header: str, given: dict[str, str], words: str
) -> None:
    log = read(f"{header}\n2026-06-01 08:00,62\n", given=given)
    assert (log.entries, log.first) == ([], None)
    assert words in " ".join(map(str, log.problems))


def test_missing_readings_are_no_problem() -> None:
    log = read("Time,Level [mm]\n2026-06-01 08:00,\n2026-06-02 08:00,nan\n2026-06-03 08:00,60\n")
    assert (len(log.entries), log.problems) == (1, [])


def test_the_hour_that_comes_twice_in_autumn_is_two_hours() -> None:
    # Europe/Brussels: clocks went back on 26 October 2025 from 03:00 to 02:00
    text = "Time,Level [mm]\n2025-10-26 02:30,60\n2025-10-26 02:30,68\n2025-10-26 03:30,76\n"
    assert [line[:25] for line in lines(read(text))] == [
        "2025-10-26 02:30:00+02:00",
        "2025-10-26 02:30:00+01:00",
        "2025-10-26 03:30:00+01:00",
    ]


# --- laws -----------------------------------------------------------------------------------------


def made_up(seed: int, count: int) -> list[str]:
    rng = random.Random(seed)
    instant, level, total = at("2026-06-01 00:00"), 60.0, 0.0
    rows = []
    for _ in range(count):
        instant += 60 * rng.choice([1, 10, 10, 30, 240])
        level = max(level + rng.gauss(0.2, 1) - (25 if rng.random() < 0.03 else 0), 0)
        total += rng.choice([0, 0, 0, 40])
        shown: Any = datetime.fromtimestamp(instant, ZONE)
        wrong = level + 200 if rng.random() < 0.05 else level
        rows.append(f"{shown:%Y-%m-%d %H:%M},{wrong:.1f},{rng.uniform(12, 22):.1f},{total}")
    return rows


HEADER = "Time,Level [mm],Temp [degC],Total [L]"


@QUICK
@given(seed=st.integers(0, 10**6), cut=st.integers(1, 120))
def test_a_longer_log_repeats_the_shorter_ones_entries_in_any_order_of_rows(
    seed: int, cut: int
) -> None:
    rows = made_up(seed, 120)
    whole = read("\n".join([HEADER, *reversed(rows)]), Sensor(barrel="yard"))
    part = read("\n".join([HEADER, *rows[:cut]]), Sensor(barrel="yard"))
    for kind in ("level", "test", "fill"):
        longer = [render(e) for e in whole.entries if e.kind == kind]
        shorter = [render(e) for e in part.entries if e.kind == kind]
        assert longer[: len(shorter)] == shorter


@QUICK
@given(seed=st.integers(0, 10**6))
def test_every_entry_of_a_log_is_a_line_that_reads_back(seed: int) -> None:
    log = read("\n".join([HEADER, *made_up(seed, 80)]), Sensor(barrel="yard", by="probe 1"))
    assert log.entries
    for entry in log.entries:
        again, problems = parse_line(render(entry), "journal/x.txt", 1, ZONE, None)
        assert (again, problems) == (entry, [])


def test_the_day_and_the_time_may_have_a_column_each() -> None:
    text = "Date,Time,Level [mm]\n2026-06-01,08:00:10,62\n"
    assert lines(read(text))[0].startswith("2026-06-01 08:00:10+02:00 | level")
    told = read(text.replace("Time", "Clock"), given={"time": "Date + Clock", "level": "Level"})
    assert lines(told) == lines(read(text))


CELLS = st.sampled_from(
    ["2026-06-01", "2026-06-02 10:00", "2026-06-02T10:00Z", "1850-01-01 00:00", "13/02/2026",
     "02/13/2026", "5", "-1e9", "1e99", "", '"', '"a', "=1+1", "\x1b[2J", "1,5", "2026-03-29 02:30",
     "2025-10-26 02:30", "24", "nan", "62", "65.5"]
)  # fmt: skip


@settings(max_examples=200, deadline=None)
@given(st.lists(st.lists(CELLS, min_size=4, max_size=4), max_size=8))
def test_no_log_makes_the_reading_fail_and_what_it_gives_can_be_written(
    table: list[list[str]],
) -> None:
    log = read("\n".join([HEADER.replace(",", ";"), *(";".join(row) for row in table)]))
    for entry in log.entries:
        assert parse_line(render(entry), "x.txt", 1, ZONE, None)[0] == entry
