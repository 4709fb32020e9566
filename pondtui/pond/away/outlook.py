"""What the level will do with no help: thousands of days drawn, and what they say of each mark."""

from __future__ import annotations

import random
from collections.abc import Sequence
from datetime import date, timedelta
from functools import cache
from math import ceil

from pondtui.errors import InputError
from pondtui.pond.away import falling as fall
from pondtui.pond.away import weather_ahead as weather
from pondtui.pond.away.bowl import Bowl
from pondtui.pond.away.falling import Falling, TooLittle
from pondtui.pond.away.weather_ahead import PAST_YEARS, WeatherAhead
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.pond.water.levels import reading_up
from pondtui.pond.water.recent import believed_mm
from pondtui.records import NamedTuple
from pondtui.science.rain import roof_catch_l

PATHS = 400
SEED = 20_260_401
LONGEST_DAYS = 92  # nobody's weather is worth a longer look
NOON = 12
QUANTILES = (0.1, 0.5, 0.9)
RISING = ("spill", "seep")  # marks that water comes to from below


class Paths(NamedTuple):
    """Courses that the level may take. Place 0 is the day of the last reading."""

    first: date
    now: int  # the place of today
    starts: tuple[float, ...]
    moves: tuple[tuple[float, ...], ...]  # mm from each place to the next, no overflow in it
    dry: tuple[tuple[float, ...], ...]  # the same without rain on days to come
    bowl: Bowl
    falling: Falling
    kind: str  # of the weather, see weather_ahead
    years: int

    @property
    def stated(self) -> bool:
        """Whether enough weather is known for a chance to be stated."""
        return self.kind == PAST_YEARS

    def place(self, day: date) -> int:
        """Of a day."""
        return (day - self.first).days

    def day(self, place: int) -> date:
        """Of a place."""
        return self.first + timedelta(place)


class DayLevel(NamedTuple):
    """Gauge readings that so many of the courses do not exceed as numbers."""

    day: date
    p10_mm: float
    p50_mm: float
    p90_mm: float

    @property
    def readings(self) -> tuple[float, float, float]:
        """The three in their order."""
        return self.p10_mm, self.p50_mm, self.p90_mm


class MarkAhead(NamedTuple):
    """Days by which 10, 50 and 90 % of the courses have come to a mark; None beyond the look."""

    name: str
    role: str
    p10: date | None
    p50: date | None
    p90: date | None


class Outlook(NamedTuple):
    """The answer."""

    rests_on_days: float
    levels: tuple[DayLevel, ...]
    marks: tuple[MarkAhead, ...]
    without_rain: tuple[MarkAhead, ...]
    kind: str
    years: int
    by_weather: bool  # the site factor could be fitted
    reading_day: date

    @property
    def stated(self) -> bool:
        """Whether the shares are chances."""
        return self.kind == PAST_YEARS


def outlook(
    setup: Setup,
    state: PondState,
    found: Falling | TooLittle,
    ahead: WeatherAhead,
    days: int,
    *,
    in_short: bool = False,
) -> Outlook | TooLittle:
    """Levels of the next days at the hour of the last reading, and when each mark is reached.

    `ahead` begins on `start_day`. `in_short`: of the levels only the last, and none without rain,
    which a glance does not tell. Raises InputError for a number of days that cannot be.
    """
    check_days(days)
    if isinstance(found, TooLittle):
        return found
    paths = draw_paths(setup, state, found, ahead, days)
    wet = courses(paths, paths.moves)
    return Outlook(
        found.days,
        tuple(
            _level(setup, paths, wet, paths.now + n)
            for n in range(days if in_short else 1, days + 1)
        ),
        _marks(setup, paths, wet),
        () if in_short else _marks(setup, paths, courses(paths, paths.dry)),
        ahead.kind,
        len(ahead.years),
        found.factor is not None,
        paths.first,
    )


def check_days(days: int) -> None:
    """Raises InputError."""
    if not 1 <= days <= LONGEST_DAYS:
        raise InputError(f"1 to {LONGEST_DAYS} days, not {days}")


def start_day(setup: Setup, state: PondState, now: int) -> date:
    """The day whose weather the first step needs: of the last reading, the next for one after
    noon."""
    if state.level is None:
        return local_time(setup, now).date()
    at = local_time(setup, state.level.instant)
    return at.date() + timedelta(at.hour >= NOON)


def draw_paths(
    setup: Setup,
    state: PondState,
    found: Falling,
    ahead: WeatherAhead,
    days: int,
    *,
    held: bool = True,
) -> Paths:
    """Courses up to so many days from today. The same for the same readings and weather.

    Without the `held` basins, as with the pump stopped, no other surface evaporates into this
    level and no other one's rain runs into it.
    """
    assert state.level is not None  # without a reading nothing is known to fall
    today = local_time(setup, state.now).date()
    first = local_time(setup, state.level.instant).date()
    believed = believed_mm(setup, state, today)
    if believed is None:
        raise InputError("pond.toml: no basin floats, so no level can be foretold")
    bowl, start = Bowl(setup, today), reading_up(setup, believed)
    feeds = bowl.feeds(start, held=held)
    caught = feeds if held else min(feeds, 1.0)
    roof = _roof_mm(setup, bowl, start)
    rained = cache(lambda mm: mm * caught + roof(mm))  # many courses share a few days
    now = max((today - first).days, 0)
    steps = now + days
    chance = random.Random(SEED)
    starts, moves, dry = [], [], []
    for _ in range(PATHS):
        factor, steady = fall.draw(found, chance)
        lost = factor * feeds  # the held basins' surfaces show in this level too
        starts.append(min(start + chance.gauss(0, found.error_mm), bowl.spill_up))
        drawn = weather.draw(ahead, steps, chance)
        fell = [-lost * d.evaporated_mm - steady + chance.gauss(0, found.daily_mm) for d in drawn]
        moves.append(tuple([f + rained(d.rain_mm) for f, d in zip(fell, drawn, strict=True)]))
        dry.append((*moves[-1][:now], *fell[now:]))
    return Paths(first, now, tuple(starts), tuple(moves), tuple(dry), bowl, found, ahead.kind,
                 len(ahead.years))  # fmt: skip


class _Roof(NamedTuple):
    """Rise of the level by a roof's water; nothing without a downpipe."""

    setup: Setup
    litres_per_mm: float

    def __call__(self, rain_mm: float) -> float:
        roof = self.setup.downpipe
        if roof is None or rain_mm <= 0 or roof.area_m2 <= 0:
            return 0.0
        caught = roof_catch_l(roof.area_m2, rain_mm, roof.runoff, roof.first_flush_mm)
        return caught / self.litres_per_mm


def _roof_mm(setup: Setup, bowl: Bowl, up: float) -> _Roof:
    return _Roof(setup, max(bowl.litres(up - 1, up), 1e-6))


def courses(paths: Paths, moves: Sequence[Sequence[float]]) -> list[list[float]]:
    """The level of every course at every place; what is over the spill edge runs away."""
    top, bottom = paths.bowl.spill_up, paths.bowl.bottom_up
    found = []
    for start, row in zip(paths.starts, moves, strict=True):
        up, course = start, [start]
        for move in row:
            up += move
            if up > top:
                up = top
            elif up < bottom:
                up = bottom
            course.append(up)
        found.append(course)
    return found


def _level(setup: Setup, paths: Paths, levels: Sequence[Sequence[float]], place: int) -> DayLevel:
    readings = sorted(reading_up(setup, course[place]) for course in levels)
    return DayLevel(paths.day(place), *(quantile(readings, q) for q in QUANTILES))


def quantile(ordered: Sequence[float], share: float) -> float:
    """Linear between the two nearest of ordered values."""
    at = share * (len(ordered) - 1)
    low = int(at)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (at - low) * (ordered[high] - ordered[low])


def _marks(setup: Setup, paths: Paths, levels: Sequence[Sequence[float]]) -> tuple[MarkAhead, ...]:
    """Of every mark of the pond, the highest first."""
    marks = sorted(setup.marks, key=lambda m: -reading_up(setup, m.reading_mm))
    found = []
    for mark in marks:
        up, rising = reading_up(setup, mark.reading_mm), mark.role in RISING
        places = sorted(reached(course, up, paths.now, rising=rising) for course in levels)
        days = (_day(paths, places[ceil(q * len(places)) - 1]) for q in QUANTILES)
        found.append(MarkAhead(mark.name, mark.role, *days))
    return tuple(found)


NEVER = 1 << 30


def reached(course: Sequence[float], up: float, since: int, *, rising: bool = False) -> int:
    """The first place from `since` on at which a course is at a mark or past it; else NEVER."""
    for place in range(since, len(course)):
        if (course[place] >= up) if rising else (course[place] <= up):
            return place
    return NEVER


def _day(paths: Paths, place: int) -> date | None:
    return None if place == NEVER else paths.day(place)
