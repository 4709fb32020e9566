"""What is said of a pond's loss: constructed ponds with a known answer."""

from __future__ import annotations

import random
from collections.abc import Mapping
from datetime import date, timedelta
from itertools import count
from types import MappingProxyType

import pytest

from pondtui.pond.setup.model import Mark, Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import Level, PondState
from pondtui.pond.water import loss as losses
from pondtui.pond.water.evaporation import FULL, TEMPERATURE, DayEvaporation
from pondtui.pond.water.loss import Loss, LossAlarm, alarm_in, estimate
from pondtui.pond.water.loss_model import EXACT, Allowance
from pondtui.pond.water.runs import unbroken_runs
from tests.pond.water.test_runs import DAY, FIRST, SETUP, at

DEEP = SETUP._replace(basins=(SETUP.basins[0]._replace(depth_mm=5000),), marks=())


def evaporation(days: int, seed: int = 1, tier: str = FULL) -> dict[date, DayEvaporation]:
    """Days that differ, so that the site factor shows."""
    chance = random.Random(seed)
    return {
        FIRST + timedelta(n): DayEvaporation(max(0.0, chance.gauss(3.5, 1.5)), tier, "")
        for n in range(-1, days + 2)
    }


def falling(
    days: int,
    steady: float | list[float],
    *,
    factor: float = 0.85,
    error: float = 2.0,
    seed: int = 2,
    off: Mapping[int, float] = MappingProxyType({}),
) -> PondState:
    """A reading a day, those of the days in `off` wrong by so many mm."""
    chance = random.Random(seed)
    water = evaporation(days)
    level, found = 50.0, []
    for n in range(days + 1):
        seen = level + chance.gauss(0, error) + off.get(n, 0.0)
        found.append(Level(at(n), round(seen), "on"))
        day = FIRST + timedelta(n)
        lost = steady[n] if isinstance(steady, list) else steady
        level += factor * water[day].mm * 0.77 + factor * water[day + timedelta(1)].mm * 0.23 + lost
    return PondState(now=at(days), entries=0, levels=tuple(found), level=found[-1])


def told(state: PondState, setup: Setup = DEEP, **more: object) -> Loss:
    days = round((state.now - at(0)) / DAY)
    options = {"allowance": EXACT, **more}
    return estimate(setup, state, evaporation(days), None, None, state.now, **options)  # type: ignore[arg-type]  # options by name


def test_a_pond_is_parted_into_weather_and_steady_loss() -> None:
    loss = told(falling(90, 3.0, error=1.0))
    assert loss.site_factor is not None
    assert loss.steady is not None
    assert loss.steady_l is not None
    assert loss.site_factor.low < 0.85 < loss.site_factor.high
    assert loss.steady.value == pytest.approx(3.0, abs=0.3)
    assert loss.steady.low < 3.0 < loss.steady.high
    assert loss.steady_l == pytest.approx([6 * mm for mm in loss.steady])  # 6 m2
    assert loss.correlation < -0.5
    assert loss.plain_mm_per_day == pytest.approx(loss.steady.value, abs=0.2)
    assert (loss.verdict, loss.more_readings) == (losses.STEADY_LOSS, 0)
    assert loss.confidence == 0.95


def test_a_tight_pond_is_called_one() -> None:
    loss = told(falling(90, 0.0, error=1.0))
    assert loss.verdict == losses.NONE_FOUND
    assert loss.changed_on is None


def test_few_readings_ask_for_more() -> None:
    coarse = DEEP._replace(gauge=DEEP.gauge._replace(error_mm=4.0))
    loss = told(falling(10, 1.0, error=4.0), coarse)
    assert loss.verdict == losses.MORE_READINGS
    assert 1 <= loss.more_readings <= losses.MOST_READINGS
    none = told(falling(3, 1.0))
    assert (none.site_factor, none.steady, none.steady_l) == (None, None, None)
    assert none.verdict == losses.MORE_READINGS
    assert none.more_readings == losses.USUAL_READINGS - 4


def test_the_more_readings_there_are_the_fewer_are_wanted() -> None:
    wanted = [told(falling(n, 0.75, error=3.0, seed=5)).more_readings for n in (8, 14, 20)]
    assert wanted == sorted(wanted, reverse=True)
    assert wanted[0] > wanted[-1]


def test_a_narrow_interval_that_decides_nothing_is_inconclusive() -> None:
    loss = told(falling(90, 0.75), allowance=Allowance())
    assert loss.verdict == losses.INCONCLUSIVE
    assert loss.more_readings == 0


def test_without_weather_nothing_is_parted() -> None:
    state = falling(90, 3.0)
    loss = estimate(DEEP, state, {}, None, None, state.now)
    assert loss.steady is None
    assert loss.verdict == losses.INCONCLUSIVE
    assert [out.reason for out in loss.left_out] == ["no weather to compute evaporation from"]


def test_only_the_days_asked_for_count() -> None:
    state = falling(90, [0.0] * 45 + [4.0] * 46, error=1.0)
    first, last = FIRST + timedelta(46), FIRST + timedelta(90)
    late = estimate(DEEP, state, evaporation(90), first, last, state.now)
    early = estimate(DEEP, state, evaporation(90), None, FIRST + timedelta(44), state.now)
    assert late.runs[0][0].start.instant == at(46)
    assert early.runs[-1][-1].end.instant == at(44)
    assert late.steady is not None
    assert early.steady is not None
    assert late.steady.value - early.steady.value == pytest.approx(4.0, abs=0.7)


def test_a_change_of_regime_is_found_and_dated() -> None:
    loss = told(falling(120, [0.5] * 60 + [3.5] * 61))
    assert loss.changed_on is not None
    assert abs((loss.changed_on - (FIRST + timedelta(60))).days) <= 6


def test_before_and_after_an_event_have_the_interval_of_their_difference() -> None:
    state = falling(100, [3.0] * 50 + [0.5] * 51)
    around = told(state, event=at(50)).around
    assert around is not None
    assert around.before.value == pytest.approx(3.0, abs=0.7)
    assert around.after.value == pytest.approx(0.5, abs=0.7)
    assert around.difference.high < 0
    assert around.difference.low < -2.5 < around.difference.high
    assert told(state, event=at(99.5)).around is None
    assert told(state, event=at(500)).around is None


def test_an_edge_that_seeps_loses_above_its_mark_only() -> None:
    setup = DEEP._replace(marks=(Mark("low edge", 300.0, "seep"),))
    state = falling(110, 0.0, error=1.5)
    water, chance = evaporation(110), random.Random(3)
    level, found = 50.0, []
    for n in range(111):
        found.append(Level(at(n), round(level + chance.gauss(0, 1.5)), "on"))
        level += 0.85 * water[FIRST + timedelta(n)].mm + (3.0 if level < 300 else 0.5)
    (seeping,) = told(state._replace(levels=tuple(found)), setup).seeping
    assert seeping.mark == "low edge"
    assert seeping.difference.low < 2.5 < seeping.difference.high
    assert seeping.difference.low > 1
    high = setup._replace(marks=(Mark("low edge", 4000.0, "seep"),))
    assert told(state, high).seeping == ()


def test_one_misread_gauge_makes_no_verdict() -> None:
    good = told(falling(40, 0.0, error=1.0))
    assert good.steady is not None
    for wrong in (-90.0, -15.0, -7.0, 7.0, 15.0, 90.0):
        for day in (0, 1, 20, 39, 40):
            loss = told(falling(40, 0.0, error=1.0, off={day: wrong}))
            assert loss.verdict != losses.STEADY_LOSS, (wrong, day)


def test_a_reading_far_from_the_others_is_left_out_by_name() -> None:
    loss = told(falling(60, 1.0, error=1.0, off={30: 12.0}))
    named = [out for out in loss.left_out if "far from" in out.reason]
    assert [(out.since, out.until) for out in named] == [(at(30), at(30))]
    assert not any(f.start.instant == at(30) for run in loss.runs for f in run)


def test_the_weightiest_reading_is_told_with_what_it_does() -> None:
    loss = told(falling(30, 1.0))
    assert loss.influence is not None
    assert loss.steady is not None
    state = falling(30, 1.0)
    kept = tuple(r for r in state.levels if r.instant != loss.influence.level.instant)
    without = told(state._replace(levels=kept)).steady
    assert without is not None
    # the variances are found anew: not the same to the last figure
    assert without.value - loss.steady.value == pytest.approx(
        loss.influence.shift_mm_per_day, abs=0.1
    )


def test_two_readers_of_one_gauge_are_told_apart() -> None:
    numbers = count()

    def by(level: Level) -> Level:
        second = next(numbers) % 3 == 0
        entry = Entry(level.instant, "", "level", {}, {"by": "NB" if second else "MO"})
        return level._replace(reading_mm=level.reading_mm + 8.0 * second, entry=entry)

    state = falling(60, 1.0, error=1.0)
    two = state._replace(levels=tuple(map(by, state.levels)))
    nameless = two._replace(levels=tuple(r._replace(entry=None) for r in two.levels))
    named, blurred = told(two), told(nameless)
    assert named.error_mm is not None
    assert blurred.error_mm is not None
    assert named.error_mm < 1.5 < blurred.error_mm
    assert named.steady is not None
    assert blurred.steady is not None
    assert named.steady.high - named.steady.low < blurred.steady.high - blurred.steady.low


def test_the_allowance_for_the_weather_widens_the_steady_part() -> None:
    state = falling(60, 2.0)
    exact, usual = told(state), told(state, allowance=Allowance())
    more = told(state, allowance=Allowance(noise_mm=1.2, bias=0.2))
    assert exact.allowance_mm == 0
    # ten per cent of 0.85 x 3.5 mm/day at least, as Ham's 10 % of 11 mm/day are 1 mm/day
    assert 0.2 < usual.allowance_mm < more.allowance_mm
    assert exact.steady is not None
    assert usual.steady is not None
    assert exact.steady.value == pytest.approx(usual.steady.value)
    assert usual.steady.low < exact.steady.low < exact.steady.high < usual.steady.high


def test_a_sheltered_pond_begins_with_a_smaller_factor() -> None:
    state = falling(8, 1.0)
    sheltered = DEEP._replace(pond=DEEP.pond._replace(sheltered=True))
    open_factor, factor = told(state).site_factor, told(state, sheltered).site_factor
    assert open_factor is not None
    assert factor is not None
    assert factor.value < open_factor.value


def test_poor_weather_starts_with_more_doubt() -> None:
    state = falling(20, 1.0)
    poor = estimate(DEEP, state, evaporation(20, tier=TEMPERATURE), None, None, state.now)
    full = told(state)
    assert full.daily_mm is not None
    assert poor.daily_mm is not None
    assert poor.daily_mm > full.daily_mm


def alarm_of(state: PondState) -> LossAlarm | None:
    """The alarm after 120 days."""
    return alarm_in(DEEP, unbroken_runs(DEEP, state, evaporation(120), 0, state.now), state.now)


def test_an_alarm_needs_two_windows() -> None:
    leaking = falling(120, 3.0)
    alarm = alarm_of(leaking)
    assert alarm is not None
    assert alarm.since == at(30)
    assert alarm.later.low > losses.STEADY_MM
    assert alarm.earlier.low > losses.STEADY_MM
    fresh = falling(120, [0.0] * 75 + [6.0] * 46)
    assert alarm_of(fresh) is None
    mended = falling(120, [6.0] * 75 + [0.0] * 46)
    assert alarm_of(mended) is None
    tight = falling(120, 0.0)
    assert alarm_of(tight) is None


def test_in_short_is_the_same_estimate_without_what_it_is_compared_by() -> None:
    whole, short = (told(falling(90, 3.0), in_short=short) for short in (False, True))
    assert whole.influence is not None
    assert whole.plain_mm_per_day is not None
    assert short == whole._replace(
        changed_on=None, seeping=(), influence=None, plain_mm_per_day=None
    )
