"""A refill plan as text for people and as JSON; its keys are a promise."""

from __future__ import annotations

from typing import Any

from pondtui.pond.refill.plan import NoPlan, Plan, PlannedBatch
from pondtui.pond.setup.model import Setup
from pondtui.units import show


def as_json(plan: Plan | NoPlan, setup: Setup) -> dict[str, Any]:
    """The plan by its keys; without one they are null or empty, and `closed` says why.

    A product that is weighed has `dose_g`, `measured_g`, `conditioner_g`, `conditioner_left_g`.
    """
    if isinstance(plan, NoPlan):
        return _nothing(plan, setup)
    unit = plan.unit.lower()
    return {
        "from_mm": plan.from_mm,
        "to_mark": plan.to_mark,
        "to_mm": plan.to_mm,
        "need_l": plan.need_l,
        "batches": [_batch(b) for b in plan.batches],
        f"conditioner_{unit}": plan.conditioner,
        f"conditioner_left_{unit}": plan.conditioner_left,
        "cost": plan.cost,
        "pond_temp_after_c": plan.pond_temp_after_c,
        "ammonia_rise_n_mg_per_l": plan.ammonia_rise_n_mg_per_l,
        "total_min": plan.total_min,
        "closed": [{"guard": v.guard, "reason": v.reason} for v in plan.closed],
    }


def _nothing(plan: NoPlan, setup: Setup) -> dict[str, Any]:
    unit = setup.conditioners[-1].unit.lower() if setup.conditioners else "ml"
    keys = ("from_mm", "to_mark", "to_mm", "need_l")
    totals = ("cost", "pond_temp_after_c", "ammonia_rise_n_mg_per_l", "total_min")
    agent = (f"conditioner_{unit}", f"conditioner_left_{unit}")
    return {
        **dict.fromkeys(keys),
        "batches": [],
        **dict.fromkeys((*agent, *totals)),
        "closed": [{"guard": plan.guard, "reason": plan.reason}],
    }


def _batch(planned: PlannedBatch) -> dict[str, Any]:
    unit = planned.unit.lower()
    return {
        "barrel": planned.barrel,
        "held_l": planned.held_l,
        "heel_l": planned.heel_l,
        "add_l": planned.add_l,
        "treat_l": planned.treat_l,
        f"dose_{unit}": planned.dose,
        f"measured_{unit}": planned.measured,
        "fill_min": planned.fill_min,
        "wait_min": planned.wait_min,
        "release_l": planned.release_l,
        "release_min": planned.release_min,
        "leaves_l": planned.leaves_l,
    }


def lines(plan: Plan | NoPlan, setup: Setup) -> list[str]:
    """The plan in the pond's own units, doses in the keeper's devices."""
    if isinstance(plan, NoPlan):
        return [f"no plan: {plan.reason}"]
    said = _Said(setup)
    found = [f"CLOSED     {v.words}" for v in plan.closed]
    start, goal = said.length(plan.from_mm), said.length(plan.to_mm)
    if not plan.batches and not plan.short_l:
        found.append(f"level      {start}; {plan.to_mark} is {goal}: nothing to put in")
        return [*found, *(f"note       {note}" for note in plan.notes)]
    need = said.volume(plan.need_l)
    found.append(f"level      {start} to {plan.to_mark} at {goal}: {need}")
    for number, planned in enumerate(plan.batches, 1):
        found += ["", f"batch {number}    {planned.barrel}", *_steps(planned, said)]
    return [*found, "", *_sums(plan, said)]


class _Said:
    """Amounts in the pond's own units."""

    def __init__(self, setup: Setup) -> None:
        self.system = setup.pond.units
        self.currency = setup.pond.currency

    def length(self, mm: float) -> str:
        return show(mm, "length", self.system, rule=True)

    def volume(self, litres: float) -> str:
        return show(litres, "volume", self.system)

    def minutes(self, minutes: float | None) -> str:
        if minutes is None:
            return "time not known"
        return show(float(max(round(minutes), 1)), "time", self.system)


def _steps(planned: PlannedBatch, said: _Said) -> list[str]:
    found = [f"  holds    {said.volume(planned.held_l)}, of it heel {said.volume(planned.heel_l)}"]
    if planned.add_l > 0:
        found.append(f"  fill     {said.volume(planned.add_l)}, {said.minutes(planned.fill_min)}")
    if planned.treat_l > 0:
        found.append(f"  dose     {planned.devices} for {said.volume(planned.treat_l)}")
        found.append(f"  wait     {said.minutes(planned.wait_min)}, then test total chlorine")
    out = said.volume(planned.release_l)
    if planned.buckets is not None:
        found.append(f"  carry    {out}: {planned.buckets} buckets")
    elif planned.release_min is None:
        found.append(f"  release  {out}, time not known: {planned.estimate}")
    else:
        about = said.minutes(planned.release_min)
        found.append(f"  release  {out}, about {about} ({planned.estimate})")
    return [*found, f"  leaves   {said.volume(planned.leaves_l)}"]


def _sums(plan: Plan, said: _Said) -> list[str]:
    found = []
    if plan.conditioner > 0:
        left = ""
        if plan.conditioner_left is not None:
            left = f", {plan.conditioner_left:.0f} {plan.unit} are left in the bottle"
        found.append(f"agent      {plan.conditioner:.4g} {plan.unit} in all{left}")
    if plan.total_min is not None:
        found.append(f"time       {said.minutes(plan.total_min)} of filling, waiting, letting out")
    if plan.cost:
        found.append(f"cost       {plan.cost:.2f} {said.currency}".rstrip())
    if plan.pond_temp_after_c is not None:
        temp = show(plan.pond_temp_after_c, "temperature", said.system)
        found.append(f"pond       {temp} afterwards")
    if plan.ammonia_rise_n_mg_per_l:
        rise = plan.ammonia_rise_n_mg_per_l
        found.append(f"ammonia    up to {rise:.3f} mg/L as N more, from the tap's chloramine")
    return [*found, *(f"note       {note}" for note in plan.notes)]
