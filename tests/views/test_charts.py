"""The charts are as wide as asked, keep gaps, tell series apart by signs, and look like this."""

from __future__ import annotations

from datetime import date, timedelta
from math import sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.pond.water.seasons import midnight
from pondtui.views import charts
from pondtui.views.canvas import plain
from pondtui.views.charts import Chart
from pondtui.views.month_chart import month_chart
from pondtui.views.plot import ticks
from pondtui.views.water_series import DayRow, MonthRow, Point, WeekRow
from tests.golden_files import Golden
from tests.pond.box import POND, setup_of

SETUP = setup_of(POND)
FIRST, LAST = date(2026, 4, 1), date(2026, 9, 30)
DAYS = [FIRST + timedelta(n) for n in range((LAST - FIRST).days + 1)]
ROWS = [
    DayRow(
        day,
        40.0 + (n * 3) % 50,
        12.0 if n % 17 == 3 else 0.0,
        180.0 if n % 17 == 0 else 0.0,
        ("power-cut",) if n % 61 == 5 else (),
    )
    for n, day in enumerate(DAYS)
]
POINTS = [
    [Point(midnight(SETUP, row.day) + 28_800, row.reading_mm or 0.0) for row in part]
    for part in (ROWS[:80], ROWS[100:])
]
WEEKS = [
    WeekRow(FIRST + timedelta(7 * n), 4 + 2 * sin(n / 4), 3 + 2 * sin(n / 4))
    if n not in (11, 12) else WeekRow(FIRST + timedelta(7 * n), None, None)
    for n in range(26)
]  # fmt: skip
MONTHS = [MonthRow(f"2026-{m:02d}", 900.0 - 40 * m, 800.0 + 9 * m, 12.0 * m - 60, m == 8)
          for m in range(4, 10)]  # fmt: skip
SIZES = [(78, 19), (58, 15)]


@pytest.mark.parametrize(("width", "height"), SIZES)
@pytest.mark.parametrize("ascii", [False, True], ids=["signs", "plain"])
def test_the_charts_look_like_this(golden: Golden, width: int, height: int, ascii: bool) -> None:
    chart = Chart(SETUP, width, height, ascii)
    name = f"{width}x{height}{'-plain' if ascii else ''}"
    golden(f"chart-level-{name}", plain(charts.level_chart(chart, POINTS, ROWS, DAYS[40])))
    golden(f"chart-loss-{name}", plain(charts.loss_chart(chart, WEEKS, DAYS[40])))
    golden(f"chart-months-{name}", plain(month_chart(chart, MONTHS, 2)))


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 170), st.integers(0, 60), st.booleans(), st.integers(0, len(DAYS)))
def test_a_chart_is_exactly_as_large_as_asked(
    width: int, height: int, ascii: bool, days: int
) -> None:
    chart = Chart(SETUP, width, height, ascii)
    for rows in (
        charts.level_chart(chart, POINTS if days else [], ROWS[:days], DAYS[0]),
        charts.loss_chart(chart, WEEKS[: days // 7], DAYS[0]),
        month_chart(chart, MONTHS[: days % 7], None),
    ):
        lines = plain(rows)
        assert len(lines) == height
        assert {len(line) for line in lines} <= {width}


def test_the_plain_set_is_plain() -> None:
    chart = Chart(SETUP, 78, 19, True)
    for rows in (charts.level_chart(chart, POINTS, ROWS, DAYS[3]),
                 charts.loss_chart(chart, WEEKS, None),
                 month_chart(chart, MONTHS, 0)):  # fmt: skip
        assert all(line.isascii() for line in plain(rows))


def test_no_more_than_three_series_and_each_is_named() -> None:
    chart = Chart(SETUP, 78, 19, False)
    loss = "\n".join(plain(charts.loss_chart(chart, WEEKS, None)))
    assert "● measured" in loss
    assert "by weather" in loss
    assert "a day, week by week" in loss  # the unit of the axis
    level = "\n".join(plain(charts.level_chart(chart, POINTS, ROWS, None)))
    for name in ("level", "rim", "full", "refill", "rain", "mm on the gauge"):
        assert name in level


def test_a_gap_in_the_readings_stays_a_gap() -> None:
    chart = Chart(SETUP, 100, 19, True)
    whole = [[*POINTS[0], *POINTS[1]]]
    gap = slice(7 + 80 * 78 // 183 + 2, 7 + 100 * 78 // 183 - 2)  # columns of days 80 to 100
    for rows, stars in ((POINTS, False), (whole, True)):
        lines = plain(charts.level_chart(chart, rows, ROWS, None))[1:-7]
        assert any("*" in line[gap] for line in lines) == stars


def test_a_name_of_the_keeper_cannot_break_a_row() -> None:
    text = POND.replace('name = "rim"', 'name = "\\u202e[/x] \\U0001F41F rim"')
    rows = charts.level_chart(Chart(setup_of(text), 78, 19, False), POINTS, ROWS, None)
    assert {len(line) for line in plain(rows)} == {78}


@pytest.mark.parametrize(
    ("low", "high", "most", "found"),
    [
        (0, 10, 5, [0, 2, 4, 6, 8, 10]),
        (20, 115, 4, [50, 100]),
        (0, 0.9, 4, [0, 0.5]),
        (3, 3, 4, [3]),
    ],
)
def test_the_scale_has_round_values(low: float, high: float, most: int, found: list[float]) -> None:
    assert ticks(low, high, most) == pytest.approx(found)


@given(st.floats(-600, 600), st.floats(0.3, 900), st.integers(2, 12))
def test_a_scale_in_inches_has_only_values_that_the_rule_bears(
    low: float, reach: float, most: int
) -> None:
    found = ticks(low, low + reach, most, halves=True)
    assert len(found) <= most + 1
    assert all(value * 16 == round(value * 16) for value in found)


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_a_pond_with_an_inch_rule_has_fractions_at_its_level(width: int, height: int) -> None:
    setup = SETUP._replace(pond=SETUP.pond._replace(units="us"), marks=())
    near = [[point._replace(value=60 + point.value % 12) for point in row] for row in POINTS]
    lines = plain(charts.level_chart(Chart(setup, width, height, False), near, ROWS, DAYS[40]))
    scale = [line.split("┤")[0].strip() for line in lines if "┤" in line]
    assert "2 1/2" in scale
    assert all("." not in value for value in scale)
    assert not any("level 2." in line for line in lines)
