"""What a reading means: ok, watch or act.

The limits are a proposal around published ones; every one is a default, none is law. A reading in
"act" is measured again before anything is done, unless the fish show distress. Oxygen and pH are
compared only with readings of the same hour.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite
from types import MappingProxyType
from typing import Literal

from pondtui.records import NamedTuple
from pondtui.science.ammonia import EMERGENCY_N_MG_L, HARM_N_MG_L, un_ionised_fraction
from pondtui.science.salts import NITRITE_RATIO

Verdict = Literal["ok", "watch", "act"]
Own = Mapping[str, tuple[float, ...]]  # the keeper's own limits, as many as the row has steps
NO_LIMITS: Own = MappingProxyType({})
CP = "common practice, no source"


class Step(NamedTuple):
    """Values below a limit mean this."""

    limit: float
    verdict: Verdict
    with_limit: bool = False  # the limit itself belongs here too


class Reading(NamedTuple):
    """One row of the table: what each band of values means, from low to high."""

    unit: str
    steps: tuple[Step, ...]
    beyond: Verdict  # of values above the last step
    source: str


READINGS: dict[str, Reading] = {
    "chlorine_total": Reading(
        "mg/L as Cl2", (Step(0, "ok", True),), "act", "EPA 440/5-84-030 (1984), from memory"
    ),
    "ammonia_un_ionised": Reading(
        "mg/L as N", (Step(0.02, "ok"), Step(HARM_N_MG_L, "watch")), "act", "UF/IFAS FA16"
    ),
    "nitrite": Reading(
        "mg/L as NO2", (Step(0.1, "ok"), Step(1.0, "watch")), "act", f"SRAC 462; steps {CP}"
    ),
    "nitrate": Reading("mg/L as NO3", (Step(50, "ok"), Step(100, "watch", True)), "act", CP),
    "ph": Reading(
        "",
        (Step(6.5, "act"), Step(7.0, "watch"), Step(8.5, "ok", True), Step(9.0, "watch", True)),
        "act",
        "SRAC 464: 6.5 to 9.0; inner steps " + CP,
    ),
    "ph_change": Reading(
        "in a day, at the same hour", (Step(0.3, "ok"), Step(0.5, "watch")), "act", "SRAC 464; FAO"
    ),
    "alkalinity": Reading(
        "mg/L CaCO3", (Step(20, "act"), Step(75, "watch")), "ok", "SRAC 464: 75 to 200, floor 20"
    ),
    "alkalinity_falling": Reading(
        "mg/L CaCO3", (Step(50, "act"), Step(75, "watch")), "ok", f"SRAC 464; 50 {CP}"
    ),
    "oxygen": Reading("mg/L", (Step(4, "act"), Step(5, "watch")), "ok", "UF/IFAS FA27"),
    "temp": Reading("degC", (Step(27, "ok", True), Step(30, "watch", True)), "act", CP),
    "temp_change": Reading("degC in a day, at like hours", (Step(3, "ok"),), "act", CP),
}


def limits_of(reading: str, own: Own = NO_LIMITS) -> tuple[float, ...]:
    """The limits between the steps of a reading: the keeper's own where there are."""
    return own.get(reading) or tuple(step.limit for step in READINGS[reading].steps)


def judge(reading: str, value: float, own: Own = NO_LIMITS) -> Verdict:
    """What this value of a reading in `READINGS` means, by the keeper's own limits where there are.

    Raises KeyError for a reading that is not in the table, ValueError for no number.
    """
    row = READINGS[reading]
    if not isfinite(value):
        raise ValueError(f"{reading} has no value")
    limits = limits_of(reading, own)
    for step, limit in zip(row.steps, limits, strict=True):
        if value < limit or (step.with_limit and value == limit):
            return step.verdict
    return row.beyond


def sound(reading: str, own: Own = NO_LIMITS) -> tuple[float | None, float | None]:
    """The range of values that are ok: its lowest and highest, None where it is open."""
    row = READINGS[reading]
    limits = limits_of(reading, own)
    verdicts = [*(step.verdict for step in row.steps), row.beyond]
    place = verdicts.index("ok")
    low = limits[place - 1] if place else None
    return low, limits[place] if place < len(limits) else None


def judge_ammonia(total_n_mg_l: float, ph: float, temp_c: float, own: Own = NO_LIMITS) -> Verdict:
    """What total ammonia means at this pH and temperature; it has no fixed limit of its own.

    Raises ValueError outside the range of the un-ionised fraction.
    """
    return judge("ammonia_un_ionised", total_n_mg_l * un_ionised_fraction(ph, temp_c), own)


def ammonia_emergency(total_n_mg_l: float, ph: float, temp_c: float) -> bool:
    """Whether total ammonia is an emergency at this pH and temperature.

    Raises ValueError outside the range of the un-ionised fraction.
    """
    return total_n_mg_l * un_ionised_fraction(ph, temp_c) >= EMERGENCY_N_MG_L


def judge_nitrite(
    nitrite_no2_mg_l: float, chloride_mg_l: float | None = None, own: Own = NO_LIMITS
) -> Verdict:
    """What nitrite means, with the chloride that shields the fish where it is known.

    Raises ValueError for no number.
    """
    verdict = judge("nitrite", nitrite_no2_mg_l, own)
    bare = chloride_mg_l is not None and chloride_mg_l < NITRITE_RATIO * nitrite_no2_mg_l
    return "act" if bare and verdict == "watch" else verdict
