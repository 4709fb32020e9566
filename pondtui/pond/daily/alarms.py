"""What is wrong now, each with what to do: the fold's alarms and those of the rules.

The names are a promise: a `putoff` entry hides an alarm by its name until its day. What may have
reached the fish, and water that runs, cannot be put off.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import TYPE_CHECKING

from pondtui.errors import Problem
from pondtui.pond.daily.alarm_look import Look
from pondtui.pond.daily.alarm_rules import RULES
from pondtui.pond.daily.due import chores_now
from pondtui.pond.daily.possible import NEVER_PUT_OFF as NEVER_PUT_OFF
from pondtui.pond.daily.supplies import stocks
from pondtui.pond.daily.times import happened
from pondtui.pond.daily.water_tests import judged
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import live_of
from pondtui.pond.state.model import Alarm, PondState

if TYPE_CHECKING:
    from pondtui.pond.daily.climate import Climate


def alarms(
    setup: Setup,
    state: PondState,
    now: int,
    problems: Sequence[Problem] = (),
    entries: Iterable[Entry] = (),
    climate: Climate | None = None,
) -> tuple[Alarm, ...]:
    """The alarms that stand at `now`: what must be acted on first, then the oldest.

    `problems` are those of the pond's files, `entries` the live ones of the journal; without a
    `climate` the rules that need the weather are silent.
    """
    entries = live_of(entries)
    tests = judged(setup, entries, now)
    chores = chores_now(setup, entries, now, state.levels)
    held = stocks(setup, state, entries, now)
    return of_look(Look(setup, state, now, problems, chores, tests, held, climate), entries)


def of_look(look: Look, entries: Iterable[Entry]) -> tuple[Alarm, ...]:
    """The same, of what was looked at already; of `entries` only those of putting off count."""
    found = [*look.state.alarms, *(alarm for rule in RULES for alarm in rule(look))]
    hidden = _hidden(look, entries)
    shown = [a for a in found if a.name.casefold() not in hidden]
    return tuple(sorted(shown, key=lambda a: (a.severity != "act", a.since, a.name, a.text)))


def may_wait(alarm: Alarm) -> bool:
    """Whether it may be put off with a reason."""
    return alarm.name not in NEVER_PUT_OFF


def _hidden(look: Look, entries: Iterable[Entry]) -> set[str]:
    """The names that are put off; the last word on each counts."""
    until: dict[str, date] = {}
    for entry in live_of(entries).of(("putoff",)):
        if happened(entry, look.now):
            until[str(entry.get("alarm")).strip().casefold()] = entry.get("until")
    return {name for name, day in until.items() if look.day < day} - NEVER_PUT_OFF
