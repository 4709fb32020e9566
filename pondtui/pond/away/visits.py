"""Planned places and portions as the visits that the care sheet tells."""

from __future__ import annotations

from datetime import date

from pondtui.pond.away.amounts import dose_of, rate_for
from pondtui.pond.away.giving import Portion, stays_l, to_fill_l
from pondtui.pond.away.model import Visit
from pondtui.pond.away.search import Found, Task, pours
from pondtui.pond.refill.running import release_min, tap_flow_l_min
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.pond.water.levels import reading_up


def as_visits(setup: Setup, state: PondState, found: Found, task: Task) -> tuple[Visit, ...]:
    """One visit a barrel and day."""
    told = []
    levels = iter(pours(task, found.visits))
    for place, portions in found.visits:
        day = task.scene.paths.day(place)
        for portion in portions:
            below = reading_up(setup, next(levels).below_up)
            told.append(_visit(setup, state, day, portion, below))
    return tuple(told)


def _visit(setup: Setup, state: PondState, day: date, portion: Portion, below_mm: float) -> Visit:
    barrel, litres = portion.giver.barrel, portion.litres
    water = state.barrels[barrel.name]
    held = stays_l(barrel) + litres
    if not portion.fills:
        held = portion.giver.batch.held_l + portion.giver.batch.add_l
    minutes, _ = release_min(barrel, water.timed, held, litres)
    carried = barrel.delivery == "carried"
    plain = Visit(
        day,
        portion.hour,
        barrel.name,
        release_l=litres,
        release_min=minutes,
        buckets=round(litres / barrel.bucket_l) if carried else None,
        only_below_mm=below_mm,
    )
    if not portion.fills:
        label = water.batch.label if water.batch is not None and portion.giver.ready else ""
        unit = portion.giver.batch.unit
        return plain._replace(batch=label, unit=unit, use_by=portion.giver.use_by)
    return _filled(setup, state, plain, portion)


def _filled(setup: Setup, state: PondState, plain: Visit, portion: Portion) -> Visit:
    """The sitter fills, and treats all that then stands there."""
    barrel, day = portion.giver.barrel, plain.date
    add = to_fill_l(barrel, portion.litres)
    treat = add + stays_l(barrel)
    rate, conditioner = rate_for(setup, state, barrel, day), setup.conditioner_on(day)
    flow = tap_flow_l_min(setup, barrel)
    filled = plain._replace(add_l=add, treat_l=treat, fill_min=add / flow if flow else None)
    if rate is None or conditioner is None:
        return filled
    dose = dose_of(setup, rate, treat, day)
    return filled._replace(
        dose=dose.amount, measured=dose.measured, devices=dose.devices, unit=dose.unit,
        wait_min=conditioner.wait_min,
    )  # fmt: skip
