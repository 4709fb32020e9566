"""Whether visits keep the level: each course of the outlook with the water that is let in."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

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


Row = Sequence[float]


class _Leg(NamedTuple):
    """From a place, with what is let in there, to the next at which a visit is."""

    begin: int
    end: int
    pours: tuple[Pour, ...]


class _Stand(NamedTuple):
    """The courses at one place: level and moves of those above the mark, where the others broke."""

    above: list[tuple[float, Row]]
    broken: list[int]


def _legs(one: Scene, pours: Sequence[Pour]) -> list[_Leg]:
    by_place: dict[int, list[Pour]] = {one.begin: []}
    for pour in pours:
        if one.begin <= pour.place < one.end:
            by_place.setdefault(pour.place, []).append(pour)
    places = [*sorted(by_place), one.end]
    return [_Leg(a, b, tuple(by_place[a])) for a, b in pairwise(places)]


def _begin(one: Scene) -> _Stand:
    courses: list[tuple[float, Row]] = list(zip(one.levels, one.paths.moves, strict=True))
    above = [course for course in courses if course[0] > one.floor_up]
    return _Stand(above, [one.begin] * (len(courses) - len(above)))


def _after(one: Scene, leg: _Leg, stand: _Stand, *, missed: bool = False) -> _Stand:
    """The courses at the end of a leg."""
    bowl, floor = one.paths.bowl, one.floor_up
    top, bottom = bowl.spill_up, bowl.bottom_up
    above, broken = [], list(stand.broken)
    for up, row in stand.above:
        for pour in () if missed else leg.pours:
            if up <= pour.below_up:
                up = bowl.after(up, pour.litres)
        for place, move in enumerate(row[leg.begin : leg.end], leg.begin + 1):
            up += move
            if up > top:
                up = top
            elif up < bottom:
                up = bottom
            if up <= floor:
                broken.append(place)
                break
        else:
            above.append((up, row))
    return _Stand(above, broken)


def breaks(one: Scene, pours: Sequence[Pour], missed: int | None = None) -> list[int]:
    """The places at which the courses are first at the mark or below it, in rising order; NEVER
    for each that stays above.

    What the visit on `missed` was to bring is not let in.
    """
    stand = _begin(one)
    for leg in _legs(one, pours):
        stand = _after(one, leg, stand, missed=leg.begin == missed)
    return [*sorted(stand.broken), *[NEVER] * len(stand.above)]


def share_kept(one: Scene, pours: Sequence[Pour], missed: int | None = None) -> float:
    """Share of the courses that stay above the mark."""
    found = breaks(one, pours, missed)
    return sum(place == NEVER for place in found) / len(found)


def first_break(one: Scene, pours: Sequence[Pour], chance: float, over: int = -1) -> int:
    """The first place at which more courses are lost than the promise allows, with every visit
    made or with any one missed; NEVER where the promise holds.

    Once it is no later than `over` it is not looked at any closer.
    """
    allowed, legs, stand = spare(len(one.levels), chance), _legs(one, pours), _begin(one)
    earliest = NEVER
    for at, leg in enumerate(legs):  # up to a visit that is missed all goes as if it were not
        if leg.pours:
            earliest = min(earliest, _lost(one, legs[at:], stand, allowed))
            if earliest <= over:
                return earliest
        stand = _after(one, leg, stand)
        if len(stand.broken) > allowed:
            return min(earliest, sorted(stand.broken)[allowed])
    return earliest


def _lost(one: Scene, legs: Sequence[_Leg], stand: _Stand, allowed: int) -> int:
    """Where more courses than allowed are lost if the first of these legs brings nothing."""
    for leg in legs:
        stand = _after(one, leg, stand, missed=leg is legs[0])
        if len(stand.broken) > allowed:  # later legs only add later places
            return sorted(stand.broken)[allowed]
    return NEVER


def spare(courses: int, chance: float) -> int:
    """How many courses the promise may lose."""
    return min(int((1 - chance) * courses + 1e-9), courses - 1)
