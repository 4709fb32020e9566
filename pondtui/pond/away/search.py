"""The fewest visits that keep the promise, and then the least water."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from pondtui.pond.away.giving import Giver, Portion, given
from pondtui.pond.away.kept import Pour, Scene, first_break
from pondtui.pond.away.outlook import NEVER
from pondtui.pond.setup.model import Setup
from pondtui.records import NamedTuple
from pondtui.units import convert

MOST_VISITS = 20
APART_DAYS = 3  # visits are moved so far from each other where the promise still holds
_STEPS = 5
_EVERY = 4
_ROUNDS = 1
_IN_VAIN = 3  # visits in a row that help no longer than those before
_LEAST_SHARE = 0.3


class Task(NamedTuple):
    """What is searched in."""

    setup: Setup
    scene: Scene
    barrels: tuple[Giver, ...]
    allowed: tuple[int, ...]  # places on which the sitter can come
    chance: float


class Found(NamedTuple):
    """Visits by place, and whether they keep the promise."""

    visits: tuple[tuple[int, tuple[Portion, ...]], ...]
    keeps: bool

    @property
    def places(self) -> list[int]:
        """Of the visits."""
        return [place for place, _ in self.visits]


def search(task: Task) -> Found:
    """Visits until the promise holds, then as few, then apart, then with no more water than needed.

    A visit helps most as late as it can be, but not so near to the next one that the water of that
    would find no room.
    """
    places, keeps = _grown(task)
    if not keeps:
        return Found(_full(task, places), False)
    places = _pruned(task, _spread(task, _fewer(task, places)))
    return Found(_least(task, _full(task, places)), True)


def at_places(task: Task, places: Sequence[int]) -> Found:
    """Visits on these days with no more water than needed, and whether they keep the promise."""
    visits = _full(task, places)
    if not _keeps(task, visits):
        return Found(visits, False)
    return Found(_least(task, visits), True)


def pours(task: Task, visits: Sequence[tuple[int, tuple[Portion, ...]]]) -> list[Pour]:
    """The water of the visits with the level under which all of it has room."""
    bowl, top = task.scene.paths.bowl, task.scene.ceiling_up
    return [
        Pour(place, portion.litres, bowl.after(top, -portion.litres))
        for place, portions in visits
        for portion in portions
    ]


def _full(task: Task, places: Sequence[int]) -> tuple[tuple[int, tuple[Portion, ...]], ...]:
    days = [task.scene.paths.day(place) for place in places]
    return tuple(zip(places, given(task.setup, task.barrels, days), strict=True))


def _break(task: Task, places: Sequence[int], over: int = -1) -> int:
    return first_break(task.scene, pours(task, _full(task, places)), task.chance, over)


def _grown(task: Task) -> tuple[list[int], bool]:
    """A visit more, where it helps longest, until the promise holds or visits help no more."""
    places: list[int] = []
    best, longest = places, -1
    while (broke := _break(task, places)) != NEVER:
        if broke > longest:
            best, longest = places, broke
        elif len(places) - len(best) >= _IN_VAIN:
            return best, False
        free = [p for p in task.allowed if p < broke and p not in places]
        free = [p for p in free if _brings(task, places, p)]
        if not free or len(places) == MOST_VISITS:
            return best, False
        places = _best(task, [sorted([*places, place]) for place in free])
    return places, True


def _best(task: Task, tried: Sequence[list[int]]) -> list[int]:
    """The plan that holds longest on a part of the courses; the later one of equals.

    One that holds on all of that part is judged by every course: many hold there that do not hold
    elsewhere, and the first of them would hide those that do.
    """
    few, best, held = _part_of(task), tried[0], -1
    for places in sorted(tried, reverse=True):
        broke = _break(few, places, held)
        if broke == NEVER:
            broke = _break(task, places, held)
        if broke > held:
            best, held = places, broke
        if held == NEVER:
            break
    return best


def _part_of(task: Task) -> Task:
    """The same with every fourth course: quick, and near enough to choose by."""
    scene = task.scene
    paths = scene.paths._replace(moves=scene.paths.moves[::_EVERY])
    return task._replace(scene=scene._replace(paths=paths, levels=scene.levels[::_EVERY]))


def _fewer(task: Task, places: list[int]) -> list[int]:
    """The same with a visit less, as long as moving the others makes up for it."""
    while places:
        starts = [[p for p in places if p != place] for place in places]
        found = _moved(task, _best(task, starts))
        if _break(task, found) != NEVER:
            return places
        places = found
    return places


def _pruned(task: Task, places: list[int]) -> list[int]:
    """Without any visit that is not needed."""
    for place in places:
        rest = [p for p in places if p != place]
        if _break(task, rest) == NEVER:
            return _pruned(task, rest)
    return places


def _moved(task: Task, places: list[int]) -> list[int]:
    """Each visit where it helps longest, the others left as they are."""
    for _ in range(_ROUNDS):
        before = places
        for at in range(len(places)):
            others = [*places[:at], *places[at + 1 :]]
            tried = [sorted([*others, p]) for p in task.allowed if p not in others]
            places = _best(task, tried)
        if places == before:
            break
    return places


def _brings(task: Task, places: Sequence[int], place: int) -> bool:
    """Whether a barrel has something for a visit more."""
    both = sorted([*places, place])
    return bool(dict(_full(task, both))[place])


def _spread(task: Task, places: list[int]) -> list[int]:
    """Two visits on days that follow each other would both be missed by one cold."""
    for at in range(len(places) - 2, -1, -1):
        gap = places[at + 1] - places[at]
        earliest = places[at - 1] + 1 if at else task.scene.begin
        for place in range(max(places[at + 1] - APART_DAYS, earliest), places[at + 1] - gap):
            tried = [*places[:at], place, *places[at + 1 :]]
            if place in task.allowed and _break(task, tried) == NEVER:
                places = tried
                break
    return places


def _least(
    task: Task, visits: tuple[tuple[int, tuple[Portion, ...]], ...]
) -> tuple[tuple[int, tuple[Portion, ...]], ...]:
    """Without barrels that are not needed, the last visit first; then less from each tap barrel."""
    for at in range(len(visits) - 1, -1, -1):
        place, portions = visits[at]
        while len(portions) > 1:
            fewer = (*visits[:at], (place, portions[:-1]), *visits[at + 1 :])
            if not _keeps(task, fewer):
                break
            visits, portions = fewer, portions[:-1]
    low, high = _LEAST_SHARE, 1.0
    for _ in range(_STEPS):
        middle = (low + high) / 2
        if _keeps(task, _scaled(task, visits, middle)):
            high = middle
        else:
            low = middle
    return _scaled(task, visits, high)


def _keeps(task: Task, visits: tuple[tuple[int, tuple[Portion, ...]], ...]) -> bool:
    return first_break(task.scene, pours(task, visits), task.chance) == NEVER


def _scaled(
    task: Task, visits: tuple[tuple[int, tuple[Portion, ...]], ...], share: float
) -> tuple[tuple[int, tuple[Portion, ...]], ...]:
    """Less of the tap's water, in round litres or gallons; rain is let out as it is."""
    return tuple(
        (place, tuple(_part(task.setup, p, share) for p in portions)) for place, portions in visits
    )


def _part(setup: Setup, portion: Portion, share: float) -> Portion:
    if share >= 1 or portion.giver.barrel.source == "rain":
        return portion
    gallon = {"us": "US gal", "imperial": "imp gal"}.get(setup.pond.units)
    step = convert(2.0, gallon, "L") if gallon else 5.0
    if portion.giver.barrel.delivery == "carried":
        step = portion.giver.barrel.bucket_l
    litres = min(ceil(portion.litres * share / step - 1e-9) * step, portion.giver.litres)
    return portion._replace(litres=litres)
