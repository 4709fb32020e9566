"""`pondtui import weather FILE`: a table looked over, copied into the pond, its columns kept."""

from __future__ import annotations

from collections.abc import Mapping
from fnmatch import fnmatch
from types import MappingProxyType
from typing import Any

from pondtui.books.mapping import guessed
from pondtui.books.tables import Table
from pondtui.books.weather import WANTED, Report, weather_of
from pondtui.books.weather_files import add_columns, put_table
from pondtui.cli.context import Context
from pondtui.cli.imports import confirmed, nothing_in, rows_of, table_of, told
from pondtui.cli.words import Call
from pondtui.errors import InputError, UsageError, nearest
from pondtui.pond.setup.columns import scale_of, split_header
from pondtui.pond.setup.model import Setup


def take_weather(name: str, mapping: dict[str, str], call: Call, context: Context) -> int:
    """Show what the table holds, and after a yes copy it into the pond's weather folder."""
    setup = context.setup
    table = table_of(name)
    columns = _columns(mapping, setup, table)
    tried = setup.weather._replace(columns=MappingProxyType(columns))
    days, report = weather_of([table], setup._replace(weather=tried))
    lost = [each for each in mapping if each not in report.tables[0].columns]
    if not days or lost:
        raise nothing_in(name, [p for p in report.problems if not lost or not p.line])
    if not context.as_json:
        for line in (*report.lines(), *told(report.problems)):
            context.say(line)
    question = f"copy these {len(days)} days into {context.folder / 'weather'}?"
    if not confirmed(question, call, context):
        context.say("nothing was taken in")
        return 0
    found = report.tables[0].columns
    new = {each: text for each, text in found.items() if each not in setup.weather.columns}
    path, how = put_table(context.folder, name)
    if new:
        add_columns(context.folder, new)
    shown = path.relative_to(context.folder).as_posix()
    lines = [f"{how}: {shown}"]
    if new:
        lines.append("pond.toml names its columns now; as it was: pond.toml.before")
    if not any(fnmatch(shown, pattern) for pattern in setup.weather.files):
        lines.append(f'remark: [weather] files does not name it: add "{shown}" in pond.toml')
    context.answer(_data(shown, how, len(days), report, new), lines)
    return 0


def _columns(mapping: Mapping[str, str], setup: Setup, table: Table) -> dict[str, str]:
    """Columns of pond.toml, else guessed, with those of --map. Raises UsageError where --map and
    pond.toml differ."""
    taken = {split_header(column)[0].casefold() for column in mapping.values()}
    free = {
        name: header
        for name, header in guessed(table, WANTED).items()
        if split_header(header)[0].casefold() not in taken
    }
    known = dict(setup.weather.columns) or {**free, **mapping}
    for name, column in mapping.items():
        if name not in WANTED:
            hint = nearest(name, list(WANTED)) or f"; known are {', '.join(WANTED)}"
            raise InputError(f"--map: weather has no {name}{hint}")
        unit = split_header(column)[1]
        if unit and WANTED[name].dimension:
            scale_of(unit, WANTED[name].dimension)  # an unknown unit is told before all else
        if known.setdefault(name, column) != column:
            raise UsageError(
                f"--map: pond.toml says {name} = {known[name]!r} for all weather tables: change it "
                "there, or the header of this table"
            )
    return {name: known[name] for name in WANTED if name in known}


def _data(
    shown: str, how: str, days: int, report: Report, new: Mapping[str, str]
) -> dict[str, Any]:
    table = report.tables[0]
    return {
        "file": shown,
        "written": how != "there already",
        "days": days,
        "rows": table.rows,
        "first": str(table.first),
        "last": str(table.last),
        "missing": table.missing,
        "traces": table.traces,
        "repeated_days": report.repeated,
        "gaps": [{"from": str(first), "to": str(last)} for first, last in report.gaps],
        "columns": dict(table.columns),
        "columns_written": dict(new),
        "problems": rows_of(report.problems),
    }
