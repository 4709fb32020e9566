"""One table of pond.toml after another: raw values in, good things and findings out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.pond.setup import conditioner_checks, table_checks
from pondtui.pond.setup.contradictions import Thing
from pondtui.pond.setup.fields import Field, Finding, Table
from pondtui.pond.setup.scalars import near, shown
from pondtui.pond.setup.tables import inner
from pondtui.pond.setup.tables_pond import NAME
from pondtui.pond.setup.values import read_value
from pondtui.units import show

CHECKS = {
    "basin": table_checks.check_basin,
    "barrel": table_checks.check_barrel,
    "source": table_checks.check_source,
    "chore": table_checks.check_chore,
    "limits": table_checks.check_limits,
    "weather": table_checks.check_weather,
    "conditioner": conditioner_checks.check_conditioner,
}

WHOLE = ("chore",)  # judged only when all of it was read


class TableReader:
    """Reads tables and gathers what is wrong with them in `findings`."""

    def __init__(self, data: Mapping[str, object]) -> None:
        self.data = data
        self.findings: list[Finding] = []
        self.spoilt: set[tuple[str, str]] = set()  # (table, name) of what was left out
        self.system = "metric"

    @property
    def _gallon(self) -> str | None:
        """What a bare gallon means on this pond."""
        return self.system if self.system in ("us", "imperial") else None

    def single(self, table: Table) -> Any | None:
        """The value of a table that stands once; None where it is missing or no table."""
        raw = self.data.get(table.name)
        if raw is None:
            return None
        if not isinstance(raw, dict):
            self.tell(table.name, 0, "", f"{table.name}: write {table.title} once, in single "
                       "brackets, with its keys below it")  # fmt: skip
            return None
        thing = Thing(table.name, 0, table.name, None)
        before = len(self.findings)
        values = self._values(table, raw, thing)
        if table.name == "gauge" and "reads" in raw and "reads" not in values:
            return None  # up or down: never guessed
        if table.name == "pond":
            values.setdefault("name", "unnamed pond")
        self._check(table, values, thing, before)
        return table.make(**values)

    def several(self, table: Table) -> Iterator[Thing]:
        """The good ones of a table that may stand several times."""
        for nth, name, raw in self._rows(table):
            place = f"{table.name}.{name}" if table.many == "named" else table.name
            thing = Thing(place, nth, _label(table, nth, name, raw), None)
            before = len(self.findings)
            values = self._values(table, raw, thing)
            if table.many == "named":
                self._value(NAME, name, thing, values)
            self._check(table, values, thing, before)
            if self._spoilt_since(before):
                self.spoilt.add((table.name, name or str(raw.get("name", ""))))
            else:
                yield thing._replace(value=table.make(**values))

    def _rows(self, table: Table) -> Iterator[tuple[int, str, Mapping[str, Any]]]:
        """(nth, name of a named table, raw table) of every table of that name."""
        raw = self.data.get(table.name)
        if raw is None:
            return
        rows: list[tuple[int, str, Any]]
        if table.many == "named" and isinstance(raw, dict):
            rows = [(0, name, row) for name, row in raw.items()]
        elif table.many == "list" and isinstance(raw, list):
            rows = [(nth, "", row) for nth, row in enumerate(raw)]
        else:
            rows = [(0, "", raw)]
        for nth, name, row in rows:
            if isinstance(row, dict) and row is not raw:
                yield nth, name, row
            else:
                self.tell(table.name, nth, name, f"{table.name}: write {table.title} with its keys "
                          f"below it, not {shown(row)}")  # fmt: skip

    def _values(self, table: Table, raw: Mapping[str, Any], thing: Thing) -> dict[str, Any]:
        """The values of a table's keys by the model's names; what is wrong is told."""
        values: dict[str, Any] = {}
        inside = {sub.name: sub for sub in inner(table.name)}
        keys = tuple(field.key for field in table.fields) + tuple(inside)
        for key, item in raw.items():
            field = table.field(key)
            if key in inside:
                self._inner(inside[key], item, thing, values)
            elif field is None:
                self.findings.append(thing.finding(
                    shown(key), f"an unknown key, kept but not read{near(key, keys)}",
                    "remark"))  # fmt: skip
            else:
                self._value(field, item, thing, values)
        for field in table.fields:
            if field.required and field.key not in raw:
                self.findings.append(thing.finding(
                    field.key, f"missing: {field.help}; such as {field.key} = {field.example}"
                ))  # fmt: skip
        return values

    def _value(self, field: Field, item: object, thing: Thing, values: dict[str, Any]) -> None:
        """One value into `values`, or what is wrong with it."""
        try:
            values[field.attr] = read_value(field, item, self._gallon)
        except InputError as error:
            self.findings.append(thing.finding(field.key, str(error)))

    def _inner(self, table: Table, raw: Any, thing: Thing, values: dict[str, Any]) -> None:
        """A table inside a table, such as [barrel.roof]."""
        place = thing._replace(table=f"{thing.table}.{table.name}",
                               label=f"{thing.label}: {table.name}")  # fmt: skip
        if not isinstance(raw, dict):
            self.findings.append(place.finding("", f"write {table.title}, not {shown(raw)}"))
            return
        before = len(self.findings)
        read = self._values(table, raw, place)
        if table.make is dict or not self._spoilt_since(before):
            values[table.name] = table.make(**read)

    def _check(self, table: Table, values: dict[str, Any], thing: Thing, before: int) -> None:
        """What its keys say against each other; a key that is wrong already is not told twice."""
        check = CHECKS.get(table.name)
        told = {finding.key for finding in self.findings[before:]}
        if not check or (table.name in WHOLE and told):
            return
        for key, sentence, severity in check(values, self.say):
            if key in told:
                continue
            self.findings.append(thing.finding(key, sentence, severity))

    def _spoilt_since(self, before: int) -> bool:
        return any(f.severity == "problem" for f in self.findings[before:])

    def say(self, value: float, dimension: str) -> str:
        return show(value, dimension, self.system)

    def tell(self, table: str, nth: int, key: str, message: str, severity: str = "problem") -> None:
        self.findings.append(Finding(table, nth, key, message, severity))


def _label(table: Table, nth: int, name: str, raw: Mapping[str, Any]) -> str:
    """How a table is called in a sentence: `barrel "yard"`, `source "tap"`, `conditioner 2`."""
    name = name or raw.get("name", "")
    if isinstance(name, str) and name:
        return f'{table.name} "{shown(name)}"'
    return f"{table.name} {nth + 1}"
