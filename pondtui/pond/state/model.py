"""What the fold tells: the pond, its barrels and its batches at one moment."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, TypeVar

from pondtui.pond.state.entry import Dose, Entry
from pondtui.records import NamedTuple

_Timed = TypeVar("_Timed", bound=tuple[Any, ...])  # its first field is an instant


class Level(NamedTuple):
    """A reading of the pond's gauge."""

    instant: int
    reading_mm: float
    pump: str = ""  # on, off or not said
    entry: Entry | None = None


class Temperature(NamedTuple):
    """A water temperature and when it was measured."""

    instant: int
    temp_c: float


class Addition(NamedTuple):
    """Water that reached the pond: from a barrel, or straight (`barrel` is then empty)."""

    instant: int
    litres: float
    barrel: str = ""
    temp_c: float | None = None
    change_c: float | None = None  # what it did to the pond, where both temperatures are known
    untreated: bool = False
    untested: bool = False  # treated, but not tested clear of TOTAL chlorine
    batch: str = ""  # label of the batch it came with
    source: str = ""  # of water put in straight


class Filled(NamedTuple):
    """Water put into a barrel, and where it came from."""

    instant: int
    litres: float
    barrel: str
    source: str


class Look(NamedTuple):
    """A measured volume while water runs: a dip, or a meter reading."""

    instant: int
    held_l: float


class Running(NamedTuple):
    """A hose that is on or an outlet that is open, since `instant`."""

    what: str  # fill, release
    instant: int
    held_l: float  # in the barrel when it began
    looks: tuple[Look, ...] = ()


class TimedRelease(NamedTuple):
    """A past release with its beginning known: what the outlet's time is fitted to."""

    start_l: float
    end_l: float
    minutes: float


class Batch(NamedTuple):
    """One round of a barrel through the procedure. The label is only a label: water is tracked
    by barrel.

    `order` numbers the entries of this barrel and batch as they were applied: a step that has to
    come after another is done only if its number is the larger one.
    """

    label: str
    barrel: str
    opened: int
    last: int  # instant of its latest entry
    ticks: Mapping[str, int] = MappingProxyType({})  # step -> order
    bypassed: Mapping[str, int] = MappingProxyType({})
    order: Mapping[str, int] = MappingProxyType({})  # event -> order, see fold
    doses: tuple[Dose, ...] = ()
    added_l: float = 0.0
    released_l: float = 0.0
    treated_at: int | None = None  # the latest dose
    times: Mapping[str, int] = MappingProxyType({})  # event or step -> instant of its latest
    rate_per_l: float | None = None  # agent per litre by which the latest dose was judged
    temp: Temperature | None = None  # of the barrel, since its latest fill
    emptied: bool = False  # no more than heel + 2 L is left
    ended: int | None = None
    revision: int = 0  # number of entries applied to it


class BarrelNow(NamedTuple):
    """What stands in a barrel. Held now = begun + filled + corrected - released."""

    name: str
    held_l: float
    untreated_l: float  # of it; 0 when what was given covers it, or a test read nothing
    begun_l: float
    filled_l: float = 0.0
    corrected_l: float = 0.0
    released_l: float = 0.0
    spare_l: float = 0.0  # litres that the agent in the water would still cover
    lacking_l: float = 0.0  # of it tested clear although too little agent was given
    treated_at: int | None = None
    clear_at: int | None = None
    unknown: str = ""  # why nobody knows what the water is; test it
    coloured: bool = False  # the latest total-chlorine test showed colour
    overdosed: float = 0.0  # agent per litre over what the label allows, 1 = just at its ceiling
    running: Running | None = None
    batch: Batch | None = None  # the open one
    timed: tuple[TimedRelease, ...] = ()
    changed: int = 0  # instant of the latest entry about it
    revision: int = 0  # number of entries applied to it

    @property
    def water(self) -> str:
        """In one word: unknown, untreated, treated, clear."""
        if self.unknown:
            return "unknown"
        if self.untreated_l > 0:
            return "untreated"
        return "clear" if self.clear_at is not None else "treated"


class Alarm(NamedTuple):
    """Something that is wrong, since when, and what to do."""

    name: str
    since: int
    text: str
    remedy: str
    severity: str = "act"  # act, watch
    batch: str = ""


class PondState(NamedTuple):
    """Everything that the entries say at `now`."""

    now: int
    entries: int  # how many were applied
    level: Level | None = None
    levels: tuple[Level, ...] = ()  # all, oldest first, in today's gauge
    pond_temp: Temperature | None = None
    last_rain: int | None = None
    rain: tuple[tuple[int, float], ...] = ()  # (instant, mm)
    additions: tuple[Addition, ...] = ()
    fills: tuple[Filled, ...] = ()
    drained: tuple[tuple[int, float], ...] = ()  # (instant, litres)
    disturbances: tuple[tuple[int, str], ...] = ()  # overflow, pump and gate events
    events: tuple[tuple[int, str], ...] = ()  # all of them: (instant, what)
    pump: str = ""  # on, off or not said
    gate_shut: bool = False
    barrels: Mapping[str, BarrelNow] = MappingProxyType({})
    batches: tuple[Batch, ...] = ()  # ended ones too, in the order of opening
    meters: Mapping[str, float] = MappingProxyType({})  # source -> latest meter reading, L
    tap_chlorine: tuple[int, float, float | None] | None = None  # instant, total, free mg/L
    conditioner_left: float | None = None  # mL or g
    alarms: tuple[Alarm, ...] = ()
    remarks: tuple[str, ...] = ()
    later: tuple[Entry, ...] = ()  # dated after now: listed, not applied
    pond_clear_at: int | None = None
    partial: bool = False  # older entries are still to be read: what follows from them is not known

    def within(self, since: int, until: int) -> PondState:
        """The same with what was read, put in and taken out from `since` to `until` alone: what
        looks at a season for every pair of readings need not look at all the years."""

        def cut(of: tuple[_Timed, ...]) -> tuple[_Timed, ...]:
            return tuple(each for each in of if since <= each[0] <= until)

        return self._replace(
            levels=cut(self.levels),
            rain=cut(self.rain),
            additions=cut(self.additions),
            fills=cut(self.fills),
            drained=cut(self.drained),
            disturbances=cut(self.disturbances),
            events=cut(self.events),
        )

    @property
    def open_batches(self) -> tuple[Batch, ...]:
        """The batches that have not ended, the one touched last first."""
        live = [b for b in self.batches if b.ended is None]
        return tuple(sorted(live, key=lambda b: b.last, reverse=True))
