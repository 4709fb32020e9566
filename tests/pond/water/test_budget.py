"""The water budget closes, counts every term where it belongs, and says what it does not know.

All ponds and amounts are constructed; 1 mm over 1 m2 is 1 L by definition.
"""

from __future__ import annotations

import time
from datetime import date, datetime, timedelta
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.pond.setup.model import Gauge
from pondtui.pond.water.budget import covered, more_readings
from pondtui.pond.water.weather import WeatherDay
from tests.pond.box import POND, SHED, setup_of
from tests.pond.water.books import GUESS, MEANS, budget_of, open_end

DRY = """
2026-06-10 08:00 | level | reading=50 mm
2026-06-20 08:00 | level | reading=90 mm
"""


def test_ten_days_of_falling_water_are_evaporation_and_what_is_not_explained() -> None:
    found = budget_of(DRY, "2026-06-10", "2026-06-20").whole
    assert found.terms.start == pytest.approx(750 * 6)  # 0.8 m deep, 50 mm down
    assert found.terms.end == pytest.approx(710 * 6)
    assert found.terms.evaporation == pytest.approx(10 * 3 * GUESS * 6, rel=0.01)
    assert found.terms.residual == pytest.approx(240 - 10 * 3 * GUESS * 6, abs=3)
    assert found.terms.steady is None  # two readings tell no steady loss from evaporation


@pytest.mark.parametrize(
    ("line", "term", "litres"),
    [
        ("2026-06-15 12:00 | release | barrel=yard; out=100 L", "released", 100.0),
        ("2026-06-15 12:00 | release | barrel=yard; out=100 L; to=elsewhere", "released", 0.0),
        ("2026-06-15 12:00 | direct | buckets=3; bucket=10 L; source=rain", "direct", 30.0),
        ("2026-06-15 12:00 | direct | volume=25 L; source=downpipe", "downpipe", 25.0),
        ("2026-06-15 12:00 | drain | volume=40 L", "drained", 40.0),
        ("2026-06-15 12:00 | rain | depth=5 mm", "rain", 30.0),  # on 6 m2
        ("2026-06-25 12:00 | drain | volume=40 L", "drained", 0.0),  # after the last reading
    ],
)
def test_each_term_is_counted_where_it_belongs(line: str, term: str, litres: float) -> None:
    before = budget_of(DRY, "2026-06-10", "2026-06-20").whole.terms
    after = budget_of(DRY + line, "2026-06-10", "2026-06-20").whole.terms
    assert getattr(after, term) == pytest.approx(litres)
    sign = -1 if term == "drained" else 1
    assert (after.residual or 0) - (before.residual or 0) == pytest.approx(sign * litres)
    assert open_end(after) == pytest.approx(0, abs=1e-9)


def test_rain_that_meets_a_full_pond_runs_over_and_is_no_loss() -> None:
    lines = """
2026-06-10 08:00 | level | reading=15 mm
2026-06-11 08:00 | rain | depth=20 mm
2026-06-11 08:01 | level | reading=10 mm
"""
    found = budget_of(lines, "2026-06-10", "2026-06-11").whole
    # 120 L fell, the level rose by 5 mm or 30 L, a day's evaporation is 3 x 0.85 x 6 = 15 L
    assert found.terms.overflow == pytest.approx(120 - 30 - 3 * GUESS * 6, abs=1)
    assert found.terms.residual == pytest.approx(0, abs=1)
    assert found.errors.overflow is not None
    assert found.errors.overflow > 10


def test_water_that_vanishes_from_a_pond_far_from_its_rim_does_not_run_over() -> None:
    lines = """
2026-06-10 08:00 | level | reading=50 mm
2026-06-11 08:00 | rain | depth=20 mm
2026-06-11 08:01 | level | reading=50 mm
"""
    found = budget_of(lines, "2026-06-10", "2026-06-11").whole
    assert found.terms.overflow == 0
    assert found.terms.residual == pytest.approx(120 - 3 * GUESS * 6, abs=1)


def test_a_roof_gives_what_comes_after_its_first_flush() -> None:
    # The Texas Manual on Rainwater Harvesting (2005) ch. 4: V = area x (rain - first flush) x share
    roof = '[downpipe]\narea = "20 m2"\nrunoff = 0.85\nfirst_flush = "0.5 mm"\n'
    setup = setup_of(POND + MEANS + roof)
    lines = DRY + "2026-06-15 12:00 | rain | depth=10 mm"
    found = budget_of(lines, "2026-06-10", "2026-06-20", setup=setup).whole
    assert found.terms.downpipe == pytest.approx(161.5)
    small = DRY + "2026-06-15 12:00 | rain | depth=0.4 mm"
    assert budget_of(small, "2026-06-10", "2026-06-20", setup=setup).whole.terms.downpipe == 0


BAY = """
[[basin]]
name = "bay"
held = true
shape = "box"
length = "1 m"
width = "1 m"
depth = "0.4 m"
draindown = "60 mm"
gate = true
gate_level = "30 mm"
"""


def test_a_held_basin_catches_and_evaporates_through_the_floating_one() -> None:
    setup = setup_of(POND + BAY + MEANS)
    lines = DRY + "2026-06-15 12:00 | rain | depth=5 mm"
    terms = budget_of(lines, "2026-06-10", "2026-06-20", setup=setup).whole.terms
    assert terms.rain == pytest.approx(5 * 7)  # 6 m2 and 1 m2
    assert terms.evaporation == pytest.approx(10 * 3 * GUESS * 7, rel=0.01)


def test_a_pump_that_stops_makes_no_water() -> None:
    setup = setup_of(POND + BAY + MEANS)
    lines = """
2026-06-10 08:00 | level | reading=50 mm; pump=on
2026-06-10 20:00 | event | what=pump-off
2026-06-10 20:30 | level | reading=40 mm; pump=off
2026-06-10 21:00 | event | what=pump-on
2026-06-10 22:00 | level | reading=50 mm; pump=on
"""
    terms = budget_of(lines, "2026-06-10", "2026-06-10", setup=setup).whole.terms
    # 60 L ran down and back, and are no term; the level shows none of the hours' evaporation
    assert terms.residual == pytest.approx(-(terms.evaporation or 0))
    assert terms.end == terms.start


def test_a_basin_off_the_pump_loses_its_own_water() -> None:
    setup = setup_of(POND + BAY + MEANS)
    lines = """
2026-06-10 08:00 | level | reading=50 mm; pump=off
2026-06-20 08:00 | level | reading=75.5 mm; pump=off
"""
    terms = budget_of(lines, "2026-06-10", "2026-06-20", setup=setup).whole.terms
    # both fell by 10 x 3 x 0.85 mm: the gauge shows that of the floating one alone
    assert terms.evaporation == pytest.approx(25.5 * 7, rel=0.01)
    assert terms.residual == pytest.approx(0, abs=2)


def test_a_shut_gate_keeps_more_water_in_its_basin() -> None:
    setup = setup_of(POND + BAY + MEANS)
    lines = """
2026-06-10 08:00 | level | reading=50 mm
2026-06-10 08:10 | event | what=gate-shut; kind=bay
2026-06-10 12:00 | level | reading=55 mm
"""
    terms = budget_of(lines, "2026-06-10", "2026-06-10", setup=setup).whole.terms
    assert terms.end == terms.start  # 30 mm more on 1 m2, 5 mm less on 6 m2
    assert terms.residual == pytest.approx(0, abs=6)


def test_one_reading_is_no_budget_and_it_says_so() -> None:
    found = budget_of("2026-06-10 08:00 | level | reading=50 mm")
    assert not covered(found)
    assert set(found.whole.terms) == {None}


def test_few_readings_give_no_steady_loss_but_the_number_that_lacks() -> None:
    found = budget_of(DRY, "2026-06-10", "2026-06-20")
    assert found.whole.terms.steady is None
    assert found.whole.errors.steady is None
    assert more_readings(found) > 20
    assert not found.whole.unexplained


def test_without_weather_evaporation_is_not_made_up() -> None:
    found = budget_of(DRY, "2026-06-10", "2026-06-20", setup=setup_of(POND))
    assert found.whole.terms.evaporation is None
    assert found.whole.terms.residual == pytest.approx(240)
    assert found.without_weather == pytest.approx(10)
    assert not found.whole.unexplained


def test_a_misread_gauge_counts_for_nothing() -> None:
    wrong = "2026-06-15 08:00 | level | reading=900 mm\n"  # below the bottom
    assert (
        budget_of(DRY + wrong, "2026-06-10", "2026-06-20").whole.terms
        == budget_of(DRY, "2026-06-10", "2026-06-20").whole.terms
    )


def test_a_reading_of_long_ago_does_not_say_where_the_days_begin() -> None:
    old = "2026-04-02 08:00 | level | reading=40 mm\n"
    found = budget_of(old + DRY, "2026-06-01", "2026-06-20").whole
    assert found.first == date(2026, 6, 10)
    near = "2026-05-30 08:00 | level | reading=40 mm\n"
    nearer = budget_of(near + DRY, "2026-06-01", "2026-06-20").whole
    assert nearer.first == date(2026, 6, 1)
    assert nearer.errors.start is not None
    assert found.errors.start is not None
    assert nearer.errors.start > found.errors.start  # two days from the nearest reading


def daily(steady_mm: float, days: int = 60) -> str:
    """A pond that loses evaporation and so much more, read every morning to the tenth."""
    lines, level = [], 50.0
    for n in range(days):
        day = date(2026, 5, 1) + timedelta(n)
        lines.append(f"{day} 08:00 | level | reading={level:.1f} mm; pump=on")
        level += (2.0 if day.month == 5 else 3.0) * 0.9 + steady_mm
        if level > 90:
            lines.append(f"{day} 09:00 | direct | volume=300 L; source=tap; dose=30 mL")
            level -= 50
    return "\n".join(lines)


def test_a_known_loss_leaves_nothing_unexplained() -> None:
    found = budget_of(daily(2.0), "2026-05-01", "2026-06-29")
    terms, errors = found.whole.terms, found.whole.errors
    assert terms.steady is not None
    assert terms.residual == pytest.approx(0, abs=25)  # of 1,580 L lost
    assert not found.whole.unexplained
    assert found.whole.loss_error_l is not None
    # what one term is too large the other is too small: their sum is known better than either
    assert found.whole.loss_error_l < hypot(errors.steady or 0, errors.evaporation or 0) / 2


def test_water_that_nobody_wrote_down_is_called_out() -> None:
    told = daily(0.5) + "\n2026-06-12 10:00 | drain | volume=900 L"
    found = budget_of(told + "\n2026-06-13 10:00 | rain | depth=0.1 mm", "2026-05-01", "2026-06-29")
    assert found.whole.unexplained  # 900 L went that the level does not show
    assert (found.whole.terms.residual or 0) == pytest.approx(-900, abs=60)


def test_without_any_rain_written_down_a_gain_is_not_called_out() -> None:
    told = daily(0.5) + "\n2026-06-12 10:00 | drain | volume=900 L"
    found = budget_of(told, "2026-05-01", "2026-06-29")
    assert not found.rain_known
    assert not found.whole.unexplained


def test_months_and_days_add_up_to_the_whole() -> None:
    for by in ("day", "month", "season"):
        found = budget_of(daily(1.0), "2026-05-01", "2026-06-29", by=by)
        for name in ("rain", "direct", "evaporation", "steady", "residual"):
            parts = sum(getattr(p.terms, name) or 0.0 for p in found.periods)
            assert parts == pytest.approx(getattr(found.whole.terms, name) or 0.0, abs=1e-6)
        ends = [p.terms.end for p in found.periods if p.terms.end is not None]
        starts = [p.terms.start for p in found.periods if p.terms.start is not None]
        assert ends[:-1] == pytest.approx(starts[1:])


EVENTS = st.sampled_from([
    "level | reading={} mm", "level | reading={} mm; pump=off", "level | reading={} mm; pump=on",
    "rain | depth={} mm", "rain | depth={} mm; hours=3 h", "direct | volume={} L; source=rain",
    "direct | volume={} L; source=downpipe", "drain | volume={} L", "event | what=overflow",
    "event | what=pump-off", "event | what=pump-on", "event | what=gate-shut",
    "event | what=gate-open", "release | barrel=yard; out={} L", "event | what=smoke",
])  # fmt: skip
START = datetime(2026, 5, 20)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 60 * 24 * 60), EVENTS, st.integers(1, 300)), max_size=40),
    st.sampled_from(["day", "month", "season"]),
    st.booleans(),
    st.booleans(),
)
def test_any_season_closes_to_rounding(
    found: list[tuple[int, str, int]], by: str, with_table: bool, upwards: bool
) -> None:
    lines = "\n".join(
        f"{START + timedelta(minutes=minute):%Y-%m-%d %H:%M} | {text.format(size)}"
        for minute, text, size in found
    )
    table = {date(2026, 6, n): WeatherDay(date(2026, 6, n), rain_mm=float(n)) for n in (3, 9, 17)}
    roof = '[downpipe]\narea = "3 m2"\nfirst_flush = "0.5 mm"\n'
    setup = setup_of(POND + SHED + BAY + MEANS + roof)
    if upwards:  # a rule that stands in the water
        basins = tuple(b._replace(top_at_mm=400.0) for b in setup.basins)
        setup = setup._replace(gauge=Gauge("up"), basins=basins)
    weather = table if with_table else {}
    answer = budget_of(lines, "2026-05-20", "2026-07-30", setup=setup, by=by, weather=weather,
                       now="2026-07-30 12:00")  # fmt: skip
    for period in (answer.whole, *answer.periods):
        assert abs(open_end(period.terms)) < 1e-6
        assert (period.terms.overflow or 0.0) >= 0
        assert all(error is None or error >= 0 for error in period.errors)


def test_a_season_takes_tens_of_milliseconds() -> None:
    lines = daily(1.0, 61)
    begun = time.process_time()
    for _ in range(3):
        budget_of(lines, "2026-05-01", "2026-06-29")
    assert (time.process_time() - begun) / 3 < 1.0  # 0.03 s on an idle core; others may be busy
