"""What tells one sample's season from another's: its place, weather, persons and happenings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

SAMPLES = Path(__file__).parents[2] / "sample"
HAND = "hand"  # written with an editor


class PassOver(NamedTuple):
    """At this step the keeper passes it over, and says why."""

    reason: str


class Stop(NamedTuple):
    """At this step the keeper leaves off."""


Typed = Mapping[str, Sequence[str | PassOver | Stop]]


class Happening(NamedTuple):
    """An entry of a fixed day and hour; `by` empty: the keeper."""

    day: date
    at: str
    kind: str
    fields: dict[str, str]
    note: str = ""
    by: str = ""


class Plan(NamedTuple):
    """One batch of tap water; what is not said goes as usual."""

    typed: Typed = MappingProxyType({})
    dip: str = ""  # a look into the barrel once it is filled
    give_up: str = ""  # where it stops, it is given up for this reason
    by_hand: bool = False  # written down afterwards with an editor
    test_pond: bool = False  # the morning after
    resume: str = ""  # the day after: "as it stands", or "agree" to what was left standing


class Climate(NamedTuple):
    """Invented weather: plausible for a kind of place, no real one."""

    mean_c: float  # over the year
    swing_c: float  # of the day's mean, either way
    warmest: int  # the day of the year on which the mean rises fastest
    spell_c: float
    wet: tuple[float, float]  # chance of rain after a dry and after a wet day
    rain_mm: float
    most_mm: float
    light: tuple[float, float]  # part of the sunshine on a dry day
    wind_m_s: float
    fixed: Mapping[date, float]  # rain that is not left to chance, mm
    quiet_from: date  # no rain but the fixed one
    station_out: date  # a gap in the table, noted by hand in the journal
    dry: tuple[date, date] = (date.min, date.min)  # no rain between them
    humidity: tuple[float, float] = (0.0, 0.0)  # mean in %, and how much more in rain


class Nature(NamedTuple):
    """The pond as it really is."""

    site: float  # part of the evaporation that the place leaves
    steady_mm: float  # a day, in any weather
    leak_mm: float = 0.0  # a day more
    leak_from: date = date.max
    seeps: float = 0.0  # of what stands above the seeping mark, a day
    reading_mm: float = 0.0  # on the first day
    temp_c: float = 8.5
    warmer_c: float = 1.5  # than the air, in the long run
    rain_barrel_l: float = 0.0
    mains_c: tuple[float, float] = (11.0, 0.35)  # at a pond of 9 degC, and for each degree more
    feeds_from_c: float = 10.0

    def steady_on(self, day: date) -> float:
        """What is lost that day beside evaporation, mm."""
        return self.steady_mm + (self.leak_mm if day >= self.leak_from else 0.0)


class Tale(NamedTuple):
    """One sample pond's season."""

    name: str
    seed: int
    first: date
    last: date
    now: str
    keeper: str  # initials
    sitter: str
    sitter_name: str
    climate: Climate
    nature: Nature
    happenings: tuple[Happening, ...]
    batches: tuple[Plan, ...]
    written_later: tuple[tuple[float, str], ...]  # minutes since the line before, and the line
    away: tuple[date, date]  # the sitter writes on a device of their own
    reported: tuple[date, date]  # the sitter sends a message afterwards
    saving: tuple[date, date]  # no water is drawn
    skipped_rinse: date
    misread: date
    bucket: tuple[date, date]  # the bucket test, three days; no water is let in meanwhile
    bucket_note: str
    last_refill: date
    evenings: tuple[str, str]  # hour of the reading in spring and autumn, and in summer
    rain_used_from_l: float
    ready_note: str
    kit: Mapping[str, tuple[str, ...]]  # what the weekly test may show
    pump_chore: str

    @property
    def folder(self) -> Path:
        """Where the sample stands."""
        return SAMPLES / self.name

    def within(self, span: tuple[date, date], day: date) -> bool:
        """Whether a day lies in a span of the tale."""
        return span[0] <= day <= span[1]

    @property
    def eve(self) -> date:
        """The evening before the first absence."""
        return self.away[0] - timedelta(1)


def on(month: int, day: int, at: str, kind: str, note: str = "", by: str = "", /,
        **fields: str) -> Happening:  # fmt: skip
    """What happens on a day of the season, at a time of the day."""
    return Happening(date(2026, month, day), at, kind, fields, note, by)
