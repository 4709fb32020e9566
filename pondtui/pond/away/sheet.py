"""The care sheet: ten parts in the order in which a stranger needs them, filled from this pond."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from datetime import date

from pondtui.errors import InputError
from pondtui.pond.away.amounts import whole_pond
from pondtui.pond.away.default_visits import ready_since
from pondtui.pond.away.emergencies import cautions, emergencies
from pondtui.pond.away.model import Grid, Part, Planned, Sheet, Visit, Words
from pondtui.pond.away.numbers import number_grid
from pondtui.pond.away.people import people, way_in
from pondtui.pond.away.round import feeding, look, never, places, topping_up
from pondtui.pond.away.tasks import plan_tasks
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.days import in_year
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import PondState

COLD_C = 10.0  # of the water: no food below it, common practice, no source
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"  # none that is taken for another
_LONGEST_NAME = 40
_LOG_ROWS = 8


def make_sheet(
    setup: Setup,
    state: PondState,
    entries: Sequence[Entry],
    now: int,
    visits: tuple[Visit, ...] = (),
    *,
    first: date | None = None,
    last: date | None = None,
    sitter: str = "",
    units: str | None = None,
    private: bool = False,
) -> Sheet:
    """The sheet for these visits; amounts are those of its first day, else of today.

    `units` are the sitter's, else the pond's. Phone numbers and the gate code stand on it only if
    `private`. Raises InputError for a name or a visit that cannot be.
    """
    who = check_name(sitter)
    told = setup._replace(pond=setup.pond._replace(units=units)) if units else setup
    made = local_time(told, now)
    day = first or made.date()
    feed = not is_cold(told, state, now, day)
    planned = plan_tasks(told, visits, feed=feed)
    parts = (
        Part(1, "People to call", people(told, private)),
        Part(2, "Getting in, days and hours", way_in(told, planned, first, last, private)),
        Part(3, "The two-minute look", look(told, state, entries)),
        Part(4, "Feeding", feeding(told, cold=not feed)),
        Part(5, "Do NOT", never()),
        Part(6, "Topping up", topping_up(told, state, planned, day)),
        Part(7, "Numbers that mean: ring, or act", (number_grid(told, state, day),)),
        Part(8, "Emergencies", emergencies(told, state, day)),
        Part(9, "Where things are", (*places(told), *cautions())),
        Part(10, "Log", _log(planned)),
    )
    return Sheet(
        code_of(told, planned),
        told,
        made,
        first,
        last,
        who,
        parts,
        planned,
        remarks(told, state, planned, private=private),
        private,
    )


def check_name(sitter: str) -> str:
    """The sitter's name as the journal may hold it. Raises InputError."""
    name = " ".join(sitter.split())
    if len(name) > _LONGEST_NAME or any(c in ";|\n" for c in name) or not name.isprintable():
        raise InputError(f"a sitter's name has at most {_LONGEST_NAME} signs, no ; and no |")
    return name


def is_cold(setup: Setup, state: PondState, now: int, day: date) -> bool:
    """Whether no food is due: the water was read cold in the last week, else out of season."""
    temp = state.pond_temp
    if temp is not None and now - temp.instant < 7 * 86_400:
        return temp.temp_c < COLD_C
    return not in_year(day, setup.season.start, setup.season.end)


def code_of(setup: Setup, planned: Iterable[Planned]) -> str:
    """Five letters and digits that change with the tasks, so that a report finds its sheet."""
    told = "\n".join(f"{t.number} {t.text} {t.instant}" for p in planned for t in p.tasks)
    digest = hashlib.sha256(f"{setup.pond.name}\n{told}".encode()).digest()
    return "".join(_LETTERS[byte % len(_LETTERS)] for byte in digest[:5])


def _log(planned: Sequence[Planned]) -> tuple[Words | Grid, ...]:
    rows = [(f"{p.number}  {p.visit.date:%a %d %b}", "", "", "", "", "") for p in planned]
    rows += [("",) * 6] * max(_LOG_ROWS - len(rows), 0)
    head = ("visit", "time", "gauge", "water", "done", "signed")
    return (Words("Fill in at each visit and sign."), Grid("", head, tuple(rows)))


def remarks(
    setup: Setup, state: PondState, planned: Sequence[Planned], *, private: bool
) -> tuple[str, ...]:
    """What the keeper should see to before leaving; nothing here is for the sitter."""
    found = []
    if state.level is None:
        found.append("the gauge was never read: no visit lets water out, and no normal is told")
    used = [p.visit for p in planned if p.visit.barrel and p.visit.add_l <= 0]
    for name, visit in {visit.barrel: visit for visit in reversed(used)}.items():
        water, barrel = state.barrels.get(name), setup.barrel_on(name, visit.date)
        if water is None or barrel is None or barrel.source == "rain":
            continue
        if ready_since(barrel, water, visit.release_l) is None:
            found.append(f"{name} must stand full, treated and tested clear on the day you leave, "
                         "with a dated label: TESTED, READY")  # fmt: skip
    found += _stock(setup, state, planned)
    if used:
        found.append("rehearse one whole barrel together")
    roles = {person.role for person in setup.persons}
    lacking = [r for r in ("keeper", "neighbour", "vet", "plumber", "utility") if r not in roles]
    if lacking:
        found.append(f"no [[person]] has the role {', '.join(lacking)}: lines are left to fill in "
                     "by hand")  # fmt: skip
    wanted = ("emergency_number", "stop_cock", "breaker", "normal")
    empty = [key for key in wanted if not getattr(setup.house, key)]
    if empty:
        found.append(f"[house] does not say {', '.join(empty)}: lines are left to fill in by hand")
    if not private:
        found.append("phone numbers and the gate code are left out: --private writes them")
    return tuple(found)


def _stock(setup: Setup, state: PondState, planned: Sequence[Planned]) -> list[str]:
    """Whether the emergency dose of the whole pond stays in the bottle."""
    day = planned[0].visit.date if planned else local_time(setup, state.now).date()
    whole, left = whole_pond(setup, state, day), state.conditioner_left
    used = sum(p.visit.measured or 0.0 for p in planned)
    if whole is None or left is None or left - used >= whole.dose.measured:
        return []
    unit = whole.dose.unit
    return [
        f"{left - used:.0f} {unit} of conditioner would be left, the whole pond needs "
        f"{whole.dose.measured:.0f} {unit} in an emergency: buy more"
    ]
