"""What a key of pond.toml is: one row says how it is read, checked, explained and written."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from pondtui.records import NamedTuple


class Field(NamedTuple):
    """One key of a table."""

    key: str
    attr: str  # the field of the value it becomes
    type: str  # a dimension of `units`, or one of the words in `values.READERS`
    help: str  # one sentence
    example: str  # as it is typed in the file
    default: str = ""  # as typed; empty: none
    low: float | None = None  # inclusive, in the canonical unit
    high: float | None = None
    words: tuple[str, ...] = ()  # of a choice
    required: bool = False
    scale: float = 1.0  # the value keeps canonical unit x scale
    signed: bool = False  # may be negative


class Table(NamedTuple):
    """One table of the file.

    `many` is "" for a table that stands once ([pond]), "list" for [[barrel]] and "named" for
    [source.NAME]. `inside` names the table that a table such as [barrel.roof] belongs to.
    """

    name: str
    help: str
    fields: tuple[Field, ...]
    make: Callable[..., Any]
    many: str = ""
    inside: str = ""
    refill: str = ""  # how a refill asks for it; empty: a refill goes without

    @property
    def title(self) -> str:
        """The table's header as written in the file."""
        path = f"{self.inside}.{self.name}" if self.inside else self.name
        return {"": f"[{path}]", "list": f"[[{path}]]", "named": f"[{path}.NAME]"}[self.many]

    def field(self, key: str) -> Field | None:
        """The field of that key."""
        return next((f for f in self.fields if f.key == key), None)


class Finding(NamedTuple):
    """Something wrong or worth a look, and where: the table, which of several, and the key."""

    table: str  # "barrel", "source.tap", "barrel.roof"; empty: the top of the file
    nth: int  # which of the [[table]]s, from 0
    key: str  # empty: the whole table
    message: str
    severity: str = "problem"
    leave_out: bool = False  # the thing cannot stand in the pond
