"""Entries of all files made one history: every fact once, in order, with strikes resolved.

The outcome does not depend on the order of reading, on how lines are spread over files or on
repeats.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from itertools import groupby

from pondtui.errors import Problem
from pondtui.pond.state.entry import Entry, Reference
from pondtui.pond.state.kinds import KINDS
from pondtui.pond.state.live import Live
from pondtui.records import NamedTuple

Key = tuple[int, str]  # instant and kind: what a strike names

_RANK = {kind: place for place, kind in enumerate(KINDS)}
_LAST = len(_RANK)


class Merged(NamedTuple):
    """One history."""

    entries: list[Entry]  # every fact once, in order, struck ones included
    live: Live  # the same without what was struck
    struck: frozenset[Key]  # instants and kinds that were taken back
    problems: list[Problem]  # strikes that do not work, copies


def merge(entries: Iterable[Entry]) -> Merged:
    """The history that these entries make."""
    unique, problems = _unique(entries)
    strikes = [each for each in unique if each.kind == "strike" and each.get("of")]
    if not strikes:
        return Merged(unique, Live(unique), frozenset(), problems)
    struck, circular = _resolve(strikes)
    live = Live(entry for entry in unique if (entry.instant, entry.kind) not in struck)
    problems += [_circle(strike) for strike in circular if (strike.instant, "strike") not in struck]
    working = [each for each in strikes if (each.instant, "strike") not in struck]
    problems += _aims(unique, [each for each in working if each not in circular])
    return Merged(unique, live, struck, problems)


def _unique(entries: Iterable[Entry]) -> tuple[list[Entry], list[Problem]]:
    """Every fact once, sorted like `Entry.order`; canonical texts only where keys meet."""
    unique: list[Entry] = []
    copies: list[Entry] = []
    for _, group in groupby(sorted(entries, key=_place), key=_place):
        alike = list(group)
        if len(alike) == 1:
            unique.append(alike[0])
            continue
        facts: dict[str, Entry] = {}
        for entry in sorted(alike, key=_written):
            if facts.setdefault(entry.canonical, entry) is not entry:
                copies.append(entry)
        unique += [facts[text] for text in sorted(facts)]
    return unique, _copies(copies)


def _place(entry: Entry) -> int:
    return entry.instant * (_LAST + 1) + _RANK.get(entry.kind, _LAST)


def _written(entry: Entry) -> tuple[str, list[str], str, int]:
    """Which of several copies is kept must not depend on the order of reading."""
    return entry.stamp, list(entry.fields), entry.path, entry.line


def _copies(copies: list[Entry]) -> list[Problem]:
    """One remark a file: a synchroniser's conflict copy holds thousands."""
    first: dict[str, int] = {}
    for entry in copies:
        first[entry.path] = min(entry.line, first.get(entry.path, entry.line))
    number = Counter(entry.path for entry in copies)
    return [
        Problem(path, line, 0, _repeated(number[path]), severity="remark")
        for path, line in sorted(first.items())
    ]


def _repeated(number: int) -> str:
    if number == 1:
        return "this entry stands elsewhere too; it counts once"
    return f"{number} entries from here on stand elsewhere too; they count once"


# --- strikes --------------------------------------------------------------------------------------


def _resolve(strikes: list[Entry]) -> tuple[frozenset[Key], set[Entry]]:
    """What is struck, and the strikes that stand in a circle and so have no effect.

    A strike of strikes is an arrow between their instants. Instants that reach each other are a
    circle; all others are settled from the strikes that nobody names down to what they name.
    """
    at: dict[int, list[Entry]] = {}
    for strike in strikes:
        at.setdefault(strike.instant, []).append(strike)
    arrows = {
        instant: [of.instant for of in map(_of, here) if of.kind == "strike" and of.instant in at]
        for instant, here in at.items()
    }
    circles = _circles(arrows)
    circle_of = {instant: place for place, ring in enumerate(circles) for instant in ring}
    struck: set[Key] = set()
    circular: set[Entry] = set()
    for place, ring in enumerate(circles):
        for instant in ring:
            dead = (instant, "strike") in struck
            for strike in at[instant]:
                of = _of(strike)
                if of.kind == "strike" and circle_of.get(of.instant) == place:
                    circular.add(strike)
                elif not dead:
                    struck.add((of.instant, of.kind))
    return frozenset(struck), circular


def _of(strike: Entry) -> Reference:
    of: Reference = strike.values["of"]
    return of


def _circles(arrows: Mapping[int, list[int]]) -> list[list[int]]:
    """Instants grouped by mutual reach, those that nobody names first (Kosaraju's two passes).

    Without recursion: a chain of strikes may be long.
    """
    back: dict[int, list[int]] = {instant: [] for instant in arrows}
    for instant, ends in arrows.items():
        for end in ends:
            back[end].append(instant)
    seen: set[int] = set()
    finished = [instant for start in arrows for instant in _walk(start, arrows, seen)]
    seen = set()
    groups = [_walk(start, back, seen) for start in reversed(finished)]
    return [group for group in groups if group]


def _walk(start: int, arrows: Mapping[int, list[int]], seen: set[int]) -> list[int]:
    """What can be reached from `start` and was not seen, in the order of leaving it."""
    if start in seen:
        return []
    seen.add(start)
    left = []
    path = [(start, iter(arrows[start]))]
    while path:
        instant, ends = path[-1]
        for end in ends:
            if end not in seen:
                seen.add(end)
                path.append((end, iter(arrows[end])))
                break
        else:
            left.append(instant)
            path.pop()
    return left


def _circle(strike: Entry) -> Problem:
    if _of(strike) == (strike.instant, strike.kind):
        what = "this strike names itself"
    else:
        what = "this strike stands in a circle of strikes"
    message = f"{what} and has no effect: strike it, and strike the entry that is wrong"
    return Problem(strike.path, strike.line, 0, message)


def _aims(entries: list[Entry], strikes: list[Entry]) -> list[Problem]:
    """Remarks on strikes that name several entries, or none that is here."""
    aims = {_of(strike): 0 for strike in strikes}
    for entry in entries:
        key = (entry.instant, entry.kind)
        if key in aims:
            aims[Reference(*key)] += 1
    remarks = []
    for strike in strikes:
        number = aims[_of(strike)]
        if number != 1:
            what = f"takes back {number} entries of one instant and kind"
            message = f"this strike {what}" if number else "this strike names no entry that is here"
            remarks.append(Problem(strike.path, strike.line, 0, message, severity="remark"))
    return remarks
