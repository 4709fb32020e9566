"""What is wrong now, each with what to do: the fold's alarms and those of the rules.

The names are a promise: a `putoff` entry hides an alarm by its name until its day. What may have
reached the fish, and water that runs, cannot be put off.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from pondtui.errors import Problem
from pondtui.pond.daily.alarm_rules import RULES, Look
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import Alarm, PondState

NEVER_PUT_OFF = frozenset(
    ("untreated", "bypass", "overdosed", "hose-running", "outlet-running", "level-danger")
)


def alarms(
    setup: Setup,
    state: PondState,
    now: int,
    problems: Sequence[Problem] = (),
    putoffs: Iterable[Entry] = (),
) -> tuple[Alarm, ...]:
    """The alarms that stand at `now`: what must be acted on first, then the oldest.

    `problems` are those of the pond's files; of `putoffs` only the entries of that kind count.
    """
    look = Look(setup, state, now, problems)
    found = [*state.alarms, *(alarm for rule in RULES for alarm in rule(look))]
    hidden = _hidden(look, putoffs)
    shown = [a for a in found if a.name not in hidden]
    return tuple(sorted(shown, key=lambda a: (a.severity != "act", a.since, a.name, a.text)))


def _hidden(look: Look, putoffs: Iterable[Entry]) -> set[str]:
    """The names that are put off; the last word on each counts."""
    until: dict[str, date] = {}
    for entry in putoffs:
        if entry.kind == "putoff" and entry.instant <= look.now:
            until[str(entry.get("alarm")).strip().casefold()] = entry.get("until")
    return {name for name, day in until.items() if look.day < day} - NEVER_PUT_OFF
