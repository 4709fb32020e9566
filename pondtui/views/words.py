"""Small words that many screens share: ages, counts, amounts in the pond's units."""

from __future__ import annotations

from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.units import show

DAY_S = 86400


def ago(then: int, now: int) -> str:
    """`just now`, `20 min ago`, `8 h ago`, `3 days ago`."""
    seconds = max(now - then, 0)
    if seconds < 90:
        return "just now"
    if seconds < 2 * 3600:
        return f"{round(seconds / 60)} min ago"
    if seconds < 2 * DAY_S:
        return f"{round(seconds / 3600)} h ago"
    return f"{round(seconds / DAY_S)} days ago"


def count(number: int, one: str, more: str = "") -> str:
    """`1 batch`, `2 batches`."""
    return f"{number} {one if number == 1 else more or one + 's'}"


def reading(setup: Setup, value_mm: float) -> str:
    """A gauge reading as the keeper's rule says it."""
    return show(value_mm, "length", setup.pond.units, digits=_whole(setup), rule=True)


def litres(setup: Setup, value_l: float) -> str:
    """A volume for people: whole litres, or gallons."""
    digits = 0 if setup.pond.units == "metric" and 1 <= value_l < 1e5 else None
    return show(value_l, "volume", setup.pond.units, digits=digits)


def when(setup: Setup, instant: int, now: int) -> str:
    """`today 07:42`, `14 Aug 07:42`, with the year where it is another one."""
    moment, today = local_time(setup, instant), local_time(setup, now)
    if moment.date() == today.date():
        return f"today {moment:%H:%M}"
    year = "" if moment.year == today.year else f" {moment.year}"
    return f"{moment.day} {moment:%b}{year} {moment:%H:%M}"


def _whole(setup: Setup) -> int | None:
    return 0 if setup.pond.units == "metric" else None
