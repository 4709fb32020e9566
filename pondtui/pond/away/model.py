"""An absence as values: visits, the numbered tasks of each, and the sheet that tells them."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from types import MappingProxyType

from pondtui.pond.setup.model import Setup
from pondtui.records import NamedTuple


class Visit(NamedTuple):
    """One visit by the sitter: a look, and what is done to one barrel.

    `add_l` 0 with a `release_l` is the usual hand-over: the water stands there, treated and
    tested, and the sitter only opens and shuts the outlet. A second barrel on a day is a second
    visit.
    """

    date: datetime.date
    hour: str = "18:00"  # by the pond's clock
    barrel: str = ""  # empty: nothing is let out
    batch: str = ""  # label of what stands ready
    add_l: float = 0.0  # that the sitter fills in first
    treat_l: float = 0.0
    dose: float | None = None  # worked out, mL or g as `unit` says
    measured: float | None = None  # rounded up to the device's mark
    devices: str = ""  # the same in the keeper's devices
    unit: str = "mL"
    fill_min: float | None = None
    wait_min: float = 0.0
    release_l: float = 0.0
    release_min: float | None = None
    buckets: int | None = None  # carried water
    only_below_mm: float | None = None  # gauge reading; with the water higher nothing is let out
    use_by: datetime.date | None = None  # treated water older than that is unknown
    tasks: tuple[str, ...] = ()  # the keeper's own


class Task(NamedTuple):
    """One line that the sitter answers by its number, and the entry that the answer makes."""

    number: str  # visit.place
    title: str  # short, for the journal
    text: str  # what to do
    kind: str = "note"  # of the entry
    fields: Mapping[str, str] = MappingProxyType({})
    field: str = ""  # the one that an amount fills
    dimension: str = ""  # of the amount
    unit: str = ""  # that a bare number has
    planned: str = ""  # the amount that a plain ok means; empty: an amount is asked for
    instant: int = 0  # when it is to be done

    @property
    def asks(self) -> str:
        """What to answer with."""
        if not self.field:
            return "ok / no"
        if self.dimension == "chlorine":
            return "none / mg/L"
        return f"ok / {self.shown_unit}" if self.planned else self.shown_unit

    @property
    def shown_unit(self) -> str:
        """The unit as people write it: °C."""
        return self.unit.replace("deg", "°")


class Planned(NamedTuple):
    """A visit with its number and tasks."""

    number: int
    visit: Visit
    tasks: tuple[Task, ...]


class Words(NamedTuple):
    """A paragraph."""

    text: str


class Items(NamedTuple):
    """A list; `sign` is "-", "1" for steps in order, "x" for what must not be done."""

    sign: str
    rows: tuple[str, ...]
    title: str = ""


class Grid(NamedTuple):
    """A table."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    barrel: str = ""  # a dose table: of which barrel
    amounts_l: tuple[float, ...] = ()  # and its rows in litres, for a look-up


class Drawing(NamedTuple):
    """The gauge with its marks is drawn here."""

    level_mm: float | None


Block = Words | Items | Grid | Drawing


class Part(NamedTuple):
    """One of the ten parts."""

    number: int
    title: str
    blocks: tuple[Block, ...]


class Sheet(NamedTuple):
    """The whole care sheet; `setup` has the units in which it is told."""

    code: str  # by which a report finds its sheet
    setup: Setup
    made: datetime.datetime  # by the pond's clock
    first: datetime.date | None
    last: datetime.date | None
    sitter: str
    parts: tuple[Part, ...]
    visits: tuple[Planned, ...]
    remarks: tuple[str, ...] = ()  # for the keeper, before leaving
    private: bool = False

    @property
    def title(self) -> str:
        """What it is."""
        return f"Care sheet: {self.setup.pond.name}"

    @property
    def span(self) -> str:
        """`2026-08-16 to 2026-08-30`, or that it has no dates."""
        if self.first is None or self.last is None:
            return "no dates set"
        return f"{self.first} to {self.last}"
