"""Entries for people: one line each for the list, and all that one says, with what it means."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, tzinfo

from pondtui.errors import Problem
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.kinds import KINDS
from pondtui.records import NamedTuple

STRUCK = "STRUCK"


class Line(NamedTuple):
    """One entry in the list."""

    when: str
    kind: str
    text: str
    note: str
    struck: bool


def line(entry: Entry, tz: tzinfo, *, struck: bool) -> Line:
    """An entry in one line: what matters first, who wrote it last."""
    moment = datetime.fromtimestamp(entry.instant, UTC).astimezone(tz)
    fields = [_field(n, v) for n, v in entry.fields.items() if n not in ("by", "batch")]
    by = entry.fields.get("by")
    return Line(
        f"{moment:%Y-%m-%d %H:%M}",
        entry.kind,
        (f"{STRUCK} " if struck else "") + ", ".join(each for each in fields if each),
        f"{entry.note} ({by})".strip() if by else entry.note,
        struck,
    )


def facts(entry: Entry, strikes: Sequence[Entry]) -> list[tuple[str, str]]:
    """Everything an entry says, by name, and where it stands."""
    kind = KINDS.get(entry.kind)
    told = [("when", entry.stamp), ("kind", entry.kind)]
    told.append(("means", kind.help if kind else "a kind that this version does not know"))
    for name, value in entry.fields.items():
        field = kind.field(name) if kind else None
        told.append((name, f"{value}   ({field.help})" if field else value))
    if entry.note:
        told.append(("note", entry.note))
    for strike in strikes:
        told.append((STRUCK, f"{strike.stamp} {strike.note}".strip()))
    place = f"{entry.path}:{entry.line}" if entry.line else entry.path
    told.append(("stands in", place or "not in a file yet"))
    return told


def told_problems(problems: Sequence[Problem]) -> list[str]:
    """Each problem at its place, with the line and a sign under the column."""
    told = []
    for problem in problems:
        told.append(str(problem))
        if problem.text:
            told.append(f"    {problem.text}")
            if problem.column:
                told.append(f"    {' ' * (problem.column - 1)}^")
        told.append("")
    return told


def _field(name: str, value: str) -> str:
    """`pump=on` as `pump on`; what stands for itself without its name."""
    return value if name in ("reading", "what", "barrel", "step", "name", "where") else (
        f"{name} {value}"
    )  # fmt: skip
