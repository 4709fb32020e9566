"""What chores follow: when each was done, and when something happened that starts one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from pondtui.pond.daily.times import happened
from pondtui.pond.setup.model import Mark, Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import Level
from pondtui.pond.water.levels import reading_up


class Done(NamedTuple):
    """A chore done, or skipped with a reason."""

    instant: int
    skipped: bool = False
    by: str = ""
    note: str = ""


@lru_cache(maxsize=1024)
def key_of(name: str) -> str:
    """The form in which a chore's name is compared."""
    return " ".join(name.split()).casefold()


def history(entries: Iterable[Entry], now: int) -> dict[str, list[Done]]:
    """Of each chore (by `key_of`) when it was done, the latest last."""
    found: dict[str, list[Done]] = {}
    for entry in entries:
        if entry.kind == "chore" and happened(entry, now):
            done = Done(entry.instant, bool(entry.get("skipped")), str(entry.get("by") or ""),
                        entry.note)  # fmt: skip
            found.setdefault(key_of(str(entry.get("name"))), []).append(done)
    for each in found.values():
        each.sort(key=lambda done: done.instant)
    return found


def latest_of_each(entries: Iterable[Entry], now: int) -> dict[str, int]:
    """When the latest of each event, kind of entry and chore done happened, by `key_of`."""
    found: dict[str, int] = {}
    for entry in entries:
        if not happened(entry, now) or entry.get("skipped"):
            continue
        names = [entry.kind]
        if entry.kind == "event":
            names.append(key_of(str(entry.get("what"))))
        elif entry.kind == "chore":
            names.append(key_of(str(entry.get("name"))))
        for name in names:
            found[name] = max(entry.instant, found.get(name, entry.instant))
    return found


def came_back(setup: Setup, levels: Sequence[Level], mark: Mark) -> int | None:
    """When the level rose over a mark again; None while it is under it, or never was.

    A reading has to lie under the mark by more than its error before a rise counts.
    """
    height = reading_up(setup, mark.reading_mm)
    under, risen = False, None
    for level in levels:
        up = reading_up(setup, level.reading_mm)
        if up < height - setup.gauge.error_mm:
            under, risen = True, None
        elif up >= height and under:
            under, risen = False, level.instant
    return risen
