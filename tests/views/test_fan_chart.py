"""The fan: its band, its marks and the names at its end, in any size."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from pondtui.pond.away.outlook import DayLevel, Outlook
from pondtui.pond.away.weather_ahead import HOT_DAYS, PAST_YEARS
from pondtui.views.charts import Chart
from pondtui.views.fan_chart import fan_chart
from tests.pond.box import POND, setup_of

TODAY = date(2026, 6, 10)
SETUP = setup_of(POND)


def found(kind: str = PAST_YEARS) -> Outlook:
    levels = tuple(
        DayLevel(TODAY + timedelta(n), 80 + 2 * n, 80 + 3 * n, 80 + 4 * n) for n in range(1, 15)
    )
    return Outlook(30, levels, (), (), kind, 5, True, TODAY)


def text(width: int = 78, height: int = 14, kind: str = PAST_YEARS, *, ascii: bool = False) -> str:
    rows = fan_chart(Chart(SETUP, width, height, ascii), found(kind))
    return "\n".join("".join(span.text for span in row) for row in rows)


def test_the_three_courses_and_the_mark_between_them_are_named_at_the_end() -> None:
    told = text()
    for name in ("10 % 108", "50 % 122", "90 % 136", "shelf"):
        assert name in told


def test_of_the_marks_beside_the_fan_only_the_next_ones_are_drawn() -> None:
    told = text()
    assert "full" in told
    assert "intake" in told
    assert "rim" not in told


def test_without_years_of_weather_no_share_is_named() -> None:
    told = text(kind=HOT_DAYS)
    assert "in hot weather" in told
    assert "%" not in told


@pytest.mark.parametrize("size", [(78, 14), (58, 14), (120, 20), (8, 3), (1, 1)])
@pytest.mark.parametrize("ascii", [False, True])
def test_it_is_as_wide_and_high_as_asked(size: tuple[int, int], ascii: bool) -> None:
    told = text(*size, ascii=ascii).split("\n")
    assert len(told) == size[1]
    assert all(len(line) == size[0] for line in told)
    if ascii:
        assert "".join(told).isascii()
