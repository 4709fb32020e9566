"""Whether visits keep the level: each course of the outlook with the water that is let in."""

from __future__ import annotations

from collections.abc import Sequence

from pondtui.pond.away.outlook import NEVER, Paths
from pondtui.records import NamedTuple


class Pour(NamedTuple):
    """Water let in on the evening of a place, only with the level low enough to take all of it."""

    place: int
    litres: float
    below_up: float


class Scene(NamedTuple):
    """An absence: from the day of leaving up to the morning of being back."""

    paths: Paths
    begin: int
    end: int
    floor_up: float  # the mark to stay above
    ceiling_up: float  # up to where a visit may fill
    levels: tuple[float, ...]  # of every course when the absence begins


def scene(
    paths: Paths, begin: int, end: int, floor_up: float, ceiling_up: float,
    fill_up: float | None = None,
) -> Scene:  # fmt: skip
    """The absence with the level as it will be then, or filled up to `fill_up` on leaving."""
    top, bottom = paths.bowl.spill_up, paths.bowl.bottom_up
    levels = []
    for start, moves in zip(paths.starts, paths.moves, strict=True):
        up = start
        for move in moves[:begin]:
            up = max(min(up + move, top), bottom)
        levels.append(up if fill_up is None else max(up, fill_up))
    return Scene(paths, begin, end, floor_up, ceiling_up, tuple(levels))


def breaks(one: Scene, pours: Sequence[Pour], missed: int | None = None) -> list[int]:
    """The place at which each course is first at the mark or below it; NEVER where it stays above.

    What the visit on `missed` was to bring is not let in.
    """
    bowl, moves = one.paths.bowl, one.paths.moves
    top, bottom, floor = bowl.spill_up, bowl.bottom_up, one.floor_up
    by_place: dict[int, list[Pour]] = {}
    for pour in pours:
        if pour.place != missed:
            by_place.setdefault(pour.place, []).append(pour)
    found = []
    for up, row in zip(one.levels, moves, strict=True):
        broke = NEVER
        for place in range(one.begin, one.end + 1):
            if up <= floor:
                broke = place
                break
            if place == one.end:
                break
            for pour in by_place.get(place, ()):
                if up <= pour.below_up:
                    up = bowl.after(up, pour.litres)
            up = max(min(up + row[place], top), bottom)
        found.append(broke)
    return found


def share_kept(one: Scene, pours: Sequence[Pour], missed: int | None = None) -> float:
    """Share of the courses that stay above the mark."""
    found = breaks(one, pours, missed)
    return sum(place == NEVER for place in found) / len(found)


def first_break(one: Scene, pours: Sequence[Pour], chance: float, over: int = -1) -> int:
    """The first place at which more courses are lost than the promise allows, with every visit
    made or with any one missed; NEVER where the promise holds.

    Once it is no later than `over` it is not looked at any closer.
    """
    cases: list[int | None] = [None, *sorted({pour.place for pour in pours})]
    if len(cases) > 1:
        cases.pop(0)  # with one missed it is never better
    earliest = NEVER
    for missed in cases:
        found = sorted(breaks(one, pours, missed))
        earliest = min(earliest, found[spare(len(found), chance)])
        if earliest <= over:
            break
    return earliest


def spare(courses: int, chance: float) -> int:
    """How many courses the promise may lose."""
    return min(int((1 - chance) * courses + 1e-9), courses - 1)
