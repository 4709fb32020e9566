"""An entry of the journal: one fact, as written and as read."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from typing import Any

from pondtui.pond.state.kinds import KINDS
from pondtui.records import NamedTuple

_RANK = {kind: place for place, kind in enumerate(KINDS)}


def ranks_before(kind: str, other: str) -> bool:
    """Whether an entry of the one kind stands before one of the other at the same instant."""
    return _RANK.get(kind, len(_RANK)) < _RANK.get(other, len(_RANK))


class Measured(NamedTuple):
    """A test value: `below` means under the kit's first step, which is then `value`."""

    value: float
    below: bool = False
    basis: str = ""  # N, NH3, NH4, NO2, NO3 or ""


class Dose(NamedTuple):
    """An amount of conditioner, mL or g as `unit` says."""

    amount: float
    unit: str


class Rate(NamedTuple):
    """Conditioner per litre of water, mL or g as `unit` says."""

    per_l: float
    unit: str


class Reference(NamedTuple):
    """What a strike names: every entry of one instant and kind."""

    instant: int
    kind: str


class Entry:
    """One line of the journal. Plain and slotted: tens of thousands are read at start.

    `instant` is UTC seconds since 1970; `fields` are the texts as written, trimmed;
    `values` are the same read: float in canonical units, `Measured`, `Dose`, `Rate`,
    `Reference`, date, bool, or str for words, phrases and unknown fields.
    """

    __slots__ = (
        "_canonical",
        "fields",
        "instant",
        "kind",
        "line",
        "note",
        "path",
        "stamp",
        "values",
    )

    def __init__(
        self,
        instant: int,
        stamp: str,
        kind: str,
        fields: dict[str, str],
        values: Mapping[str, Any],
        note: str = "",
        path: str = "",
        line: int = 0,
    ) -> None:
        self.instant = instant
        self.stamp = stamp
        self.kind = kind
        self.fields = fields
        self.values = values
        self.note = note
        self.path = path
        self.line = line
        self._canonical = ""

    @property
    def canonical(self) -> str:
        """The text by which entries are the same: instant, kind, sorted fields, note, in NFC."""
        if not self._canonical:
            fields = "; ".join(f"{name}={self.fields[name]}" for name in sorted(self.fields))
            text = f"{self.instant} | {self.kind} | {fields} | {self.note}"
            self._canonical = unicodedata.normalize("NFC", text)
        return self._canonical

    @property
    def order(self) -> tuple[int, int, str]:
        """Sort key: instant, rank of the kind (unknown kinds last), canonical text."""
        return (self.instant, _RANK.get(self.kind, len(_RANK)), self.canonical)

    def get(self, name: str) -> Any:
        """The read value of a field, None where it is absent."""
        return self.values.get(name)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Entry) and self.canonical == other.canonical

    def __hash__(self) -> int:
        return hash(self.canonical)

    def __repr__(self) -> str:
        return f"<Entry {self.canonical}>"
