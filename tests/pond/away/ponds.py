"""The box pond with people and a house, its journal, and sheets made of it. All constructed."""

from __future__ import annotations

from datetime import date

from pondtui.pond.away.default_visits import daily_looks
from pondtui.pond.away.model import Sheet, Visit
from pondtui.pond.away.sheet import make_sheet
from pondtui.pond.setup.model import Setup
from tests.pond.box import POND, at, entries_of, setup_of, state_of

NOW = "2026-06-10 08:00"
FIRST, LAST = date(2026, 6, 12), date(2026, 6, 18)
PEOPLE = """\
[[chore]]
name = "feed"
water = [["10 degC", "15 degC", "3 d"], ["15 degC", "28 degC", "1 d"]]
[[supply]]
name = "conditioner"
place = "shelf by the door"
[[person]]
name = "Mo"
role = "keeper"
phone = "+32 2 555 01 23"
[[person]]
name = "Dr Reed"
role = "vet"
phone = "private"
[[person]]
name = "Sam"
role = "sitter"
[house]
emergency_number = "112"
stop_cock = "under the sink"
breaker = "hall cupboard"
gate = "side gate, lift"
gate_code = "4711"
normal = "six orange fish"
"""
JOURNAL = """
2026-06-02 18:00+02:00 | level | reading=40 mm; pump=on; temp=17 degC
2026-06-04 18:00+02:00 | level | reading=50 mm; pump=on; temp=18 degC
2026-06-06 18:00+02:00 | level | reading=60 mm; pump=on; temp=18 degC
2026-06-08 18:00+02:00 | level | reading=70 mm; pump=on; temp=19 degC
2026-06-09 18:00+02:00 | level | reading=75 mm; pump=on; temp=19 degC
2026-06-09 18:05+02:00 | count | kind=fish; number=6
"""


def pond(extra: str = PEOPLE) -> Setup:
    """The box pond with more tables."""
    return setup_of(POND + extra)


def visits(setup: Setup, journal: str = JOURNAL) -> tuple[Visit, ...]:
    """The plain plan of the week."""
    return daily_looks(setup, state_of(setup, journal, NOW), FIRST, LAST, at(NOW))


def sheet(
    setup: Setup | None = None,
    journal: str = JOURNAL,
    *,
    planned: tuple[Visit, ...] | None = None,
    dated: bool = True,
    **more: object,
) -> Sheet:
    """The sheet of the week."""
    told = setup or pond()
    found = planned if planned is not None else visits(told, journal) if dated else ()
    days = {"first": FIRST, "last": LAST} if dated else {}
    return make_sheet(
        told,
        state_of(told, journal, NOW),
        entries_of(journal),
        at(NOW),
        found,
        **days,  # type: ignore[arg-type]  # dates, checked by make_sheet itself
        **more,  # type: ignore[arg-type]
    )
