"""What is worked out from water tests instead of being asked."""

from __future__ import annotations

from collections.abc import Iterator

from pondtui.pond.daily.judged import Judged, earlier, seen
from pondtui.pond.daily.readings import READINGS, Verdict, judge, judge_nitrite
from pondtui.pond.daily.remedies import remedy
from pondtui.pond.daily.series import Series, Value, beside
from pondtui.pond.daily.times import DAY_S
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.science import ammonia as nh
from pondtui.science.carbonate import co2_mg_l
from pondtui.science.nitrogen import convert
from pondtui.science.oxygen import percent, saturation_mg_l, station_pressure_kpa
from pondtui.science.salts import NITRITE_RATIO
from pondtui.units import read_measured, show

EPA = "EPA 822-R-13-001 (2013)"
PH_ERROR = 0.3  # of a kit: a factor of two in carbon dioxide
CHLORIDE_KEEPS_S = 30 * DAY_S  # it changes with salt and water changes only
NOON = 12
HIGH_PH = 8.5  # in the afternoon green water goes higher, and back at night


def ammonia(setup: Setup, found: Series) -> Iterator[Judged]:
    """The un-ionised form as a range for the kit's step, and the total beside EPA's limits."""
    last = found["ammonia"][-1]
    ph, temp = beside(found, "ph", last.instant), beside(found, "temp", last.instant)
    bare = Judged("ammonia_limits", last.value, last.instant, None, below=last.below,
                  written=last.text)  # fmt: skip
    if ph is None or temp is None:
        lacks = " and ".join(w for w, v in (("pH", ph), ("temperature", temp)) if v is None)
        yield bare._replace(text=f"measure {lacks} with it: nobody knows how harmful it is without")
        return
    try:
        share = nh.un_ionised_fraction(ph.value, temp.value)
        limits = nh.limits(ph.value, temp.value)
    except ValueError as error:
        yield bare._replace(text=str(error))
        return
    again = _was_act(setup, found)
    warm = show(temp.value, "temperature", setup.pond.units)
    yield _un_ionised(setup, last, share, f"at pH {ph.value:g} and {warm}", again)
    yield _total(bare, limits, again)


def _un_ionised(setup: Setup, last: Value, share: float, where: str, again: bool) -> Judged:
    low, high = kit_range(setup, last)
    free = last.value * share
    verdict = judge("ammonia_un_ionised", free, setup.readings)
    text = f"{share:.1%} of the total {where}"
    if last.below and verdict != "ok":  # nothing was seen: only as bad as the step could hide
        verdict, text = "watch", f"{text}; the kit's first step is too coarse for that"
    elif free >= nh.EMERGENCY_N_MG_L:
        text += "; an EMERGENCY"
    name = "ammonia_un_ionised"
    todo = remedy(name, verdict, confirmed=again)
    return Judged(name, free, last.instant, verdict, text, todo, READINGS[name].source, last.below,
                  low * share, high * share)  # fmt: skip


def _total(bare: Judged, limits: nh.Limits, again: bool) -> Judged:
    verdict: Verdict = "ok"
    if bare.value > limits.chronic_n_mg_l and not bare.below:
        verdict = "act" if bare.value > limits.acute_n_mg_l else "watch"
    text = (
        f"EPA's strictest limits here: {limits.acute_n_mg_l:.2g} for an hour, "
        f"{limits.four_day_n_mg_l:.2g} for four days, {limits.chronic_n_mg_l:.2g} for a month"
    )
    todo = remedy("ammonia_limits", verdict, confirmed=again)
    return bare._replace(verdict=verdict, text=text, remedy=todo, source=EPA)


def _was_act(setup: Setup, found: Series) -> bool:
    """Whether an earlier test of the last day said act too."""
    for value in earlier(found["ammonia"]):
        ph, temp = beside(found, "ph", value.instant), beside(found, "temp", value.instant)
        if value.below or ph is None or temp is None:
            continue
        if not (4 <= ph.value <= 11 and 0 <= temp.value <= 40):
            continue
        free = value.value * nh.un_ionised_fraction(ph.value, temp.value)
        if judge("ammonia_un_ionised", free, setup.readings) == "act":
            return True
    return False


def kit_range(setup: Setup, value: Value) -> tuple[float, float]:
    """What the true value may be: half of the kit's first step either way."""
    if value.below:
        return 0.0, value.value
    step = 0.0
    if setup.kit.ammonia:
        amount, _, basis = read_measured(setup.kit.ammonia, "concentration")
        step = convert(amount, basis, "N")
    return max(value.value - step / 2, 0.0), value.value + step / 2


def nitrite(setup: Setup, found: Series) -> Judged:
    """Nitrite, with the chloride that shields the fish where it is known."""
    last = found["nitrite"][-1]
    chloride = next(
        (v for v in reversed(found.get("chloride", []))
         if abs(last.instant - v.instant) <= CHLORIDE_KEEPS_S), None
    )  # fmt: skip
    known = None if chloride is None else chloride.value
    verdict = judge_nitrite(seen(last), known, setup.readings)
    need = NITRITE_RATIO * last.value
    if known is None:
        text = f"chloride of {need:.3g} mg/L would shield from it: measure it"
    else:
        enough = "enough" if known >= need else "too little"
        text = f"chloride {known:g} mg/L, {need:.3g} wanted: {enough}"
    before = earlier(found["nitrite"])
    again = any(judge_nitrite(seen(v), known, setup.readings) == "act" for v in before)
    return Judged(
        "nitrite", last.value, last.instant, verdict, "" if verdict == "ok" else text,
        remedy("nitrite", verdict, confirmed=again), READINGS["nitrite"].source, last.below,
        written=last.text,
    )  # fmt: skip


def saturation(setup: Setup, found: Series, last: Value) -> str:
    """`78 % of the 9.1 mg/L that water of 20 degC holds at 40 m`."""
    temp = beside(found, "temp", last.instant)
    if temp is None or not 0 <= temp.value <= 40:
        return "measure the temperature with it to know what the water could hold"
    height = setup.pond.elevation_m
    pressure = station_pressure_kpa(height or 0.0)
    share = percent(last.value, temp.value, pressure)
    full = saturation_mg_l(temp.value, pressure)
    system = setup.pond.units
    warm = show(temp.value, "temperature", system)
    place = f"at {show((height or 0.0) * 1000, 'length', system, digits=0)}"
    if height is None:
        place = "at sea level (pond.toml names no elevation)"
    return f"{share:.0f} % of the {full:.1f} mg/L that water of {warm} holds {place}"


def of_the_morning(setup: Setup, last: Value) -> str:
    """What is to be said of a pH that was not measured in the morning."""
    late = local_time(setup, last.instant).hour >= NOON
    return "of the afternoon: lower in the morning" if late and last.value > HIGH_PH else ""


def carbon_dioxide(found: Series) -> Judged | None:
    """From pH and alkalinity as a range, for information only; None where one is not known."""
    if "ph" not in found or "alkalinity" not in found:
        return None
    ph = found["ph"][-1]
    alkalinity = beside(found, "alkalinity", ph.instant, 7 * DAY_S)
    temp = beside(found, "temp", ph.instant)
    if alkalinity is None or temp is None:
        return None
    try:
        middle, low, high = (
            co2_mg_l(ph.value + off, temp.value, alkalinity.value)
            for off in (0.0, PH_ERROR, -PH_ERROR)
        )
    except ValueError:
        return None  # outside the formula's range: nothing worth a guess
    return Judged(
        "carbon_dioxide", middle, ph.instant, None, "by pH and alkalinity, advice only",
        source="Plummer & Busenberg (1982)", low=low, high=high,
    )  # fmt: skip
