"""Parts 1 and 2 of the sheet: whom to call, what to shut off, how and when to come."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from pondtui.pond.away.model import Block, Grid, Items, Planned
from pondtui.pond.away.say import Say
from pondtui.pond.setup.model import Person, Setup

BLANK = "____________________"
_ROLES = {
    "keeper": "keeper",
    "neighbour": "neighbour",
    "vet": "fish vet",
    "plumber": "plumber",
    "utility": "water utility",
}


def person_named(setup: Setup, name: str) -> Person | None:
    """The person of that name or with those initials."""
    wanted = " ".join(name.split()).casefold()
    fits = (p for p in setup.persons if wanted in (p.name.casefold(), p.initials.casefold()))
    return next(fits, None) if wanted else None


def people(setup: Setup, private: bool) -> tuple[Block, ...]:
    """Everybody to call, a line to fill in for whoever is not named, and what can be shut off."""
    house = setup.house
    rows = [("emergency services", "first, for people", house.emergency_number or "112 / 911")]
    for role, word in _ROLES.items():
        named = [p for p in setup.persons if p.role == role]
        rows += [(word, _name(setup, p), _phone(p, private)) for p in named]
        if not named:
            rows.append((word, BLANK, BLANK))
    shut = (
        f"Stop-cock (water off): {house.stop_cock or BLANK}",
        f"Breaker and RCD or GFCI of the pond: {house.breaker or BLANK}",
    )
    return (Grid("", ("who", "name", "phone"), tuple(rows)), Items("-", shut, "Shut off"))


def _name(setup: Setup, person: Person) -> str:
    if person.role != "keeper":
        return person.name
    return f"{person.name} (the pond's clock: {setup.pond.time_zone})"


def _phone(person: Person, private: bool) -> str:
    """The number, where it may be shown and is one; else a line for it."""
    known = person.phone and person.phone.strip().casefold() != "private"
    return person.phone if private and known else BLANK


def way_in(
    setup: Setup,
    planned: Sequence[Planned],
    first: date | None,
    last: date | None,
    private: bool,
) -> tuple[Block, ...]:
    """Gate, dog, hours, the days, and what if the return slips."""
    house = setup.house
    code = house.gate_code.strip()
    shown = private and code and code.casefold() != "private"
    rows = [
        f"Gate: {house.gate or BLANK}",
        f"Gate code: {code if shown else BLANK}",
        f"Dog or other animals: {house.dog or BLANK}",
        f"Hours: {house.hours or BLANK}",
    ]
    if first is not None and last is not None:
        back = last + timedelta(days=1)
        rows.append(f"Days: {first:%a %d %b %Y} to {last:%a %d %b %Y}; back on {back:%a %d %b}")
    late = house.late or "go on with the two-minute look, feed nothing that is in doubt, ring"
    rows.append(f"If the return slips: {late}")
    blocks: list[Block] = [Items("-", tuple(rows))]
    if planned:
        blocks.append(calendar(setup, planned))
    return tuple(blocks)


def calendar(setup: Setup, planned: Sequence[Planned]) -> Grid:
    """The visits with their times."""
    say = Say(setup)
    rows = []
    for one in planned:
        visit = one.visit
        what = "look"
        if visit.barrel:
            what = f'let {say.litres(visit.release_l)} out of "{visit.barrel}"'
            if visit.buckets is not None:
                many = f"{visit.buckets} bucket{'s' * (visit.buckets != 1)}"
                what = f'carry {many} from "{visit.barrel}"'
            if visit.add_l > 0:
                what = f'fill "{visit.barrel}", treat, test, {what}'
            if visit.only_below_mm is not None:
                what += f", only if the gauge reads {say.below(visit.only_below_mm)}"
        rows.append((str(one.number), f"{visit.date:%a %d %b}", visit.hour, what))
    return Grid("Visits", ("no.", "day", "about", "what"), tuple(rows))
