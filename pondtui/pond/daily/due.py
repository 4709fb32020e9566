"""The chores: which are due, late or done today, which come later, and which rest and why.

A chore skipped with a reason counts as done. What was left undone in a past window is not made
up for.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from pondtui.pond.daily.happened import Done, came_back, last_done, latest
from pondtui.pond.daily.times import DAY_S, local_day
from pondtui.pond.daily.warmth import MEAN_DAYS, Warmth, warmth
from pondtui.pond.setup.contradictions import occasions_of
from pondtui.pond.setup.days import first_day, latest_day, opened
from pondtui.pond.setup.model import Chore, Mark, Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import Live, key_of, live_of
from pondtui.pond.state.model import Level
from pondtui.records import NamedTuple
from pondtui.units import show

FEED = "feed"  # a chore whose name begins so follows the feeding advice
DUE = ("late", "due")


class Due(NamedTuple):
    """A chore that is due, since when, and when it was last done or skipped."""

    name: str
    last: date | None
    days_late: int
    person: str = ""


class ChoreNow(NamedTuple):
    """A chore as it stands at this moment."""

    name: str
    state: str  # late, due, done (today), later, resting
    last: Done | None = None
    since: date | None = None  # the day on which it fell due
    days_late: int = 0
    next: date | None = None  # when it comes, where it is not due
    person: str = ""
    why: str = ""  # why it rests, or what it follows


class _Round(NamedTuple):
    """What the chores are judged by."""

    setup: Setup
    now: int
    entries: Live
    warm: Warmth | None
    levels: Sequence[Level]

    @property
    def today(self) -> date:
        return local_day(self.setup, self.now)

    def last(self, name: str) -> Done | None:
        return last_done(self.entries, self.now, name)

    def day(self, done: Done | None) -> date | None:
        return None if done is None else local_day(self.setup, done.instant)


def chores_now(
    setup: Setup,
    entries: Iterable[Entry],
    now: int,
    levels: Sequence[Level] = (),
    no_food: str = "",
) -> tuple[ChoreNow, ...]:
    """Every chore in the order of pond.toml, then those of the marks that the level came back over.

    `no_food` says why nothing is fed today.
    """
    live = live_of(entries)
    look = _Round(setup, now, live, warmth(setup, live, now), levels)
    found = [_one(look, chore) for chore in setup.chores]
    if no_food:
        found = [
            c._replace(state="resting", why=no_food)
            if c.state in DUE and key_of(c.name).startswith(FEED)
            else c
            for c in found
        ]
    return (*found, *(_rising(look, mark) for mark in setup.marks if mark.rising))


def due(
    setup: Setup, entries: Iterable[Entry], now: int, levels: Sequence[Level] = ()
) -> tuple[Due, ...]:
    """The chores due at `now`, the latest first."""
    return due_of(setup, chores_now(setup, entries, now, levels))


def due_of(setup: Setup, chores: Iterable[ChoreNow]) -> tuple[Due, ...]:
    """Those that are due, the latest first."""
    found = [
        Due(c.name, None if c.last is None else local_day(setup, c.last.instant), c.days_late,
            c.person)
        for c in chores
        if c.state in DUE
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda d: -d.days_late))


def _one(look: _Round, chore: Chore) -> ChoreNow:
    last = look.last(chore.name)
    if chore.water:
        return _by_water(look, chore, last)
    if chore.after:
        return _after(look, chore, last)
    found = _told(look, chore, last, falls_due(chore, look.day(last), look.today))
    if last is None and found.days_late:  # nobody was late with what was never begun
        return found._replace(state="due", days_late=0, since=look.today)
    return found


def _told(
    look: _Round, chore: Chore, last: Done | None, day: date | None, why: str = ""
) -> ChoreNow:
    """The chore that falls due on a day, at the hour that its hours ask for."""
    ready = chore.every_days is None or chore.every_days >= 1 or last is None
    if not ready and last is not None and chore.every_days is not None:
        instant = last.instant + round(chore.every_days * DAY_S)
        day = local_day(look.setup, instant) if day is None or day <= look.today else day
        ready = look.now >= instant
    if day is not None and day <= look.today and ready:
        late = (look.today - day).days
        state = "late" if late else "due"
        return ChoreNow(chore.name, state, last, day, late, None, chore.person, why)
    today = look.day(last) == look.today
    state = "done" if today else "later"
    if day is None and not today:
        state = "resting"
    return ChoreNow(chore.name, state, last, None, 0, day, chore.person, why)


def falls_due(chore: Chore, last: date | None, today: date) -> date | None:
    """The day on which a chore of the calendar falls due, given the day it was last done.

    Never done: today for a chore of every so many days, else the latest day that has come.
    """
    every = chore.every_days
    if last is None:
        past = latest_day(chore, today) if every is None else None
        if past is not None and past >= opened(chore, today):
            return past
        return first_day(chore, today)
    step = 1 if every is None else round(every)
    day = first_day(chore, last + timedelta(days=step))
    if day is None or day >= today:
        return day
    return first_day(chore, max(day, opened(chore, today)))


def _by_water(look: _Round, chore: Chore, last: Done | None) -> ChoreNow:
    """How often by the row that holds the mean of the last days."""
    system = look.setup.pond.units
    if look.warm is None:
        why = f"no water temperature in the last {MEAN_DAYS} days: measure it"
        return _told(look, chore, last, None, why)
    mean = look.warm.mean_c
    said = f"water {show(mean, 'temperature', system, digits=0)} over {look.warm.days} days"
    if look.warm.days == 1:
        said = f"water {show(mean, 'temperature', system, digits=0)}"
    row = next((row for row in chore.water if row[0] <= mean < row[1]), None)
    if row is None:
        return _told(look, chore, last, None, f"{said}: not now")
    paced = chore._replace(every_days=row[2] / 1440)
    how = f"{said}: {every_words(row[2] / 1440)}"
    return _told(look, paced, last, falls_due(paced, look.day(last), look.today), how)


def _after(look: _Round, chore: Chore, last: Done | None) -> ChoreNow:
    """Once after an event, or again and again for a while after it."""
    times = [latest(look.entries, look.now, word) for word in occasions_of(chore)]
    event = max((instant for instant in times if instant is not None), default=None)
    why = f"after {chore.after}"
    if event is None:
        return _told(look, chore, last, None, why)
    begun = local_day(look.setup, event)
    since = last if last is not None and last.instant >= event else None
    if chore.every_days is None:
        day = None if since is not None else first_day(chore, begun)
        return _told(look, chore, last, day, why)
    if look.today >= begun + timedelta(days=round(chore.lasts_days)):
        return _told(look, chore, last, None, why)
    day = first_day(chore, begun)
    if since is not None:
        day = falls_due(chore, look.day(since), look.today)
    return _told(look, chore, since, day, why)._replace(last=last)


def _rising(look: _Round, mark: Mark) -> ChoreNow:
    """The chore of a mark that the level has come back over."""
    chore = Chore(mark.rising)
    last = look.last(chore.name)
    risen = came_back(look.setup, look.levels, mark)
    fresh = risen is not None and (last is None or last.instant < risen)
    day = local_day(look.setup, risen) if risen is not None and fresh else None
    return _told(look, chore, last, day, f"when the level is back over {mark.name}")


def every_words(days: float) -> str:
    """`every day`, `every 3 days`, `every 12 h`."""
    if days < 1:
        return f"every {days * 24:.0f} h"
    return "every day" if round(days) == 1 else f"every {round(days)} days"
