"""An absence worked out: what happens alone, the fewest visits, the stock, what to do before."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from pondtui.errors import InputError
from pondtui.pond.away import before, search
from pondtui.pond.away.default_visits import check_span
from pondtui.pond.away.falling import Falling, TooLittle
from pondtui.pond.away.giving import EVERY_HOUR, NOT_READY, Giver, givers, never_filled
from pondtui.pond.away.kept import Pour, Scene, breaks, scene, share_kept, spare
from pondtui.pond.away.model import Visit
from pondtui.pond.away.outlook import LONGEST_DAYS, NEVER, RISING, Paths, draw_paths, reached
from pondtui.pond.away.people import person_named
from pondtui.pond.away.replan import replanned
from pondtui.pond.away.visits import as_visits
from pondtui.pond.away.weather_ahead import HOT_DAYS, PAST_YEARS, WeatherAhead
from pondtui.pond.away.what_if import Change, changes
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Mark, Person, Setup
from pondtui.pond.setup.windows import WEEKDAYS
from pondtui.pond.state.model import PondState
from pondtui.pond.water.levels import reading_up
from pondtui.records import NamedTuple
from pondtui.units import show

PROMISE = 0.9
KEPT_ROLES = ("warn", "danger", "top-up")  # the mark to stay above, unless one is named
FARTHEST_DAYS = 366
_OLD_DAYS = 3
_FEW_DAYS = 14.0


class Alone(NamedTuple):
    """A mark and the chance that the water passes it with no help; None where none is stated."""

    name: str
    role: str
    chance: float | None
    day: date | None  # by which half of the courses have


class Away(NamedTuple):
    """The answer. With a `reason` there is no plan, and it says why."""

    first: date
    last: date
    promise: float
    mark: str = ""
    alone: tuple[Alone, ...] = ()
    alone_days: int | None = None  # without a sitter at all; LONGEST_DAYS stands for more too
    visits: tuple[Visit, ...] = ()
    keeps: bool = False  # the plan keeps the promise
    chance_kept: float | None = None
    chance_one_missed: float | None = None
    agent: before.Agent | None = None
    filled_first: bool = False  # the plan counts on the pond being filled to its target on leaving
    before: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    rests_on_days: float = 0.0
    stated: bool = False
    reason: str = ""
    more_readings: int = 0

    @property
    def water_l(self) -> float:
        """All that the visits let in."""
        return sum(visit.release_l for visit in self.visits)


class _Absence(NamedTuple):
    """What the plan is made of."""

    setup: Setup
    state: PondState
    paths: Paths
    first: date  # from which there is nobody; today where the absence goes on already
    last: date
    mark: Mark
    promise: float
    sitter: Person | None
    still: Paths | None  # the same courses with the pump stopped


def days_to_look(setup: Setup, now: int, first: date, last: date) -> int:
    """Days from today that the weather has to be drawn for. Raises InputError for a wrong span."""
    check_span(first, last)
    today = local_time(setup, now).date()
    if last < today:
        raise InputError(f"the absence ended on {last} already: name days to come")
    if (first - today).days > FARTHEST_DAYS:
        raise InputError(f"{first} is more than a year ahead: plan it when it is nearer")
    return (max(last, max(first, today) + timedelta(LONGEST_DAYS)) - today).days + 1


def kept_mark(setup: Setup, name: str | None) -> Mark | None:
    """The mark to stay above. Raises InputError for a name that no mark has."""
    if name is not None:
        mark = setup.mark(name)
        if mark is None:
            known = ", ".join(m.name for m in setup.marks) or "none"
            raise InputError(f'no mark is called "{name}"; the marks are: {known}')
        return mark
    marks = [mark for role in KEPT_ROLES for mark in setup.marks_of(role)]
    return marks[0] if marks else None


def plan_absence(
    setup: Setup,
    state: PondState,
    found: Falling | TooLittle,
    ahead: WeatherAhead,
    first: date,
    last: date,
    *,
    sitter: str = "",
    mark: str | None = None,
    promise: float = PROMISE,
) -> Away:
    """The plan for an absence, both days included; `ahead` covers `days_to_look`.

    Raises InputError for a wrong span, mark or promise.
    """
    days = days_to_look(setup, state.now, first, last)
    if not 0.5 <= promise <= 0.99:
        raise InputError(f"a chance of 50 % to 99 % can be promised, not {promise:.0%}")
    kept = kept_mark(setup, mark)
    nothing = Away(first, last, promise, kept.name if kept else "")
    if isinstance(found, TooLittle):
        return nothing._replace(reason=found.reason, more_readings=found.more_readings)
    paths = draw_paths(setup, state, found, ahead, days)
    today = local_time(setup, state.now).date()
    begin = max(first, today)
    nothing = nothing._replace(
        alone=_alone(setup, paths, begin, last),
        rests_on_days=found.days,
        stated=paths.stated,
        remarks=_remarks(setup, paths, ahead, begin, last),
    )
    if kept is None:
        return nothing._replace(reason="no mark has the role warn, danger or top-up: name the one "
                                "to stay above with --mark")  # fmt: skip
    who = person_named(setup, sitter)
    still = None
    if any(basin.held for basin in setup.basins_on(begin)):
        still = draw_paths(setup, state, found, ahead, days, held=False)
    one = _Absence(setup, state, paths, begin, last, kept, promise, who, still)
    return _planned(one, nothing)


def _planned(one: _Absence, nothing: Away) -> Away:
    """From the level as it will be on leaving; where that cannot do, from a pond filled first."""
    setup, paths = one.setup, one.paths
    stands = _scene(one, None)
    targets = [reading_up(setup, m.reading_mm) for m in setup.marks_of("target")]
    barrels = givers(setup, one.state, one.state.now, one.first,
                     paths.bowl.litres(stands.floor_up, stands.ceiling_up))  # fmt: skip
    shut = _shut_before(one, barrels)
    barrels = tuple(
        g._replace(use_by=NOT_READY) if g.barrel.name in shut and not g.ready else g
        for g in barrels
    )
    fillable = not shut or any(g.refills and g.barrel.name not in shut for g in barrels)
    scenes, fill_up = [stands], None
    if targets and targets[0] > stands.floor_up and fillable:
        scenes.append(_scene(one, targets[0]))
    for at, tried in enumerate(scenes):
        task = search.Task(setup, tried, barrels, _allowed(one), one.promise)
        visits = search.search(task)
        fill_up = targets[0] if at else None
        if visits.keeps:
            break
    told = as_visits(setup, one.state, visits, task)
    middle = sorted(stands.levels)[len(stands.levels) // 2]
    gap = paths.bowl.litres(middle, targets[0]) if targets and fillable else None
    made = _made_ready(barrels, told)
    stock = before.agent(setup, one.state, told, (g.batch.measured or 0.0 for g in made), one.first)
    pours = search.pours(task, visits.visits)
    return nothing._replace(
        alone_days=_alone_days(one),
        visits=told,
        keeps=visits.keeps,
        chance_kept=share_kept(tried, pours) if paths.stated else None,
        chance_one_missed=_one_missed(tried, pours, visits.places) if paths.stated else None,
        agent=stock,
        filled_first=fill_up is not None,
        before=before.before_leaving(setup, stock, told, [g.barrel.name for g in made], gap),
        remarks=(
            *_of_plan(one, stands, task, visits, fill_up is not None),
            *_of_ban(one, shut),
            *nothing.remarks,
        ),
        changes=tuple(
            replanned(change, task, visits, one.still)
            for change in changes(setup, paths.bowl, middle, one.first)
        ),
    )


def _scene(one: _Absence, fill_up: float | None, end: int | None = None) -> Scene:
    paths = one.paths
    last = paths.place(one.last) + 1 if end is None else end
    floor = reading_up(one.setup, one.mark.reading_mm)
    return scene(paths, paths.place(one.first), last, floor, paths.bowl.ceiling_up(), fill_up)


def _allowed(one: _Absence) -> tuple[int, ...]:
    """The places of the days on which the sitter can come."""
    free = one.sitter.free if one.sitter is not None else ()
    span = range(one.paths.place(one.first), one.paths.place(one.last) + 1)
    return tuple(p for p in span if not free or WEEKDAYS[one.paths.day(p).weekday()] in free)


def _shut_before(one: _Absence, barrels: Sequence[Giver]) -> list[str]:
    """The barrels for which no water may be drawn, at any hour, until the keeper leaves."""
    today = local_time(one.setup, one.state.now).date()
    days = [today + timedelta(n) for n in range((one.first - today).days + 1)]
    return never_filled(one.setup, barrels, days, EVERY_HOUR)


def _of_ban(one: _Absence, shut: Sequence[str]) -> tuple[str, ...]:
    if not shut:
        return ()
    named = ", ".join(f'"{barrel}"' for barrel in shut)
    return (f"drawing water for {named} is forbidden at every hour up to {one.first}: the plan "
            "counts on none of it before you leave",)  # fmt: skip


def _made_ready(barrels: Sequence[Giver], visits: Sequence[Visit]) -> list[Giver]:
    """The barrels that the keeper has to make ready before leaving."""
    used = {visit.barrel for visit in visits if visit.add_l <= 0}
    return [g for g in barrels if g.barrel.name in used and not g.ready]


def _one_missed(one: Scene, pours: Sequence[Pour], places: Sequence[int]) -> float | None:
    return min((share_kept(one, pours, missed) for missed in places), default=None)


def _alone_days(one: _Absence) -> int:
    """Days from leaving on that the promise holds with nobody there."""
    begin = one.paths.place(one.first)
    found = breaks(_scene(one, None, begin + LONGEST_DAYS), ())
    broke = found[spare(len(found), one.promise)]
    return LONGEST_DAYS if broke == NEVER else max(broke - begin - 1, 0)


def _alone(setup: Setup, paths: Paths, first: date, last: date) -> tuple[Alone, ...]:
    """Of every mark, from leaving to the morning of being back."""
    begin, end = paths.place(first), paths.place(last) + 1
    top, bottom = paths.bowl.spill_up, paths.bowl.bottom_up
    courses = []
    for up, moves in zip(paths.starts, paths.moves, strict=True):
        course = [up]
        for move in moves[:end]:
            course.append(max(min(course[-1] + move, top), bottom))
        courses.append(course)
    found = []
    for mark in sorted(setup.marks, key=lambda m: -reading_up(setup, m.reading_mm)):
        up, rising = reading_up(setup, mark.reading_mm), mark.role in RISING
        places = sorted(reached(course, up, begin, rising=rising) for course in courses)
        share = sum(p != NEVER for p in places) / len(places)
        middle = places[len(places) // 2]
        day = None if middle == NEVER else paths.day(middle)
        found.append(Alone(mark.name, mark.role, share if paths.stated else None, day))
    return tuple(found)


def _remarks(
    setup: Setup, paths: Paths, ahead: WeatherAhead, first: date, last: date
) -> tuple[str, ...]:
    """How much the plan may be trusted."""
    found = []
    if ahead.kind != PAST_YEARS:
        known = "the fall of the last days" if ahead.kind != HOT_DAYS else "hot dry days"
        found.append(
            f"of these dates the weather of {len(ahead.names)} past years is known, 3 are needed: "
            f"planned for {known}, and no chance is promised"
        )
    if paths.falling.factor is None and ahead.kind == PAST_YEARS:
        found.append("the readings do not yet tell what follows the weather: planned by the fall "
                     "of the last days, its upper bound taken")  # fmt: skip
    if paths.falling.days < _FEW_DAYS:
        found.append(f"it rests on {paths.falling.days:.0f} days of readings: two weeks and more "
                     "of a level a day make it surer")  # fmt: skip
    if paths.now >= _OLD_DAYS:
        found.append(f"the last reading is {paths.now} days old: read the gauge and plan again")
    cold = before.winter(setup, first, last)
    return (*found, cold) if cold else tuple(found)


def _of_plan(
    one: _Absence, stands: Scene, task: search.Task, visits: search.Found, filled: bool
) -> tuple[str, ...]:
    """What is wrong or special about the plan itself."""
    name, found = one.mark.name, []
    passed = sum(up <= stands.floor_up for up in stands.levels) / len(stands.levels)
    if passed > 0.5:
        at = show(one.mark.reading_mm, "length", one.setup.pond.units, rule=True)
        found.append(f'the water stands at or below "{name}" ({at}) by {one.first} already')
    rain = [b.name for b in one.setup.barrels_on(one.first) if b.source == "rain"]
    if rain:
        named = ", ".join(f'"{barrel}"' for barrel in rain)
        found.append(f"rain that runs into {named} meanwhile is not counted: it cannot be promised")
    if filled:
        found.append("the plan counts on the pond being filled to its target on leaving")
    if not visits.keeps:
        days = [one.paths.day(place) for place in task.allowed]
        banned = never_filled(one.setup, task.barrels, days)
        why = "more days, a larger barrel, or a lower mark would"
        if banned:
            named = ", ".join(f'"{barrel}"' for barrel in banned)
            why = f"drawing water for {named} is forbidden at every hour of these days"
        found.append(
            f'no visits of the sitter can keep the water above "{name}" with {one.promise:.0%}: '
            f"{why}"
        )
    return tuple(found)
