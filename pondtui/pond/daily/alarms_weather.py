"""Alarms that need the weather: losses that it does not explain, frost and heat."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from pondtui.pond.daily.alarm_look import DAY_S, Look
from pondtui.pond.state.model import Alarm
from pondtui.pond.water.recent import WINDOW_S, recent_loss
from pondtui.units import show

if TYPE_CHECKING:
    from pondtui.pond.daily.climate import Climate

FROST_C, HARD_FROST_C, HEAT_C = 0.0, -4.0, 30.0  # of the air: common practice, no source
FEWEST_DAYS = 3  # with weather, before it is said what it can take
SITE_MOST = 1.25  # of open water's loss: an open site, and evaporation computed 10 % too small
SPARE_MM = 2.0  # animals, splash and evaporation computed too small, mm/day
SURE = 1.3  # times the 95 % error: keepers look daily, so one look has to be surer than that


def steady_loss(look: Look) -> list[Alarm]:
    """Something is lost that does not follow the weather, in two windows one after the other."""
    alarm = look.climate.steady if look.climate is not None else None
    if alarm is None:
        return []
    system = look.setup.pond.units
    low, high = (show(mm, "depth_rate", system, digits=1 if system == "metric" else 2)
                 for mm in (alarm.later.low, alarm.later.high))  # fmt: skip
    text = f"between {low} and {high} are lost that do not follow the weather"
    remedy = (
        "a bucket test with the pump on, then off, shows where: `pondtui worksheet bucket-test`"
    )
    return [Alarm("loss-steady", alarm.since, text, remedy, "watch")]


def unusual_loss(look: Look) -> list[Alarm]:
    """The last days lost surely more than their weather can take from any pond."""
    if look.climate is None:
        return []
    recent = recent_loss(look.setup, look.state)
    level = look.state.level
    if recent.loss_mm_per_day is None or recent.error_mm_per_day is None or level is None:
        return []
    takes = _weather_takes(look.climate, look.day)
    surely = recent.loss_mm_per_day - SURE * recent.error_mm_per_day
    if takes is None or surely <= SITE_MOST * takes + SPARE_MM:
        return []
    system = look.setup.pond.units
    lost, most = (show(mm, "depth_rate", system, digits=1 if system == "metric" else 2)
                  for mm in (recent.loss_mm_per_day, SITE_MOST * takes + SPARE_MM))  # fmt: skip
    text = f"the last days lost {lost}, their weather takes {most} at most"
    remedy = "look at falls, hoses and the edge; was there an overflow, the pump off, a heron?"
    return [Alarm("loss-unusual", level.instant, text, remedy, "watch")]


def _weather_takes(climate: Climate, today: date) -> float | None:
    """Mean evaporation of the days that the recent loss speaks of; None with too few of them."""
    back = WINDOW_S // DAY_S
    found = [climate.evaporation.get(today - timedelta(n)) for n in range(1, back + 1)]
    known = [day.mm for day in found if day is not None]
    return sum(known) / len(known) if len(known) >= FEWEST_DAYS else None


def frost(look: Look) -> list[Alarm]:
    """Frost of last night, or in the days ahead that the tables tell."""
    cold = _coldest(look)
    if cold is None or cold[1] > FROST_C:
        return []
    day, tmin = cold
    air = show(tmin, "temperature", look.setup.pond.units)
    remedy = "drain the hose and the outlet pipe, keep a hole in the ice, feed nothing"
    if tmin <= HARD_FROST_C:
        remedy = "drain barrels and hose, lift the pump, keep a hole open, never hammer the ice"
    return [Alarm("frost", look.now, f"{_when(look, day)} {air}", remedy, "watch")]


def heat(look: Look) -> list[Alarm]:
    """Air so hot, today or in the days ahead, that the water loses its oxygen by dawn."""
    days = _days(look)
    hot = [(day, t) for day, _, t in days if t is not None and t >= HEAT_C and day >= look.day]
    if not hot:
        return []
    day, tmax = max(hot, key=lambda each: each[1])
    air = show(tmax, "temperature", look.setup.pond.units)
    remedy = "shade and more air, measure oxygen at dawn, feed less"
    return [Alarm("heat", look.now, f"{_when(look, day)} {air}", remedy, "watch")]


def _coldest(look: Look) -> tuple[date, float] | None:
    cold = [(day, tmin) for day, tmin, _ in _days(look) if tmin is not None]
    return min(cold, key=lambda each: each[1]) if cold else None


def _days(look: Look) -> Sequence[tuple[date, float | None, float | None]]:
    """Yesterday, today and what of the next days the tables hold."""
    if look.climate is None:
        return []
    found = [look.climate.days.get(look.day + timedelta(n)) for n in range(-1, 4)]
    return [(w.day, w.tmin_c, w.tmax_c) for w in found if w is not None]


def _when(look: Look, day: date) -> str:
    words = {-1: "the weather of yesterday had", 0: "the weather of today has"}
    return words.get((day - look.day).days, f"the weather of {day:%a %d %b} has")
