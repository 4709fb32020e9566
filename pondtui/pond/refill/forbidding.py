"""What forbids starting a plan now, or will stand in its way as far as can be foreseen."""

from __future__ import annotations

from pondtui.pond.refill.guards import (
    Verdict,
    bottle,
    ceiling,
    forbidden,
    fresh_reading,
    pond_temp_c,
    room_l,
    volume,
)
from pondtui.pond.refill.totals import Dealt, batch_temps
from pondtui.science.mixing import largest_addition_l, mixed
from pondtui.units import show


def forbidding(dealt: Dealt) -> tuple[Verdict, ...]:
    """What forbids starting now, each guard once."""
    found: dict[str, Verdict] = {}
    for name in dealt.barrels:
        mine = [b for b in dealt.batches if b.barrel == name]
        case = dealt.case(name)
        checks = [fresh_reading(case)]
        if any(b.add_l > 0 for b in mine):
            checks.append(forbidden(case))
        if any(b.treat_l > 0 for b in mine):
            checks += [bottle(case), ceiling(case)]
        if any(b.dose is None for b in mine):
            checks.append(volume(case))
        for verdict in checks:
            if not verdict.open:
                found.setdefault(verdict.guard, verdict)
    foreseen = (_warmth(dealt), _room(dealt))
    return (*found.values(), *(v for v in foreseen if not v.open))


def _warmth(dealt: Dealt) -> Verdict:
    """Whether a batch changes the pond by more than one release may, as far as is foreseen."""
    limit = dealt.setup.limits.pond_change_c
    for planned, added in zip(dealt.batches, batch_temps(dealt), strict=True):
        pond = pond_temp_c(dealt.case(planned.barrel))
        if pond is None or added is None:
            continue
        change = mixed(dealt.start_l, pond, planned.release_l, added) - pond
        if abs(change) > limit:
            system = dealt.setup.pond.units
            reason = (
                f"a batch from {planned.barrel} would change the pond by "
                f"{show(change, 'temperature_change', system)}, the limit is "
                f"{show(limit, 'temperature_change', system)}: let it stand, or let out less"
            )
            most = largest_addition_l(dealt.start_l, pond, added, limit)
            return Verdict("warmth", False, reason, min(most, planned.release_l))
    return Verdict("warmth", True)


def _room(dealt: Dealt) -> Verdict:
    """Whether the pond takes what is planned, the gauge's error and what runs back counted in."""
    out = sum(b.release_l for b in dealt.batches)
    space = room_l(dealt.case(next(iter(dealt.barrels)))) if dealt.barrels else None
    if space is None or out <= space:
        return Verdict("room", True)
    system = dealt.setup.pond.units
    reason = (
        f"{show(out, 'volume', system)} may go over the edge: there is room for "
        f"{show(max(space, 0.0), 'volume', system)}, the gauge's error and what runs back "
        "when the pump stops counted in"
    )
    return Verdict("room", False, reason, max(space, 0.0))


def stock(dealt: Dealt, left: float | None, kept: float | None, used: float) -> tuple[Verdict, ...]:
    """Whether the bottle still holds the reserve after the plan."""
    conditioner = dealt.setup.conditioner_on(dealt.day)
    if left is None or kept is None or conditioner is None or not used or left >= kept:
        return ()
    reason = (
        f"the bottle would hold {left:.0f} {conditioner.unit} after this; "
        f"{kept:.0f} {conditioner.unit} stay back for an emergency dose of the whole pond"
    )
    return (Verdict("stock", False, reason),)
