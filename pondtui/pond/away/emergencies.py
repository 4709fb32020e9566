"""What to do when it goes wrong, with this pond's own amounts. Steps are common practice of the
trade, no source, but where the numbers name one."""

from __future__ import annotations

from datetime import date

from pondtui.pond.away.amounts import Dose, dose_of, litres_of_fall, rate_for, whole_pond
from pondtui.pond.away.model import Block, Items, Words
from pondtui.pond.away.numbers import fast_fall_mm
from pondtui.pond.away.say import Say
from pondtui.pond.setup.barrels import full_line_l
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.pond.water.levels import draindown_l, rise_from_draindown_mm

CHLORINE = "Chlorine got in (tap water in the pond)"
_SERVICES = "the emergency services (112 in much of Europe, 911 in North America)"


def emergencies(setup: Setup, state: PondState, day: date) -> tuple[Block, ...]:
    """Each case with its steps, people first."""
    number = setup.house.emergency_number
    services = f"the emergency services, {number}" if number else _SERVICES
    return (
        Items("1", (
            f"Ring {services} FIRST, or have somebody ring while you help.",
            "Unplug the pump or switch the breaker off before you reach in.",
            "Get them out and on their side; not breathing: do what the services tell you.",
        ), "A person in the water"),
        Items("1", (
            "Look whether pump, fall and air run; put every air stone and the fall on full.",
            "No food. Shade the water if it is hot.",
            "Test the pond for TOTAL chlorine if a kit is there: any colour, go to the next case.",
            "Ring.",
        ), "Fish gasping at the surface"),
        Items("1", _chlorine(setup, state, day), CHLORINE),
        Items("1", _overdose(setup, state, day), "Too much conditioner"),
        Items("1", _power(setup, state, day), "Power off, or the pump dead"),
        Items("1", _falling(setup, state, day), "Level falling fast"),
        Items("1", (
            "Take it out with a net; wear gloves; put it in a bag in a freezer or a cold place.",
            "Count the others. More than one, or others gasping: air on full, no food, ring at "
            "once.",
            "Write down time, size, anything odd. Do not treat with anything.",
        ), "Dead fish"),
        Items("1", (
            f"No food below {Say(setup).temp(10.0)} of water.",
            "Ice for more than a day or two: melt a hole with a pot of hot water stood on it. "
            "Never hammer, never salt, never walk on it.",
            "Hose and tap: shut off and drained. A full barrel: outlet and lid as they were left.",
        ), "Frost"),
    )  # fmt: skip


def _chlorine(setup: Setup, state: PondState, day: date) -> tuple[str, ...]:
    say = Say(setup)
    whole = whole_pond(setup, state, day)
    if whole is None:
        dose = (
            "Conditioner for the WHOLE POND: the amount could not be worked out, ask the keeper "
            "before they leave and write it here: ____________"
        )
    else:
        dose = (
            f"Conditioner for the WHOLE POND ({say.litres(whole.pond_l)}): {whole.dose.told}"
            f"{_bottles(setup, whole.dose, day)}; spread over the surface where the "
            "water moves. Once."
        )
    return (
        "Shut the tap at the wall and every outlet.",
        dose,
        "Then air: fall, pump and every air stone on full, for a day.",
        "No food for two days. Ring. Test the pond for TOTAL chlorine after an hour.",
    )


def _bottles(setup: Setup, dose: Dose, day: date) -> str:
    """How much of a full bottle that is."""
    conditioner = setup.conditioner_on(day)
    if conditioner is None or not conditioner.bottle_ml:
        return ""
    bottles = dose.measured / conditioner.bottle_ml
    many = f"{bottles:.0%} of a" if bottles < 1 else f"{bottles:.1f} times a"
    return f", about {many} full {Say(setup).bottle(conditioner.bottle_ml, dose.unit)} bottle"


def _overdose(setup: Setup, state: PondState, day: date) -> tuple[str, ...]:
    conditioner = setup.conditioner_on(day)
    steps = []
    for barrel in setup.barrels_on(day):
        rate = rate_for(setup, state, barrel, day)
        if rate is None or conditioner is None:
            continue
        full = full_line_l(barrel)
        usual = dose_of(setup, rate, full, day)
        most = max(conditioner.largest_multiple * rate.label_per_l, rate.per_l) * full
        steps.append(
            f'Barrel "{barrel.name}", full: usual {usual.measured:.4g} {usual.unit}, too much from '
            f"{most:.3g} {usual.unit} on: leave the outlet shut, stir, lid off, ring."
        )
    return (
        *steps,
        "In the pond: air on full (it takes oxygen), no more of it, watch the fish, ring.",
    )


def _power(setup: Setup, state: PondState, day: date) -> tuple[str, ...]:
    say = Say(setup)
    steps = ["Look at the breaker and the RCD or GFCI. It trips again: leave it off, ring."]
    if setup.house.breaker:
        steps[0] = f"Breaker: {setup.house.breaker}. It trips again: leave it off, ring."
    if setup.floating(day) is not None and state.level is not None:
        back = draindown_l(setup, day)
        if back >= 1:
            rise = rise_from_draindown_mm(setup, state.level.reading_mm, day)
            steps.append(
                f"The level rises by about {say.gauge(rise)}: {say.litres(back)} run back from the "
                "upper water. That is normal; let nothing in."
            )
    return (
        *steps,
        "Only the pump is dead: unplug it and ring. Every air stone on full until it runs.",
        "No food until it is back. Hot and still, or over 3 hours: pour pond water from a jug from "
        "a height, every quarter of an hour, and ring.",
        "Back on: look whether the pump draws and the fall runs.",
    )


def _falling(setup: Setup, state: PondState, day: date) -> tuple[str, ...]:
    say = Say(setup)
    fast = fast_fall_mm(setup, state)
    litres = litres_of_fall(setup, state, day, fast)
    water = f", that is {say.litres(litres)}," if litres else ""
    gates = [b.name for b in setup.basins_on(day) if b.gate]
    steps = [
        f"{say.gauge(fast)} in a day{water} is fast here. Look for the wet place: fall, pipes, "
        "hoses, edges; is an outlet or a tap open?",
        "Switch the pump off and read the gauge again after an hour: if it stops, the loss is at "
        "the fall or in the pipes; leave the pump off only if air still runs.",
    ]
    if gates:
        steps.append(f"Shut the gate of {', '.join(gates)}.")
    for mark in setup.marks_of("danger"):
        steps.append(f'At "{mark.name}" ({say.below(mark.reading_mm)}): unplug the pump.')
    steps.append("Never the hose straight in, however low it is: only tested barrel water. Ring.")
    return tuple(steps)


def cautions() -> tuple[Block, ...]:
    """What stands above the sheet."""
    return (
        Words("Labels, local plumbing, electrical, water-use and wildlife rules, and licensed "
              "people stand above this sheet. It is no measuring instrument."),
        Words('"No chlorine" means a TOTAL chlorine test at the time given. Barrel water is not '
              "for drinking. Young children drown in centimetres of water: lids on, gate shut. "
              "Chemicals locked away, gloves and eye protection for powders, never mixed. Unplug "
              "before hands go in; wash hands, cover cuts. A full barrel can crush. Never siphon "
              "by mouth. Unsure: a fish vet, the water utility."),
    )  # fmt: skip
