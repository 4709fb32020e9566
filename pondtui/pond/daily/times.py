"""Days and spans of time, as the daily rules need them."""

from __future__ import annotations

from datetime import date

from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import AHEAD_S
from pondtui.units import show

DAY_S = 86_400


def local_day(setup: Setup, instant: int) -> date:
    """The day at the pond."""
    return local_time(setup, instant).date()


def like_hours(setup: Setup, one: int, other: int, within_h: float = 1.5) -> bool:
    """Whether two instants lie at about the same time of day."""
    first, second = local_time(setup, one), local_time(setup, other)
    minutes = abs((first.hour - second.hour) * 60 + first.minute - second.minute)
    return min(minutes, 1440 - minutes) <= within_h * 60


def ran(minutes: float) -> str:
    """A span of time to the minute."""
    return show(float(round(minutes)), "time", "metric")


def happened(entry: Entry, now: int) -> bool:
    """Whether an entry counts already: one that was moved on by a second does, tomorrow's not."""
    return entry.instant <= now + AHEAD_S
