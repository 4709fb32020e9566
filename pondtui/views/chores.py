"""The chores as rows, lines and JSON: late, due, done today, later, resting; and their history."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from pondtui.pond.daily.due import DUE, ChoreNow
from pondtui.pond.daily.happened import Done
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.records import NamedTuple
from pondtui.views.status import Status
from pondtui.views.words import DAY_S, count, when

SIGNS = {"late": "!", "due": "·", "done": "x", "later": " ", "resting": "-"}
HEADS = {"late": "LATE", "due": "due", "done": "done", "later": "later", "resting": "rests"}
ROLES = {"late": "warn", "due": "text", "done": "good", "later": "quiet", "resting": "quiet"}
_ORDER = tuple(HEADS)


class ChoreRow(NamedTuple):
    """One line of the list."""

    name: str
    head: str
    text: str
    role: str
    state: str


def rows(status: Status) -> tuple[ChoreRow, ...]:
    """Every chore, what is late first; within one state in the order of pond.toml."""
    chores = sorted(status.chores, key=lambda c: (_ORDER.index(c.state), -c.days_late))
    return tuple(
        ChoreRow(c.name, HEADS[c.state], words(status.setup, c, status.now), ROLES[c.state],
                 c.state)
        for c in chores
    )  # fmt: skip


def words(setup: Setup, chore: ChoreNow, now: int) -> str:
    """What is to be said of a chore behind its name."""
    said = []
    if chore.days_late:
        said.append(f"{count(chore.days_late, 'day')} late")
    if chore.last is not None:
        said.append(_last(setup, chore.last, now))
    elif chore.state in DUE:
        said.append("never done yet")
    if chore.next is not None and chore.state not in DUE:
        said.append(f"next {_day(chore.next, local_time(setup, now).date())}")
    if chore.why:
        said.append(chore.why)
    if chore.person:
        said.append(chore.person)
    return "; ".join(said)


def _last(setup: Setup, done: Done, now: int) -> str:
    what = "skipped" if done.skipped else "done"
    days = (local_time(setup, now).date() - local_time(setup, done.instant).date()).days
    at = when(setup, done.instant, now) if days < 2 else f"{days} days ago"
    by = f" by {done.by}" if done.by else ""
    note = f" ({done.note})" if done.skipped and done.note else ""
    return f"{what} {at}{by}{note}"


def _day(day: date, today: date) -> str:
    ahead = (day - today).days
    if ahead < 7:
        return {0: "today", 1: "tomorrow"}.get(ahead, f"{day:%A}")
    year = "" if day.year == today.year else f" {day.year}"
    return f"{day.day} {day:%b}{year}"


def missed(status: Status) -> list[str]:
    """After weeks away: each chore that was missed is one line."""
    return [
        f"{c.name}: last done {count(round((status.now - c.last.instant) / DAY_S), 'day')} ago"
        for c in status.chores
        if c.state == "late" and c.last is not None
    ]


def history(setup: Setup, done: Sequence[Done]) -> list[str]:
    """When a chore was done, the latest first."""
    found = []
    for each in reversed(done):
        what = "skipped" if each.skipped else "done"
        by = f" by {each.by}" if each.by else ""
        note = f": {each.note}" if each.note else ""
        found.append(f"{local_time(setup, each.instant):%Y-%m-%d %H:%M} {what}{by}{note}")
    return found


def lines(status: Status) -> list[str]:
    """The list for people, with the advice on food."""
    found = rows(status)
    wide = max((len(row.name) for row in found), default=0)
    told = [f"{row.head:<6} {row.name:<{wide}}  {row.text}".rstrip() for row in found]
    if not told:
        told = ["no [[chore]] stands in pond.toml"]
    if status.feeding is not None:
        told.append(f"food   {status.feeding.text} ({status.feeding.why})")
    return told


def as_json(status: Status) -> dict[str, Any]:
    """Every chore with its state, and the advice on food."""
    return {
        "chores": [
            {
                "name": c.name,
                "state": c.state,
                "last": None if c.last is None else _stamp(status.setup, c.last.instant),
                "last_skipped": c.last is not None and c.last.skipped,
                "last_by": None if c.last is None else c.last.by or None,
                "due_since": None if c.since is None else c.since.isoformat(),
                "days_late": c.days_late,
                "next": None if c.next is None else c.next.isoformat(),
                "person": c.person or None,
                "why": c.why or None,
            }
            for c in status.chores
        ],
        "feeding": None if status.feeding is None else status.feeding._asdict(),
    }


def history_json(setup: Setup, done: Sequence[Done]) -> list[dict[str, Any]]:
    """When a chore was done, the latest first."""
    return [
        {"at": _stamp(setup, d.instant), "skipped": d.skipped, "by": d.by or None, "note": d.note}
        for d in reversed(done)
    ]


def _stamp(setup: Setup, instant: int) -> str:
    return local_time(setup, instant).isoformat(" ")
