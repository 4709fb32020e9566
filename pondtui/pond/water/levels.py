"""Gauge readings, litres and areas of the pond at the level that the water really has.

Readings are gauge readings in mm as the keeper says them; `gauge.reads` says which way they run.
Every function that needs the basin that floats raises InputError where the pond has none.
"""

from __future__ import annotations

from datetime import date

from pondtui.errors import InputError
from pondtui.pond.setup.model import Basin, Setup
from pondtui.pond.setup.shapes import bottom_mm, shape_of
from pondtui.science import basins


def reading_up(setup: Setup, reading_mm: float) -> float:
    """A reading on a scale that grows as the water rises: its negative on a gauge read down."""
    return -reading_mm if setup.gauge.reads == "down" else reading_mm


def is_higher(setup: Setup, one_mm: float, other_mm: float) -> bool:
    """Whether the first reading stands for a higher level than the other."""
    return setup.gauge.is_higher(one_mm, other_mm)


def drop_mm(setup: Setup, basin: Basin, reading_mm: float) -> float:
    """How far the level stands below the one at which the basin's sizes hold; negative above."""
    return reading_up(setup, basin.top_at_mm) - reading_up(setup, reading_mm)


def reading_mm(setup: Setup, basin: Basin, drop_mm: float) -> float:
    """The gauge reading of a drop: the inverse of `drop_mm`."""
    return reading_up(setup, reading_up(setup, basin.top_at_mm) - drop_mm)


def floating(setup: Setup, day: date) -> Basin:
    """The basin whose level the gauge reads. Raises InputError."""
    basin = setup.floating(day)
    if basin is None:
        raise InputError("pond.toml: no basin floats: write floats = true in the [[basin]] whose "
                         "level the gauge reads")  # fmt: skip
    return basin


def litres_between(setup: Setup, from_reading_mm: float, to_reading_mm: float, day: date) -> float:
    """Litres that bring the pond from one reading to another; negative where it must lose them."""
    basin = floating(setup, day)
    start = drop_mm(setup, basin, from_reading_mm)
    end = drop_mm(setup, basin, to_reading_mm)
    return basins.volume_between_l(shape_of(basin), end, start) * basin.water_share


def reading_after(setup: Setup, reading: float, litres: float, day: date) -> float:
    """The reading after litres were added (negative: taken); never below the bottom."""
    basin = floating(setup, day)
    start = drop_mm(setup, basin, reading)
    end = basins.drop_after_l(shape_of(basin), start, litres / basin.water_share)
    return reading_mm(setup, basin, end)


def area_m2_at(setup: Setup, reading: float, day: date) -> float:
    """Area of water in the floating basin at a reading: litres per mm of level.

    What the held basins evaporate shows in this level too: their surface is `open_area_m2`.
    """
    basin = floating(setup, day)
    return basins.area_m2(shape_of(basin), drop_mm(setup, basin, reading)) * basin.water_share


def open_area_m2(setup: Setup, reading: float, day: date) -> float:
    """Area of all surfaces that rain falls on and that evaporate: outlines, plants included."""
    basin = floating(setup, day)
    own = basins.area_m2(shape_of(basin), drop_mm(setup, basin, reading))
    return own + sum(basins.area_m2(shape_of(b), 0.0) for b in _held(setup, day))


def pond_volume_l(
    setup: Setup,
    reading: float,
    day: date,
    *,
    pump_on: bool = True,
    gate_shut: frozenset[str] = frozenset(),
) -> float:
    """Litres of water in the whole pond at a reading.

    Held basins stand at their spill edge, higher behind a shut gate; with the pump off they have
    lost what runs back, which then stands in the floating one and shows in the reading.
    """
    basin = floating(setup, day)
    total = _below_l(basin, drop_mm(setup, basin, reading))
    for held in _held(setup, day):
        if held.gate and held.name in gate_shut:
            total += _below_l(held, -held.gate_level_mm)
        else:
            total += _below_l(held, 0.0 if pump_on else held.draindown_mm)
    return total


def draindown_l(setup: Setup, day: date, gate_shut: frozenset[str] = frozenset()) -> float:
    """Litres that run back into the floating basin when the pump stops; none past a shut gate."""
    return sum(
        basins.volume_between_l(shape_of(b), 0.0, b.draindown_mm) * b.water_share
        for b in _held(setup, day)
        if not (b.gate and b.name in gate_shut)
    )


def rise_from_draindown_mm(
    setup: Setup, reading: float, day: date, gate_shut: frozenset[str] = frozenset()
) -> float:
    """How many mm the level rises at a reading when the pump stops."""
    after = reading_after(setup, reading, draindown_l(setup, day, gate_shut), day)
    return reading_up(setup, after) - reading_up(setup, reading)


def _held(setup: Setup, day: date) -> list[Basin]:
    return [basin for basin in setup.basins_on(day) if not basin.floats]


def _below_l(basin: Basin, drop: float) -> float:
    """Litres between a level and the basin's bottom."""
    bottom = bottom_mm(basin)
    return basins.volume_between_l(shape_of(basin), min(drop, bottom), bottom) * basin.water_share
