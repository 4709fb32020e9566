"""The sheet's own numbers: dose by amount filled, one dose for the whole pond, litres of a level.

Everything comes from the rates and doses that the refill itself goes by.
"""

from __future__ import annotations

from datetime import date
from math import ceil

from pondtui.pond.away.model import Grid
from pondtui.pond.away.say import Say
from pondtui.pond.refill.doses import in_devices
from pondtui.pond.refill.plan import reserve, target_mark
from pondtui.pond.refill.rates import AgentRate, rate_per_l
from pondtui.pond.setup.barrels import depth_mm, full_line_l, heel_l
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.pond.state.model import PondState
from pondtui.pond.water.levels import litres_between, pond_volume_l, reading_up
from pondtui.pond.water.recent import believed_mm
from pondtui.records import NamedTuple
from pondtui.units import convert

_MOST_ROWS = 10
_STEPS_L = (5, 10, 20, 25, 50, 100, 200, 250, 500, 1000)
_STEPS_GAL = (1, 2, 5, 10, 20, 25, 50, 100, 250)


class Dose(NamedTuple):
    """An amount of conditioner, and how it is measured."""

    amount: float  # mL or g as `unit` says
    measured: float
    devices: str
    unit: str

    @property
    def told(self) -> str:
        """`14.5 mL (14.5 mL in the 20 mL syringe)`."""
        plain = f"{self.measured:.6g} {self.unit}"
        return plain if self.devices == plain else f"{plain} ({self.devices})"


class WholePond(NamedTuple):
    """The emergency dose: the pond as full as its target."""

    dose: Dose
    pond_l: float


def rate_for(setup: Setup, state: PondState, barrel: Barrel, day: date) -> AgentRate | None:
    """Agent per litre for what a barrel is filled with; None where it cannot be worked out, and
    for rain."""
    if barrel.source == "rain":
        return None
    return rate_per_l(setup, barrel.source, day, state.tap_chlorine)


def dose_of(setup: Setup, rate: AgentRate, litres: float, day: date) -> Dose:
    """The dose for so much water, rounded up to the mark."""
    conditioner = setup.conditioner_on(day)
    devices = conditioner.devices if conditioner is not None else ()
    amount = rate.per_l * litres
    measured, told = in_devices(amount, devices, rate.unit)
    if not devices:
        measured = ceil(amount * 10 - 1e-9) / 10
    return Dose(amount, measured, told, rate.unit)


def dose_grid(setup: Setup, state: PondState, barrel: Barrel, day: date) -> Grid | None:
    """Filled to, depth of water, dose, and how it is measured; None where no rate is known."""
    rate = rate_for(setup, state, barrel, day)
    if rate is None:
        return None
    say = Say(setup)
    filled = _fillings(setup, barrel)
    rows = []
    for litres in filled:
        dose = dose_of(setup, rate, litres, day)
        depth = say.gauge(depth_mm(barrel, litres))
        rows.append((say.litres(litres), depth, f"{dose.measured:.6g} {dose.unit}", dose.devices))
    return Grid(
        f'Barrel "{barrel.name}": dose for all the water that stands in it',
        ("water in it", "depth of water", "dose", "measured as"),
        tuple(rows),
        barrel.name,
        tuple(filled),
    )


def _fillings(setup: Setup, barrel: Barrel) -> list[float]:
    """Round amounts from just above the heel up to the full line, that line the last."""
    full, least = full_line_l(barrel), heel_l(barrel)
    unit = Say(setup).gallon
    factor = convert(1.0, unit, "L") if unit else 1.0
    steps = [s * factor for s in (_STEPS_GAL if unit else _STEPS_L)]
    step = next((s for s in steps if (full - least) / s <= _MOST_ROWS), steps[-1])
    first = int(least / step) + 1
    found = [n * step for n in range(first, ceil(full / step))]
    return [*(f for f in found if f < full - step * 0.25), full]


def whole_pond(setup: Setup, state: PondState, day: date) -> WholePond | None:
    """One dose for the whole pond; None where no rate or no volume is known."""
    amount = reserve(setup, state, day)
    conditioner = setup.conditioner_on(day)
    reading = _full_mm(setup, state, day)
    if amount is None or conditioner is None or reading is None:
        return None
    measured, told = in_devices(amount, conditioner.devices, conditioner.unit)
    if not conditioner.devices:
        measured = ceil(amount * 10 - 1e-9) / 10
    dose = Dose(amount, measured, told, conditioner.unit)
    return WholePond(dose, pond_volume_l(setup, reading, day))


def _full_mm(setup: Setup, state: PondState, day: date) -> float | None:
    mark = target_mark(setup)
    return mark.reading_mm if mark is not None else believed_mm(setup, state, day)


def litres_of_fall(setup: Setup, state: PondState, day: date, fall_mm: float) -> float | None:
    """Litres that a fall of the level means near the target; None where no basin floats."""
    reading = _full_mm(setup, state, day)
    if setup.floating(day) is None or reading is None:
        return None
    below = reading_up(setup, reading_up(setup, reading) - fall_mm)
    return litres_between(setup, below, reading, day)
