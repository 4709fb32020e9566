"""`pondtui import log FILE`: the readings of a sensor that matter, as entries of the journal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

from pondtui import units
from pondtui.books.lines import one_line, render
from pondtui.books.logs import COLUMNS, Log, Sensor, key_of, read_log
from pondtui.books.stamps import render_stamp
from pondtui.cli.context import Context
from pondtui.cli.imports import confirmed, nothing_in, rows_of, table_of, told
from pondtui.cli.words import Call
from pondtui.errors import InputError, UsageError, nearest
from pondtui.pond.setup.columns import scale_of, split_header
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry

_SAID = ("by", "where", "barrel", "into", "source", "offset", "turned")


def take_log(name: str, mapping: dict[str, str], call: Call, context: Context) -> int:
    """Show what the log is worth, and after a yes write what the journal does not hold yet."""
    setup = context.setup
    given = _given(mapping)
    sensor = _sensor(mapping, setup)
    log = read_log(table_of(name), given, sensor, setup, context.instant)
    if log.first is None:
        raise nothing_in(name, log.problems)
    if "meter" in log.columns and not (sensor.barrel or "into" in mapping):
        raise UsageError("say where the meter's water runs: --map barrel=NAME or --map into=pond")
    known = {key_of(entry) for entry in context.journal.entries}
    new = [entry for entry in log.entries if key_of(entry) not in known]
    if not context.as_json:
        for line in (*_report(name, log, new, context), *told(log.problems)):
            context.say(line)
    if new and not confirmed(f"write {_count(new)} into the journal?", call, context):
        context.say("nothing was taken in")
        return 0
    for entry in new:
        context.append(entry)
    data = _data(log, new, context)
    context.answer(data, [f"written: {_count(new)}"] if new else ["nothing new: none was written"])
    return 0


def _given(mapping: Mapping[str, str]) -> dict[str, str]:
    """The columns of --map. Raises InputError for unknown names and units."""
    for name, text in mapping.items():
        if name not in (*COLUMNS, *_SAID):
            hint = nearest(name, [*COLUMNS, *_SAID])
            known = ", ".join((*COLUMNS, *_SAID))
            raise InputError(f"--map: a log has no {name}{hint or f'; known are {known}'}")
        if name in COLUMNS and COLUMNS[name].dimension and split_header(text)[1]:
            scale_of(split_header(text)[1], COLUMNS[name].dimension)
    return {name: text for name, text in mapping.items() if name in COLUMNS}


def _sensor(mapping: Mapping[str, str], setup: Setup) -> Sensor:
    """What --map says of the sensor. Raises InputError."""
    said = {name: one_line(mapping[name]) for name in _SAID if name in mapping}
    for name, text in said.items():
        if ";" in text or "|" in text:
            raise InputError(f"--map: {name}: no ; and no | in it")
    barrels = list(dict.fromkeys(barrel.name for barrel in setup.barrels))
    for name, known in (
        ("barrel", barrels),
        ("where", ["pond", "tap", *barrels]),
        ("into", ["pond"]),
        ("turned", ["yes", "no"]),
        ("source", [*dict.fromkeys(("tap", "rain", "well", *setup.sources))]),
    ):
        if said.get(name, known[0] if known else "") not in known:
            hint = nearest(said[name], known) or f": there is {', '.join(known)}"
            raise InputError(f"--map: {name}: nothing is called {said[name]}{hint}")
    if "barrel" in said and "into" in said:
        raise UsageError("--map: barrel or into=pond, not both")
    offset = 0.0
    if "offset" in said:
        offset = units.read(said["offset"], "length", what="--map: offset", signed=True).value
    kept = {name: said[name] for name in ("by", "where", "barrel", "source") if name in said}
    return Sensor(**kept, offset_mm=offset, turned=said.get("turned") == "yes")


def _report(name: str, log: Log, new: list[Entry], context: Context) -> list[str]:
    there = len(log.entries) - len(new)
    lines = [f"{name}: {log.rows} rows, {_when(log.first, context)} to {_when(log.last, context)}"]
    lines.append("  columns: " + ", ".join(f"{k} = {v}" for k, v in log.columns.items()))
    lines.append(f"  worth a line: {len(log.entries)}, of them {there} in the journal already")
    return [*lines, *(f"  {render(entry)}" for entry in new[:3]), *(["  ..."] if new[3:] else [])]


def _when(instant: int | None, context: Context) -> str:
    return render_stamp(instant or 0, context.zone)[:16]


def _count(entries: list[Entry]) -> str:
    kinds = Counter(entry.kind for entry in entries)
    return ", ".join(f"{number} {kind}" for kind, number in sorted(kinds.items()))


def _data(log: Log, new: list[Entry], context: Context) -> dict[str, Any]:
    return {
        "rows": log.rows,
        "first": render_stamp(log.first or 0, context.zone),
        "last": render_stamp(log.last or 0, context.zone),
        "columns": dict(log.columns),
        "written": len(new),
        "there_already": len(log.entries) - len(new),
        "lines": [render(entry) for entry in new],
        "problems": rows_of(log.problems),
    }
