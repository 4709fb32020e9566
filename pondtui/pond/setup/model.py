"""The pond's description as values: one NamedTuple a table of pond.toml.

Volumes are litres, lengths millimetres, areas square metres, flows L/min, temperatures degC,
concentrations mg/L, times minutes. `None` means that the keeper did not say.
Tables that may change (`Basin`, `Barrel`, `Conditioner`) carry `since`: the first day they hold.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import TypeVar

from pondtui.records import NamedTuple

DAWN_OF_TIME = date(1, 1, 1)


class Pond(NamedTuple):
    """[pond]: the place."""

    name: str
    time_zone: str = "UTC"
    latitude: float | None = None  # degrees, north positive
    elevation_m: float | None = None
    units: str = "metric"  # metric, us, imperial
    sheltered: bool = False
    currency: str = ""


class Gauge(NamedTuple):
    """[gauge]: how the level is read."""

    reads: str = "down"  # down: from a fixed edge to the water; up: a rule standing in the water
    error_mm: float = 2.0

    def is_higher(self, one_mm: float, other_mm: float) -> bool:
        """Whether the first reading stands for a higher level than the other."""
        return one_mm < other_mm if self.reads == "down" else one_mm > other_mm


class Basin(NamedTuple):
    """[[basin]]: one body of water; exactly one floats, the others are held at their spill edge."""

    name: str
    floats: bool = False
    held: bool = False
    shape: str = "box"  # box, cylinder, ellipse, bowl, cone, battered, table
    length_mm: float = 0.0
    width_mm: float = 0.0
    depth_mm: float = 0.0
    diameter_mm: float = 0.0
    top_diameter_mm: float = 0.0
    bottom_diameter_mm: float = 0.0
    side_slope: float = 0.0  # horizontal per vertical
    areas: tuple[tuple[float, float], ...] = ()  # rows of (depth below the edge mm, area m2)
    top_at_mm: float = 0.0  # gauge reading at which the sizes hold
    draindown_mm: float = 0.0  # what runs back when the pump stops
    planted: bool = False
    water_share: float = 1.0  # part of the outline that is water
    gate: bool = False
    gate_level_mm: float = 0.0  # higher spill edge while the gate is shut
    since: date = DAWN_OF_TIME


class Mark(NamedTuple):
    """[[mark]]: a level that means something."""

    name: str
    reading_mm: float
    role: str  # spill, seep, target, top-up, warn, danger
    rising: str = ""  # a chore when the level has come back over the mark


class Roof(NamedTuple):
    """[barrel.roof], [downpipe]: what feeds a rain barrel, or the pond itself."""

    area_m2: float = 0.0
    runoff: float = 0.85
    first_flush_mm: float = 0.0
    material: str = ""


class Barrel(NamedTuple):
    """[[barrel]]: a vessel whose outlet sits above its bottom, so that a heel stays behind."""

    name: str
    shape: str  # upright, lying, straight
    full_line_mm: float
    outlet_mm: float  # lower edge of the outlet
    diameter_mm: float = 0.0
    height_mm: float = 0.0
    length_mm: float = 0.0
    width_mm: float = 0.0
    breadth_mm: float = 0.0
    pipe_bore_mm: float | None = None
    pipe_length_mm: float | None = None
    fittings: float = 1.5  # loss coefficient, exit included
    drop_mm: float = 0.0  # outlet above the pipe's free end, or above the water
    end_under_water: bool = False
    source: str = "tap"  # tap, rain, well
    into: str = ""  # the basin it runs into; empty: the one that floats
    leave_at_least_l: float = 0.0
    former_content: str = ""
    retired: date | None = None
    delivery: str = "piped"  # piped, carried
    bucket_l: float = 10.0
    roof: Roof | None = None
    since: date = DAWN_OF_TIME


class Source(NamedTuple):
    """[source.NAME]: the water that fills a barrel."""

    name: str
    total_chlorine_mg_l: float | None = None
    free_chlorine_mg_l: float | None = None
    measured: date | None = None
    chloramine: bool | None = None  # None: not known, treated as chloramine where it matters
    ph: float | None = None
    temperature_c: float | None = None
    flow_l_min: float | None = None
    price: float | None = None  # in the pond's currency for price_per_l litres
    price_per_l: float = 1000.0
    forbidden: tuple[
        str, ...
    ] = ()  # "[dates] [weekdays | odd days | even days] [hours]", as written


class Device(NamedTuple):
    """A measuring device for doses."""

    name: str
    holds: float  # mL, or g for a dry product's scoop
    step: float  # smallest mark, mL or g


class Conditioner(NamedTuple):
    """[[conditioner]]: what binds the chlorine."""

    kind: str  # liquid, dry
    label_dose_ml: float = 0.0  # liquid only
    label_volume_l: float = 0.0
    chloramine_multiplier: float | None = None  # None: the label names none
    rated_for_mg_l: float | None = None  # chlorine that the label dose is for
    largest_multiple: float = 3.0
    wait_min: float = 10.0
    devices: tuple[Device, ...] = ()
    bottle_ml: float | None = None  # g where doses are counted in g
    opened: date | None = None
    best_before: date | None = None
    dose_when: str = "after fill"  # after fill, before fill
    agent: str = "thiosulfate-pentahydrate"  # dry only
    purity: float = 1.0
    margin: float = 0.10
    stock_g_l: float | None = None  # a home-made solution: dosed by volume
    since: date = DAWN_OF_TIME

    @property
    def unit(self) -> str:
        """Unit in which doses are counted: a home-made stock solution is poured like a liquid."""
        return "mL" if self.kind == "liquid" or self.stock_g_l else "g"


class Limits(NamedTuple):
    """[limits]: where the program stops and asks."""

    pond_change_c: float = 2.0
    pond_change_per_day_c: float = 3.0
    treated_keeps_min: float = 14 * 1440.0
    need_clear_test: str = "always"  # always, unless known
    kit_first_step_mg_l: float = 0.02


class Season(NamedTuple):
    """[season]: months and days, inclusive, as (month, day)."""

    start: tuple[int, int] = (4, 1)
    end: tuple[int, int] = (10, 31)


class Chore(NamedTuple):
    """[[chore]]: something done again and again."""

    name: str
    every_days: float | None = None
    weekdays: tuple[str, ...] = ()
    monthly: int | None = None
    after: str = ""
    window: tuple[tuple[int, int], tuple[int, int]] | None = None
    water: tuple[tuple[float, float, float], ...] = ()  # (from degC, to degC, every minutes)
    person: str = ""
    lasts_days: float = 42.0  # with `after` and `every`: for so long after the event


class Supply(NamedTuple):
    """[[supply]]: a thing that runs out, or a spare part."""

    name: str
    reorder_at: str = ""  # as written: its unit is the item's own
    place: str = ""
    thread: str = ""  # of a fitting, such as 3/4 in
    used_by: str = ""  # a chore or a kind of entry that uses some of it
    each: str = ""  # how much, as written
    best_before: date | None = None


class Kit(NamedTuple):
    """[kit]: the first step above "no colour" of each test, as written with its unit and basis."""

    ammonia: str = ""
    nitrite: str = ""
    nitrate: str = ""
    alkalinity: str = ""
    hardness: str = ""
    oxygen: str = ""
    chloride: str = ""
    chlorine_free: str = ""


class Person(NamedTuple):
    """[[person]]: who does what."""

    name: str
    initials: str = ""
    role: str = ""
    phone: str = ""
    free: tuple[str, ...] = ()  # weekdays on which a sitter can come; empty: every day


class House(NamedTuple):
    """[house]: what a stranger has to find or to know, in the keeper's own words."""

    emergency_number: str = ""
    stop_cock: str = ""
    breaker: str = ""
    gate: str = ""
    gate_code: str = ""  # private: on a sheet only when asked for
    dog: str = ""
    hours: str = ""
    normal: str = ""
    food: str = ""
    late: str = ""


class WeatherFiles(NamedTuple):
    """[weather]: the daily tables and how to read them."""

    files: tuple[str, ...] = ("weather/*.csv",)
    wind_height_m: float = 2.0
    day_starts: str = "00:00"
    rain_day_starts: str = "00:00"
    missing: tuple[str, ...] = ("",)
    monthly_evaporation_mm: tuple[float, ...] = ()
    columns: Mapping[str, str] = MappingProxyType({})


class OwnStep(NamedTuple):
    """[[step]] of procedure.toml: one of the keeper's own refill steps."""

    id: str
    after: str  # id of the step it stands behind
    text: str
    kind: str = "tick"  # tick, number, wait
    unit: str = ""
    minutes: float = 0.0


_Dated = TypeVar("_Dated", Basin, Barrel)


class Setup(NamedTuple):
    """A whole pond. Use `basins_on`, `barrel_on`, `conditioner_on` for tables that change."""

    pond: Pond
    gauge: Gauge = Gauge()
    basins: tuple[Basin, ...] = ()
    marks: tuple[Mark, ...] = ()
    barrels: tuple[Barrel, ...] = ()
    sources: Mapping[str, Source] = MappingProxyType({})
    conditioners: tuple[Conditioner, ...] = ()
    limits: Limits = Limits()
    kit: Kit = Kit()
    readings: Mapping[str, tuple[float, ...]] = MappingProxyType({})  # the keeper's own limits
    season: Season = Season()
    chores: tuple[Chore, ...] = ()
    supplies: tuple[Supply, ...] = ()
    persons: tuple[Person, ...] = ()
    house: House = House()
    weather: WeatherFiles = WeatherFiles()
    downpipe: Roof | None = None  # a roof whose water runs straight into the pond
    own_steps: tuple[OwnStep, ...] = ()  # procedure.toml
    lacks: tuple[str, ...] = ()  # tables that a refill needs and that are not (rightly) there

    @property
    def gallon(self) -> str | None:
        """Which gallon a bare "gal" is on this pond; None on a metric one."""
        return {"us": "us", "imperial": "imperial"}.get(self.pond.units)

    def basins_on(self, day: date) -> tuple[Basin, ...]:
        """The basins as they were on that day, in the order of the file."""
        return _held_on(self.basins, day)

    def floating(self, day: date) -> Basin | None:
        """The basin whose level the gauge reads."""
        return next((b for b in self.basins_on(day) if b.floats), None)

    def barrels_on(self, day: date) -> tuple[Barrel, ...]:
        """The barrels as they were on that day, retired ones left out."""
        return tuple(b for b in _held_on(self.barrels, day) if b.retired is None or day < b.retired)

    def barrel_on(self, name: str, day: date) -> Barrel | None:
        """One barrel as it was on that day, retired or not."""
        return next((b for b in _held_on(self.barrels, day) if b.name == name), None)

    def conditioner_on(self, day: date) -> Conditioner | None:
        """The conditioner with the latest `from` not after the day."""
        current = [c for c in self.conditioners if c.since <= day]
        return max(current, key=lambda c: c.since) if current else None

    def mark(self, name: str) -> Mark | None:
        """The mark of that name."""
        return next((m for m in self.marks if m.name == name), None)

    def marks_of(self, *roles: str) -> list[Mark]:
        """The marks that have one of these roles, in the order of the file."""
        return [m for m in self.marks if m.role in roles]


def _held_on(tables: tuple[_Dated, ...], day: date) -> tuple[_Dated, ...]:
    """Of each name the table with the latest `since` not after the day, else the first one."""
    chosen: dict[str, _Dated] = {}
    for table in sorted(tables, key=lambda t: t.since, reverse=True):
        if table.name not in chosen or chosen[table.name].since > day:
            chosen[table.name] = table
    names = dict.fromkeys(t.name for t in tables)
    return tuple(chosen[name] for name in names)
