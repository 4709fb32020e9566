"""Which chores are due today: every so many days, on weekdays, or on a day of the month.

Chores that hang on the water's temperature or follow an event are not told here.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import NamedTuple

from pondtui.pond.daily.times import in_year
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Chore, Setup
from pondtui.pond.setup.windows import WEEKDAYS
from pondtui.pond.state.entry import Entry

DAY_S = 86_400


class Due(NamedTuple):
    """A chore that is due, since when, and when it was last done or skipped."""

    name: str
    last: date | None
    days_late: int
    person: str = ""


def due(setup: Setup, entries: Iterable[Entry], now: int) -> tuple[Due, ...]:
    """The chores due at `now`, the latest first. A chore skipped with a reason counts as done."""
    last = _last_done(entries, now)
    found = []
    for chore in setup.chores:
        instant = last.get(chore.name.strip().casefold())
        since = _due_since(setup, chore, instant, now)
        if since is not None:
            done = None if instant is None else local_time(setup, instant).date()
            late = (local_time(setup, now).date() - since).days
            found.append(Due(chore.name, done, late, chore.person))
    return tuple(sorted(found, key=lambda d: -d.days_late))


def _last_done(entries: Iterable[Entry], now: int) -> dict[str, int]:
    done: dict[str, int] = {}
    for entry in entries:
        if entry.kind == "chore" and entry.instant <= now:
            name = str(entry.get("name")).strip().casefold()
            done[name] = max(entry.instant, done.get(name, 0))
    return done


def _due_since(setup: Setup, chore: Chore, instant: int | None, now: int) -> date | None:
    """The day on which it fell due; None where it is not due, or not told here."""
    today = local_time(setup, now).date()
    if chore.water or (chore.window and not in_year(today, *chore.window)):
        return None
    if chore.every_days is not None:
        return _by_days(setup, chore.every_days, instant, now)
    planned = _planned_day(chore, today)
    if planned is None or (chore.window and not in_year(planned, *chore.window)):
        return None
    done = instant is not None and local_time(setup, instant).date() >= planned
    return None if done else planned


def _by_days(setup: Setup, every: float, instant: int | None, now: int) -> date | None:
    today = local_time(setup, now).date()
    if instant is None:
        return today
    if every < 1:
        return today if now - instant >= every * DAY_S else None
    since = local_time(setup, instant).date() + timedelta(days=round(every))
    return since if since <= today else None


def _planned_day(chore: Chore, today: date) -> date | None:
    """The latest day not after today that its weekdays or its day of the month name."""
    back = (today - timedelta(days=n) for n in range(63))
    if chore.weekdays:
        return next((d for d in back if WEEKDAYS[d.weekday()] in chore.weekdays), None)
    if chore.monthly is not None:
        return next((d for d in back if d.day == chore.monthly), None)
    return None
