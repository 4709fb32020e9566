"""What of a sensor's log is worth a line: a day's reading, a change, a pouring; never a slip."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.pond.water.sensors import (
    TEMPERATURE,
    Left,
    Poured,
    Sample,
    level_rule,
    one_a_minute,
    pourings,
    worth,
)

QUICK = settings(max_examples=150, deadline=None)
LEVEL = level_rule(2.0)
START = int(datetime(2026, 6, 1, tzinfo=UTC).timestamp())


def log(values: list[float], minutes: int = 30, first: int = START) -> list[Sample]:
    return [Sample(first + 60 * minutes * n, value, n + 2) for n, value in enumerate(values)]


def levels(samples: list[Sample]) -> tuple[list[float], list[Left]]:
    left: list[Left] = []
    return [sample.value for sample in worth(samples, LEVEL, UTC, left)], left


def poured(samples: list[Sample]) -> tuple[list[tuple[int, float]], list[Left]]:
    left: list[Left] = []
    return [(p.line, p.litres) for p in pourings(samples, left)], left


def test_a_quiet_pond_is_worth_its_first_reading_and_one_each_morning() -> None:
    samples = log([60.0] * (48 * 3))
    times = [
        datetime.fromtimestamp(s.instant, UTC).strftime("%d %H:%M")
        for s in worth(samples, LEVEL, UTC, [])
    ]
    assert times == ["01 00:00", "01 08:00", "02 08:00", "03 08:00"]


def test_a_reading_taken_once_a_day_is_kept_whatever_its_hour() -> None:
    values = [60.0, 64.0, 69.0, 73.0]
    assert levels(log(values, 24 * 60, START + 7 * 3600)) == (values, [])


def test_a_change_within_the_day_is_worth_a_line() -> None:
    assert levels(log([60, 61, 63, 66, 68, 72])) == ([60, 66, 72], [])


def test_a_jump_that_comes_back_is_named_and_kept_out() -> None:
    kept, left = levels(log([60, 60, 300, 61, 60]))
    assert kept == [60]
    assert left == [Left(4, "jumps from 60 to 300 mm and back; left out")]


def test_a_jump_that_stays_is_a_reading_of_its_own_time() -> None:
    kept, left = levels(log([60, 60, 35, 36, 35]))
    assert (kept, left) == ([60, 35], [])


def test_a_jump_at_the_end_waits_for_the_next_reading() -> None:
    assert levels(log([60, 60, 35])) == ([60], [])
    assert levels(log([60, 60, 35, 35])) == ([60, 35], [])


def test_a_reading_beyond_the_sensor_is_named() -> None:
    kept, left = levels(log([60, -9999, 60]))
    assert kept == [60]
    assert "-9999 mm cannot be: 0 to 5000 mm" in left[0].why


def test_of_two_readings_in_a_minute_the_first_counts_and_another_value_is_named() -> None:
    left: list[Left] = []
    samples = [Sample(START, 60, 2), Sample(START + 20, 61, 3), Sample(START + 40, 90, 4)]
    assert list(one_a_minute(samples, 5.0, left)) == samples[:1]
    assert left == [Left(4, "90 in the same minute as 60 in line 2; left out")]


def test_a_thermometer_is_worth_a_line_when_the_water_changes_by_two_degrees() -> None:
    samples = log([15.0, 15.5, 16.5, 17.0, 18.9, 19.0, 17.5, 16.0])
    kept = [sample.value for sample in worth(samples, TEMPERATURE, UTC, [])]
    assert kept == [15.0, 17.0, 19.0, 16.0]


def test_a_gauge_that_is_read_roughly_needs_a_larger_change() -> None:
    assert level_rule(0.5).step == 5
    assert level_rule(4.0).step == 12
    assert level_rule(4.0).jump == 20


# --- flow meters ----------------------------------------------------------------------------------


def test_totals_that_rise_are_one_pouring_up_to_the_last_rise() -> None:
    values = [100.0] * 5 + [100.0 + 11 * n for n in range(1, 14)] + [243.0] * 15
    left: list[Left] = []
    assert list(pourings(log(values, 1), left)) == [Poured(START + 17 * 60, 143.0, 243.0, 19)]
    assert left == []


def test_a_pouring_that_still_runs_is_not_told_yet() -> None:
    assert poured(log([0.0, 10.0, 20.0, 30.0, 30.0], 1)) == ([], [])


def test_a_short_stop_does_not_part_a_pouring_and_a_long_one_does() -> None:
    short = [0.0, 20.0, 40.0, *[40.0] * 5, 60.0, 80.0, *[80.0] * 11]
    assert [litres for _, litres in poured(log(short, 1))[0]] == [80]
    long = [0.0, 20.0, 40.0, *[40.0] * 11, 60.0, 80.0, *[80.0] * 11]
    assert [litres for _, litres in poured(log(long, 1))[0]] == [40, 40]


def test_a_meter_that_wavers_pours_nothing() -> None:
    values = [100.0, 100.4, 100.0, 100.5, 99.8, 100.3] * 20
    assert poured(log(values, 5)) == ([], [])


def test_drops_add_up_until_they_are_worth_telling() -> None:
    values = [0.3 * (n // 30) for n in range(150)]
    assert [round(litres, 6) for _, litres in poured(log(values, 1))[0]] == [1.2]


def test_a_counter_that_begins_anew_is_named_and_counted_on() -> None:
    values = [500.0, 520.0, 540.0, *[540.0] * 15, 0.0, 0.0, 30.0, 60.0, *[60.0] * 15]
    found, left = poured(log(values, 1))
    assert [litres for _, litres in found] == [40, 60]
    assert left == [Left(20, "total jumps from 540 to 0 L: counted on from there")]


def test_a_reset_in_the_middle_of_a_pouring_keeps_what_ran_before_it() -> None:
    values = [500.0, 520.0, 540.0, 4.0, 24.0, 44.0, *[44.0] * 15]
    found, _ = poured(log(values, 1))
    assert [litres for _, litres in found] == [40, 40]


def test_a_single_wrong_total_is_named_and_changes_nothing() -> None:
    for slip in (0.0, 99_999.0):
        values = [500.0, 510.0, slip, 520.0, *[520.0] * 15]
        found, left = poured(log(values, 1))
        assert [litres for _, litres in found] == [20]
        assert left[0].why.endswith("and back; left out")


# --- laws -----------------------------------------------------------------------------------------

ROWS = st.lists(st.tuples(st.integers(1, 900), st.integers(0, 400)), min_size=1, max_size=60)


def rows(steps: list[tuple[int, int]], scale: float) -> list[Sample]:
    samples, instant = [], START
    for line, (step, value) in enumerate(steps, 2):
        instant += step * 20
        samples.append(Sample(instant, value * scale, line))
    return samples


@QUICK
@given(ROWS, st.integers(0, 60))
def test_a_longer_log_repeats_what_the_shorter_one_gave(
    steps: list[tuple[int, int]], cut: int
) -> None:
    samples = rows(steps, 0.5)
    for rule in (LEVEL, TEMPERATURE):
        whole = list(worth(samples, rule, UTC, []))
        part = list(worth(samples[:cut], rule, UTC, []))
        assert whole[: len(part)] == part
    whole_l, part_l = list(pourings(samples, [])), list(pourings(samples[:cut], []))
    assert whole_l[: len(part_l)] == part_l


@QUICK
@given(st.lists(st.integers(0, 40), min_size=2, max_size=60))
def test_a_sound_meter_loses_no_more_than_what_still_runs(litres: list[int]) -> None:
    total, values = 1000.0, []
    for each in litres:
        total += each
        values.append(total)
    still = values + [total] * 12
    found, left = poured(log(still, 1))
    assert left == []
    assert sum(litres for _, litres in found) == total - values[0]


@QUICK
@given(ROWS)
def test_every_reading_that_is_kept_stands_in_the_log(steps: list[tuple[int, int]]) -> None:
    samples = rows(steps, 1.0)
    kept = list(worth(samples, LEVEL, UTC, []))
    assert set(kept) <= set(samples)
    gaps = [b.instant - a.instant for a, b in pairwise(kept)]
    assert all(gap > 0 for gap in gaps)
