"""When rain fell between readings: constructed."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.water.rain_spans import Rain, rain_spans
from pondtui.pond.water.weather import WeatherDay
from tests.pond.box import POND, at, entries_of, setup_of

SETUP = setup_of(POND)
TIMES = [at(f"2026-06-{day:02d} 08:00") for day in range(1, 15)]


def spans(lines: str, table: dict[int, float] | None = None) -> list[Rain]:
    days = {date(2026, 6, d): WeatherDay(date(2026, 6, d), rain_mm=mm)
            for d, mm in (table or {}).items()}  # fmt: skip
    return rain_spans(SETUP, days, entries_of(lines), TIMES)


def test_rain_written_down_on_the_round_of_a_reading_fell_before_it() -> None:
    (rain,) = spans("2026-06-05 08:10 | rain | depth=7 mm")
    assert rain.until == at("2026-06-05 08:00")
    assert rain.since == at("2026-06-04 08:10")  # a day before it was written down


def test_rain_of_an_evening_fell_since_the_morning_reading() -> None:
    (rain,) = spans("2026-06-05 19:00 | rain | depth=7 mm")
    assert (rain.since, rain.until) == (at("2026-06-05 08:00"), at("2026-06-05 19:00"))


def test_the_table_counts_only_where_no_hand_entry_speaks() -> None:
    hand = "2026-06-04 00:00 | rain | depth=0 mm\n2026-06-06 00:00 | rain | depth=3 mm"
    found = spans(hand, {2: 10.0, 5: 99.0, 8: 20.0})
    assert sum(r.mm for r in found if not r.by_hand) == pytest.approx(30.0)
    assert sum(r.mm for r in found if r.by_hand) == pytest.approx(3.0)


def test_a_long_silence_is_laid_on_the_days_that_the_table_calls_wet() -> None:
    hand = "2026-06-02 08:00 | rain | depth=0 mm\n2026-06-10 08:00 | rain | depth=8 mm"
    wet = [r for r in spans(hand, {4: 1.0, 7: 3.0}) if r.mm]
    assert [round(r.mm, 6) for r in wet] == [2.0, 6.0]
    assert wet[0].since == at("2026-06-04 00:00")


def test_a_first_flush_is_taken_from_each_rain_once() -> None:
    assert Rain(0, 10, 10.0, True, 10.0).after_flush_mm(0.5) == pytest.approx(9.5)
    assert Rain(0, 10, 0.4, True, 0.4).after_flush_mm(0.5) == 0


@given(st.lists(st.tuples(st.integers(1, 13), st.integers(0, 23), st.integers(0, 30)),
                max_size=8, unique_by=lambda x: x[:2]))  # fmt: skip
def test_no_rain_is_lost_or_made(found: list[tuple[int, int, int]]) -> None:
    lines = "\n".join(f"2026-06-{d:02d} {h:02d}:30 | rain | depth={mm} mm" for d, h, mm in found)
    told = sum(mm for d, h, mm in found if at(f"2026-06-{d:02d} {h:02d}:30") > TIMES[0])
    assert sum(r.mm for r in spans(lines)) == pytest.approx(told)
