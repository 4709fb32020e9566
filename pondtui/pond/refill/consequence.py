"""What passing a step over will do, in numbers where there are any."""

from __future__ import annotations

from pondtui.pond.refill.case import Case
from pondtui.pond.refill.guards import change_c, pond_l, room_l
from pondtui.science.chlorine import CHRONIC_MG_L, MRDL_MG_L, pond_chlorine_mg_l
from pondtui.science.mixing import water_mass_kg

_WATER = ("dose", "mix", "wait", "chlorine-test", "agree", "tap-shut", "outlet-shut")
_PLAIN = {
    "hose-above-rim": "with no air gap, barrel water can be drawn back into the drinking water "
    "when the pressure drops; plumbing codes forbid it",
    "hose-on": "no time is kept, so nothing rings before the barrel runs over",
    "filled": "nobody knows what stands in the barrel, and no dose can be worked out",
    "level-now": "nobody knows whether the pond has room for it",
    "level-after": "this release will not check the pond's surveyed area",
    "barrel-temp": "nobody knows by how many degrees it will change the pond",
    "outlet-shut-again": "the next filling would run straight to the fish",
}


def consequence(case: Case, step_id: str) -> str:
    """What goes wrong when the step is passed over: mg/L of chlorine in the pond against the
    published limit, degrees, litres over the edge."""
    if step_id in _WATER:
        return harm(case, case.can_leave_l or case.water.held_l)
    if step_id == "barrel-sound":
        weight = water_mass_kg(case.water.held_l + 0.0)
        return f"what the barrel held goes to the fish; {weight:.0f} kg stand in it now"
    if step_id in ("outlet-open", "released"):
        return _release(case)
    return _PLAIN.get(step_id, "one of your own steps is left out")


def harm(case: Case, litres: float) -> str:
    """What letting that much out as it stands would do to the pond's chlorine at the most."""
    water = pond_l(case)
    if not water or litres <= 0:
        return "what it would do to the pond cannot be worked out: no gauge reading, or no water"
    total = case.tap.total_mg_l
    assumed = "" if total is not None else f", the tap taken as {MRDL_MG_L:g} mg/L"
    strength = MRDL_MG_L if total is None else total
    pond = pond_chlorine_mg_l(strength, litres, water)
    return (
        f"if it is untreated, up to {pond:.3f} mg/L of chlorine in the pond, "
        f"{times_chronic(pond):.0f} x the {CHRONIC_MG_L} mg/L that water life bears (EPA 1984)"
        f"{assumed}"
    )


def _release(case: Case) -> str:
    said = []
    change = change_c(case, case.can_leave_l)
    if change is not None:
        said.append(f"it changes the pond by {case.change(change)}")
    space = room_l(case)
    if space is not None and case.can_leave_l > space:
        said.append(f"{case.litres(case.can_leave_l - max(space, 0.0))} go over the edge")
    said.append(harm(case, case.can_leave_l))
    return "; ".join(said)


def times_chronic(pond_mg_l: float) -> float:
    """How many times the chlorine that water life bears for four days."""
    return pond_mg_l / CHRONIC_MG_L
