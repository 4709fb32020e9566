"""What chores follow: when each was done, and when something happened that starts one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

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


def key_of(name: str) -> str:
    """The form in which a chore's name is compared."""
    return " ".join(name.split()).casefold()


def history(entries: Iterable[Entry], now: int) -> dict[str, list[Done]]:
    """Of each chore (by `key_of`) when it was done, the latest last."""
    found: dict[str, list[Done]] = {}
    for entry in entries:
        if entry.kind == "chore" and entry.instant <= now:
            done = Done(entry.instant, bool(entry.get("skipped")), str(entry.get("by") or ""),
                        entry.note)  # fmt: skip
            found.setdefault(key_of(str(entry.get("name"))), []).append(done)
    for each in found.values():
        each.sort(key=lambda done: done.instant)
    return found


def latest_event(entries: Iterable[Entry], occasions: Sequence[str], now: int) -> int | None:
    """When the latest of these events, kinds of entries or chores done happened."""
    wanted = {key_of(word) for word in occasions}
    times = [
        entry.instant
        for entry in entries
        if entry.instant <= now and not entry.get("skipped") and wanted & _names(entry)
    ]
    return max(times, default=None)


def _names(entry: Entry) -> set[str]:
    """What an entry may be called as the beginning of a chore."""
    if entry.kind == "event":
        return {"event", key_of(str(entry.get("what")))}
    if entry.kind == "chore":
        return {"chore", key_of(str(entry.get("name")))}
    return {entry.kind}


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
