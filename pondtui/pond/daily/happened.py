"""What chores follow: when each was done, and when something happened that starts one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from pondtui.pond.daily.times import happened
from pondtui.pond.setup.model import Mark, Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import Live, Topic, key_of, live_of
from pondtui.pond.state.model import Level
from pondtui.pond.water.levels import reading_up
from pondtui.records import NamedTuple


class Done(NamedTuple):
    """A chore done, or skipped with a reason."""

    instant: int
    skipped: bool = False
    by: str = ""
    note: str = ""


def done(entries: Iterable[Entry], now: int, name: str) -> list[Done]:
    """When a chore was done or skipped, the latest last."""
    of_chore = live_of(entries).of(("chore", key_of(name)))
    return [_done(entry) for entry in of_chore if happened(entry, now)]


def last_done(entries: Live, now: int, name: str) -> Done | None:
    """When a chore was last done or skipped."""
    back = entries.backwards(("chore", key_of(name)))
    return next((_done(entry) for entry in back if happened(entry, now)), None)


def _done(entry: Entry) -> Done:
    skipped, by = bool(entry.get("skipped")), str(entry.get("by") or "")
    return Done(entry.instant, skipped, by, entry.note)


def latest(entries: Live, now: int, word: str) -> int | None:
    """When the latest event, chore done or entry of a kind happened that the word names."""
    name = key_of(word)
    instants = (
        _latest(entries, now, topic) for topic in ((name,), ("event", name), ("chore", name))
    )
    return max((instant for instant in instants if instant is not None), default=None)


def _latest(entries: Live, now: int, topic: Topic) -> int | None:
    back = entries.backwards(topic)
    return next((e.instant for e in back if happened(e, now) and not e.get("skipped")), None)


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
