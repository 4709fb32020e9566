"""The care sheet's emergencies as pages of a screen."""

from __future__ import annotations

from datetime import date

from pondtui.pond.away.amounts import whole_pond
from pondtui.pond.away.emergencies import CHLORINE, emergencies
from pondtui.pond.away.model import Grid, Items
from pondtui.pond.away.numbers import number_grid
from pondtui.pond.away.people import people
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.records import NamedTuple

_BLANK = "____"


class Case(NamedTuple):
    """One page."""

    title: str
    steps: tuple[str, ...]
    large: str = ""  # the amount that matters
    grave: bool = True


def cases(setup: Setup, state: PondState, day: date) -> tuple[Case, ...]:
    """What may go wrong, people first; then the numbers, and whom to ring."""
    found = []
    for block in emergencies(setup, state, day):
        if isinstance(block, Items):
            steps = tuple(f"{n}. {row}" for n, row in enumerate(block.rows, 1))
            found.append(Case(block.title, steps, _dose(setup, state, day, block.title)))
    numbers = number_grid(setup, state, day)
    told = tuple(
        f"{what}\n  ring: {ring}\n  act now: {act}" for what, ring, act in numbers.rows
    )  # fmt: skip
    return (
        *found,
        Case("Numbers that mean: ring, or act", told, grave=False),
        Case("Whom to ring, what to shut off", _everybody(setup), grave=False),
    )


def _dose(setup: Setup, state: PondState, day: date, title: str) -> str:
    """The dose for the whole pond, where that is the case."""
    whole = whole_pond(setup, state, day) if title == CHLORINE else None
    return "" if whole is None else f"{whole.dose.measured:.6g} {whole.dose.unit}"


def ring(setup: Setup) -> str:
    """Whom to ring, in one line: people first, then the keeper."""
    number = setup.house.emergency_number or "112 / 911"
    keepers = [p for p in setup.persons if p.role == "keeper"]
    named = [f"{p.name} {_number(p.phone)}".strip() for p in keepers]
    return f"RING. For people: {number}. Keeper: {', '.join(named) or 'see the sheet'}"


def _number(phone: str) -> str:
    return "" if phone.strip().casefold() == "private" else phone


def _everybody(setup: Setup) -> tuple[str, ...]:
    """Everybody who is named; what is not known is on the paper sheet, by hand."""
    found: list[str] = []
    for block in people(setup, private=True):
        if isinstance(block, Grid):
            rows = [row for row in block.rows if not row[1].startswith(_BLANK)]
            found += [
                f"{who}: {name}{'' if phone.startswith(_BLANK) else f', {phone}'}"
                for who, name, phone in rows
            ]
        elif isinstance(block, Items):
            found += [row for row in block.rows if _BLANK not in row]
    return tuple(found)
