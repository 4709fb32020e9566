"""A synthetic pond under real weather: what a keeper would write down of it in a season.

The weather is that of Wageningen (station Haarweg), a year a file, in the package pcse (files
NL1.976 to NL1.999). pcse itself is not imported. The pond is invented: a box of 6 m2 whose
level falls by site factor x evaporation + a steady loss, is read each morning with an error, and
is brought back to its mark from a barrel when it is low.
"""

from __future__ import annotations

import random
from datetime import date, datetime, timedelta
from functools import cache
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import NamedTuple
from zoneinfo import ZoneInfo

import pytest

from pondtui.pond.setup.model import Basin, Gauge, Mark, Pond, Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import Addition, Level, PondState
from pondtui.pond.water.evaporation import FULL, TEMPERATURE, DayEvaporation
from pondtui.science.evaporation import Day, of_day
from pondtui.science.sun import share_by_hour

LATITUDE, ELEVATION = 51.97, 7.0
ZONE = ZoneInfo("Europe/Amsterdam")
YEARS = tuple(y for y in range(1976, 2000) if y != 1991)  # of 1991 only a part is there
AREA_M2 = 6.0
SPILL_MM, FULL_MM, LOW_MM = 20.0, 45.0, 80.0
BARREL_L = 150.0


class Weather(NamedTuple):
    """A real day."""

    full_mm: float  # evaporation by the full station
    bare_mm: float  # by temperatures alone
    rain_mm: float


class Faults(NamedTuple):
    """What is wrong with the keeper's data, or with the pond."""

    poor_weather: bool = False  # evaporation computed from temperatures alone
    bias: float = 0.0  # of computed evaporation
    noise_mm: float = 0.0  # of computed evaporation, a day
    barrel: float = 0.0  # litres written down too many, as a share
    drift: float = 0.0  # of the site factor, from one end of the season to the other
    readers_mm: float = 0.0  # how much lower the second reader reads
    wander_h: float = 0.0  # of the reading's hour, standard deviation
    rain_short: float = 0.0  # share of the rain that the gauge misses
    disturbed_mm: float = 0.3  # what a day takes or gives besides, standard deviation
    splash_mm: float = 0.0  # what animals and splash take a day, in the mean
    misread: float = 0.0  # share of readings that are 20 to 60 mm off


class Season(NamedTuple):
    """A season as the books hold it, and the truth behind it."""

    setup: Setup
    state: PondState
    evaporation: dict[date, DayEvaporation]
    first: date
    last: date
    site_factor: float
    steady_mm: float

    @property
    def now(self) -> int:
        """The end of the season."""
        return self.state.now


@cache
def weather_of(year: int) -> dict[date, Weather]:
    """A real year, day by day."""
    try:
        place = distribution("pcse").locate_file(f"pcse/tests/test_data/NL1.{year % 1000}")
    except PackageNotFoundError:
        pytest.skip("the package pcse, which carries the weather, is not installed")
    found = {}
    for line in Path(str(place)).read_text(encoding="latin-1").splitlines():
        words = line.split()
        if len(words) == 9 and words[0] == "1":
            number = int(words[2])
            mj, tmin, tmax, kpa, wind, rain = (float(word) for word in words[3:])
            if min(mj, tmin, tmax, kpa, wind) < -90:
                continue
            day = Day(max(tmin, tmax), min(tmin, tmax), LATITUDE, number, ELEVATION)
            full = day._replace(vapour_kpa=kpa, wind_m_s=wind, radiation_mj=mj / 1000)
            found[date(year, 1, 1) + timedelta(number - 1)] = Weather(
                of_day(full).open_water_mm, of_day(day).open_water_mm, max(rain, 0.0)
            )
    return found


def pond(error_mm: float = 2.0) -> Setup:
    """The invented pond."""
    basin = Basin("pool", floats=True, shape="box", length_mm=3000, width_mm=2000, depth_mm=800)
    marks = (Mark("rim", SPILL_MM, "spill"), Mark("full", FULL_MM, "target"))
    return Setup(
        Pond("Test Pond", str(ZONE), LATITUDE, ELEVATION),
        gauge=Gauge("down", error_mm),
        basins=(basin,),
        marks=marks,
    )


def season(
    seed: int,
    steady_mm: float,
    faults: Faults = Faults(),  # noqa: B008 -- an immutable value
    *,
    days: int = 183,
    start: tuple[int, int] | None = None,
    error_mm: float = 2.0,
    years: tuple[int, ...] = YEARS,
) -> Season:
    """One season of one pond."""
    chance = random.Random(seed)
    year = chance.choice(years)
    weather = weather_of(year)
    first = date(year, *(start or (4, 1 + chance.randrange(28))))
    wanted = [first + timedelta(n) for n in range(days + 1)]
    wanted = [day for day in wanted if day in weather]
    factor = chance.uniform(0.6, 1.1)
    keeper = _Keeper(chance, faults, error_mm)
    level = -FULL_MM
    before: tuple[datetime, float] | None = None
    for place, day in enumerate(wanted):
        hour = min(max(7.5 + chance.gauss(0, faults.wander_h), 5.0), 11.0)
        moment = datetime(day.year, day.month, day.day, tzinfo=ZONE) + timedelta(hours=hour)
        drift = 1 + faults.drift * (place / max(len(wanted) - 1, 1) - 0.5)
        part = _share(moment)
        if before is not None:
            then, share = before
            length = (moment.timestamp() - then.timestamp()) / 86400
            yesterday = weather[wanted[place - 1]]
            lost = yesterday.full_mm * (1 - share) + weather[day].full_mm * part
            rain = yesterday.rain_mm
            level -= factor * drift * lost + steady_mm * length
            level += rain - chance.gauss(0, faults.disturbed_mm) * length**0.5
            level -= chance.expovariate(1 / faults.splash_mm) if faults.splash_mm else 0.0
            level = min(level, -SPILL_MM)
            keeper.rain(moment, rain)
        keeper.read(moment, level)
        if level < -LOW_MM:
            level += keeper.fill(moment)
            moment += timedelta(hours=1)
            part = _share(moment)
            keeper.read(moment, level)
        before = moment, part
    state = PondState(
        now=keeper.levels[-1].instant,
        entries=0,
        level=keeper.levels[-1],
        levels=tuple(keeper.levels),
        rain=tuple(keeper.rained),
        additions=tuple(keeper.additions),
    )
    computed = {day: _computed(weather[day], faults, chance) for day in wanted}
    return Season(pond(error_mm), state, computed, wanted[0], wanted[-1], factor, steady_mm)


class _Keeper:
    """Reads the gauge, empties the rain gauge and the barrels, and writes it down."""

    def __init__(self, chance: random.Random, faults: Faults, error_mm: float) -> None:
        self.chance = chance
        self.faults = faults
        self.error_mm = error_mm
        self.levels: list[Level] = []
        self.rained: list[tuple[int, float]] = []
        self.additions: list[Addition] = []

    def read(self, moment: datetime, level: float) -> None:
        second = self.faults.readers_mm and self.chance.random() < 0.3
        seen = -level + self.chance.gauss(0, self.error_mm)
        seen += self.faults.readers_mm if second else 0.0
        if self.chance.random() < self.faults.misread:
            seen += self.chance.choice((-1, 1)) * self.chance.uniform(20, 60)
        instant = int(moment.timestamp())
        by = {"by": "NB" if second else "MO"}
        entry = Entry(instant, "", "level", by, by)
        self.levels.append(Level(instant, float(round(seen)), "on", entry))

    def rain(self, moment: datetime, mm: float) -> None:
        caught = round(mm * (1 - self.faults.rain_short), 1)
        if caught:
            self.rained.append((int(moment.timestamp()) + 60, caught))

    def fill(self, moment: datetime) -> float:
        """Pour two barrels in half an hour later; how far the level rises."""
        litres = 2 * BARREL_L * (0.9 if self.chance.random() < 0.3 else 0.6)
        said = litres * (1 + self.faults.barrel)
        self.additions.append(Addition(int(moment.timestamp()) + 1800, said, "yard"))
        return litres / AREA_M2


def _share(moment: datetime) -> float:
    standard = moment - (moment.dst() or timedelta())
    hour = standard.hour + standard.minute / 60
    return share_by_hour(LATITUDE, standard.timetuple().tm_yday, hour)


def _computed(day: Weather, faults: Faults, chance: random.Random) -> DayEvaporation:
    mm = day.bare_mm if faults.poor_weather else day.full_mm
    mm = max(0.0, mm * (1 + faults.bias) + chance.gauss(0, faults.noise_mm))
    return DayEvaporation(mm, TEMPERATURE if faults.poor_weather else FULL, "simulated")
