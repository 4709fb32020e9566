"""`?` on the Refill screen: how the number of the step came about."""

from __future__ import annotations

from pondtui.pond.refill.case import Case
from pondtui.pond.refill.guards import pond_l, pond_temp_c, room_l
from pondtui.pond.refill.pouring import dose_needed
from pondtui.pond.refill.progress import progress
from pondtui.pond.refill.running import pipe_of, release_min
from pondtui.pond.setup.barrels import full_line_l
from pondtui.units import show
from pondtui.views.explain import JOURNAL, Explanation
from pondtui.views.refill import LABEL


def explain(case: Case) -> Explanation:
    """The explanation of the step that is on."""
    on = progress(case).on
    step = on.step.id if on is not None else ""
    if step in ("dose", "mix"):
        return _dose(case)
    if step in ("hose-on", "filled"):
        return _fill(case)
    if step in ("agree", "outlet-open", "released"):
        return _release(case)
    return _held(case)


def _dose(case: Case) -> Explanation:
    needed, rate, conditioner = dose_needed(case), case.rate, case.conditioner
    if needed is None or rate is None or conditioner is None:
        return Explanation("Dose", "cannot be worked out", (), "", JOURNAL)
    wanted, measured, unit, devices = needed
    inputs = [
        ("stands in the barrel", case.litres(case.water.held_l)),
        ("to be treated", case.litres(case.to_treat_l)),
        ("label", f"{rate.label_per_l * 100:.3g} {unit} per 100 L"),
        ("times", f"{rate.factor:.3g} ({rate.why})"),
        ("needed", f"{wanted:.2f} {unit}"),
        ("measured", f"{measured:g} {unit}: {devices}"),
        ("never more than", f"{conditioner.largest_multiple:g} x the label in a litre"),
    ]
    return Explanation(
        "Dose",
        f"{measured:g} {unit}",
        tuple(inputs),
        "label dose x litres to treat / label litres x factor, rounded up to the device's mark",
        "the label in pond.toml; fills and doses in the journal",
        (LABEL, "the heel counts unless it was treated and tested clear since"),
    )


def _fill(case: Case) -> Explanation:
    barrel = case.barrel
    inputs = (
        ("stands in the barrel", case.litres(case.water.held_l)),
        ("of it under the outlet", case.litres(case.heel_l)),
        ("up to the full line", case.litres(full_line_l(barrel))),
        ("shape", barrel.shape),
    )
    return Explanation(
        "Filling",
        case.litres(case.water.held_l),
        inputs,
        "held = at the start + tap flow x time since `start` in the journal",
        "geometry of the vessel; stamps in the journal",
        ("tap flow varies: go and look",),
    )


def _release(case: Case) -> Explanation:
    water = case.water
    minutes, how = release_min(case.barrel, water.timed, water.held_l, case.can_leave_l)
    pipe = pipe_of(case.barrel, water.timed)
    space, temp, pond = room_l(case), pond_temp_c(case), pond_l(case)
    system = case.setup.pond.units
    inputs = [
        ("stands in the barrel", case.litres(water.held_l)),
        ("stays under the outlet", case.litres(case.heel_l)),
        ("can run out", case.litres(case.can_leave_l)),
        ("room in the pond", "not known" if space is None else case.litres(max(space, 0.0))),
        ("water in the pond", "not known" if pond is None else case.litres(pond)),
        ("pond", "not known" if temp is None else case.degrees(temp)),
    ]
    if pipe is not None:
        inputs.append(("loss coefficient", f"{pipe.line.fittings:.2f}, {how}"))
    if minutes is not None:
        inputs.append(("time", show(round(minutes), "time", system)))
    return Explanation(
        "Release",
        case.litres(case.can_leave_l),
        tuple(inputs),
        "g H = v²/2 (K + f L/D), friction by Churchill, depth by depth until the outlet",
        "Churchill (1977); White, Fluid Mechanics: quasi-steady draining; timed releases in the "
        "journal",
        ("room is less the gauge's error and what runs back when the pump stops",),
    )


def _held(case: Case) -> Explanation:
    water = case.water
    inputs = (
        ("at the beginning", case.litres(water.begun_l)),
        ("+ filled", case.litres(water.filled_l)),
        ("+ corrected by looks", case.litres(water.corrected_l)),
        ("- let out", case.litres(water.released_l)),
    )
    return Explanation(
        f"In {water.name}",
        case.litres(water.held_l),
        inputs,
        "held = begun + filled + corrected - released",
        JOURNAL,
    )
