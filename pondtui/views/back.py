"""After weeks without the app: what one screen asks, and what it says of the days between."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from pondtui.pond.daily.quick_amounts import with_unit
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.kinds import KINDS
from pondtui.records import NamedTuple
from pondtui.views.chores import missed
from pondtui.views.forms import Blank
from pondtui.views.status import Status
from pondtui.views.words import DAY_S, count, litres

LONG_S = 7 * DAY_S  # without an entry


class Wanted(NamedTuple):
    """One thing to look at, and the entry that it becomes."""

    blank: Blank
    kind: str
    field: str
    fields: Mapping[str, str]  # that are known


def long_away(entries: Sequence[Entry], now: int) -> int | None:
    """Seconds since the latest entry, where it is over a week; None else, and on a new pond."""
    last = max((entry.instant for entry in entries if entry.instant <= now), default=None)
    return now - last if last is not None and now - last > LONG_S else None


def title(away_s: int) -> str:
    """How long nothing was written."""
    return f"You are back: nothing was written for {count(round(away_s / DAY_S), 'day')}"


def wanted(status: Status) -> tuple[Wanted, ...]:
    """Level, every barrel, the bottle: what is left empty is asked another time."""
    setup = status.setup
    sample = "such as 62 (mm)" if setup.pond.units == "metric" else "such as 2 7/16 (in)"
    found = [Wanted(Blank("level", "gauge reads", sample), "level", "reading", {})]
    for place, row in enumerate(status.barrels):
        name = row.water.name
        held = litres(setup, row.water.held_l)
        blank = Blank(
            f"barrel-{place}", f"in {name}", f"{held} by the journal: how much stands there"
        )
        found.append(Wanted(blank, "dip", "left", {"barrel": name}))
    for place, stock in enumerate(s for s in status.stocks if s.kept is not None):
        left = "never counted" if stock.left is None else f"{stock.left} by the journal"
        blank = Blank(f"bottle-{place}", "bottle holds", f"{left}: how much is left")
        found.append(Wanted(blank, "supply", "left", {"item": stock.name}))
    return tuple(found)


def meant(setup: Setup, want: Wanted, typed: str) -> dict[str, str]:
    """The fields of the entry; bare numbers get the pond's own unit, of a bottle mL."""
    text = typed.strip()
    field = KINDS[want.kind].field(want.field)
    assert field is not None  # the table of kinds has it
    if want.kind == "supply" and text.replace(".", "", 1).isdigit():
        text = f"{text} mL"
    return {**want.fields, want.field: with_unit(setup, want.kind, field, text)}


def said(status: Status, most: int) -> list[str]:
    """The chores that were missed, a line each; no more than there is room for."""
    found = missed(status)
    more = len(found) - most
    return found if more <= 0 else [*found[: most - 1], f"and {count(more + 1, 'chore')} more"]
