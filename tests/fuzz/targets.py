"""Every reader of the program as a function of bytes. It may raise an error of pondtui.errors and
nothing else; some hold a law as well."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

from pondtui import units
from pondtui.books import draft, unwritten
from pondtui.books.export import as_csv, entry_rows
from pondtui.books.journal import read_folder
from pondtui.books.lines import make, parse_line, render
from pondtui.books.logs import Sensor, read_log
from pondtui.books.moments import typed_moment
from pondtui.books.pondfile import load, parse, save
from pondtui.books.reports import sort_out, understood
from pondtui.books.settings import read_settings, write_settings
from pondtui.books.sheets import Record, find_record, read_records
from pondtui.books.tables import parse_table
from pondtui.books.weather import weather_of
from pondtui.cli import words
from pondtui.errors import FileError, InputError, PondError, QuantityError
from pondtui.pond.away.report import code_in
from pondtui.pond.daily.quick import complete, understand
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.fold import fold
from pondtui.tui import themes
from pondtui.views import status, today
from tests.fuzz.corpus import SAMPLE
from tests.pond.away.ponds import sheet

ZONE = ZoneInfo("Europe/Brussels")
NOW = int(datetime(2026, 8, 14, 18, 20, tzinfo=ZONE).timestamp())


@cache
def setup() -> Setup:
    """The sample pond."""
    found = load(SAMPLE / "metric").setup
    assert found is not None
    return found


@cache
def record() -> Record:
    """The sheet that reports answer."""
    made = sheet(sitter="Sam")
    tasks = tuple(task for planned in made.visits for task in planned.tasks)
    return Record(made.code, "", made.first, made.last, "Sam", "metric", tasks)


@cache
def folder() -> Path:
    """A folder for what can be read from the disk alone."""
    path = Path(tempfile.mkdtemp(prefix="fuzz-"))
    for name in ("journal", "sheets", "weather"):
        (path / name).mkdir()
    return path


def sweep() -> None:
    """Take that folder away."""
    if folder.cache_info().currsize:
        shutil.rmtree(folder(), ignore_errors=True)
        folder.cache_clear()


def _typed(data: bytes) -> str:
    """As a text that came by a terminal: bytes that are none stay as lone surrogates."""
    return data.decode("utf-8", "surrogateescape")


def journal(data: bytes) -> None:
    """A file of the journal, folded, judged, shown and exported."""
    (folder() / "journal" / "2026-desk.txt").write_bytes(data)
    found = read_folder(folder(), ZONE, None)
    state = fold(setup(), found.live, NOW)
    seen = status.look(setup(), state, found.live, NOW)
    said = status.lines(seen), today.rows(seen, roomy=True)
    rows = entry_rows(found, ZONE)
    assert len(as_csv(rows).split("\n")) == len(rows) + 2
    assert said
    assert not any("\x1b" in text for text in said[0])


def line(data: bytes) -> None:
    """A line of the journal: what was read is written as the same again."""
    entry, _ = parse_line(data, "x.txt", 1, ZONE, None)
    if entry is None:
        return
    again, _ = parse_line(render(entry), "x.txt", 1, ZONE, None)
    assert again is not None
    assert (again.instant, again.kind, again.fields, again.note) == (
        entry.instant, entry.kind, entry.fields, entry.note,
    )  # fmt: skip


def pond(data: bytes) -> None:
    """A pond.toml; what could be read is written and reads as the same pond again."""
    loaded = parse(_typed(data))
    if loaded.setup is None or not loaded.data:
        return
    with suppress(FileError):  # a text may hold what UTF-8 cannot
        save(folder(), loaded.data)
        again = load(folder())
        assert again.setup is not None
        assert again.setup._replace(own_steps=()) == loaded.setup


def procedure(data: bytes) -> None:
    """A procedure.toml beside a good pond.toml."""
    shutil.copyfile(SAMPLE / "metric/pond.toml", folder() / "pond.toml")
    (folder() / "procedure.toml").write_bytes(data)
    found = load(folder())
    (folder() / "procedure.toml").unlink()
    assert found.setup is not None
    assert not any("\x1b" in step.text for step in found.setup.own_steps)


def weather(data: bytes) -> None:
    """A weather table."""
    days, report = weather_of([parse_table(data, "x.csv")], setup())
    assert len(report.problems) < 100
    assert len(list(report.lines())) < 100_000
    assert all(day == made.day for day, made in days.items())


def log(data: bytes) -> None:
    """A sensor's log: its entries read back."""
    found = read_log(parse_table(data, "x.csv"), {}, Sensor(), setup(), NOW)
    for entry in found.entries:
        again, problems = parse_line(render(entry), "", 1, ZONE, None)
        assert again == entry
        assert problems == []


def report(data: bytes) -> None:
    """A sitter's message."""
    text = _typed(data)
    code_in(text)
    sort_out(understood(text, record(), ZONE, 0.02), [], ZONE, None)


def settings(data: bytes) -> None:
    """A settings file, the same as a draft of a pond and as a theme."""
    for name in ("settings.toml", draft.NAME, "own.toml"):
        (folder() / name).write_bytes(data)
    found, _ = read_settings(folder())
    draft.read_draft(folder())
    themes.load(folder())
    write_settings(folder(), found)
    again, problems = read_settings(folder())
    assert (again, problems) == (found, [])


def kept_sheet(data: bytes) -> None:
    """A kept sheet."""
    (folder() / "sheets" / "2026-06-12-K7Q2M.json").write_bytes(data)
    with suppress(FileError):
        find_record(read_records(folder()), "K7Q2M")


def kept_changes(data: bytes) -> None:
    """What Setup kept: what is taken up can be kept again, and is the same."""
    place = folder() / "unwritten.json"
    place.write_bytes(data)
    found = unwritten.read(place)
    assert found is not None
    unwritten.write(place, unwritten.as_text(found))
    again = unwritten.read(place)
    assert again is not None
    assert [c.data for _, c in again.files] == [c.data for _, c in found.files]


def quick(data: bytes) -> None:
    """A hurried line, and the entry that it makes; a moment that was typed."""
    text = _typed(data)
    complete(text, setup())
    with suppress(InputError):
        typed_moment(text, NOW, ZONE)
    meant = understand(text, setup())
    entry = make(meant.kind, meant.fields, meant.note, NOW, ZONE, None)
    again, _ = parse_line(render(entry), "", 1, ZONE, None)
    assert again == entry


def quantity(data: bytes) -> None:
    """An amount, in every dimension."""
    text = _typed(data)
    for dimension in units.CANONICAL:
        with suppress(QuantityError):
            found = units.read(text, dimension, gallon="us", signed=True)
            assert abs(found.value) <= units.LARGEST[dimension]
        with suppress(QuantityError):
            units.read_measured(text, dimension)
    units.read_rate(text, gallon="us")


def call(data: bytes) -> None:
    """The words of a call."""
    words.parse(_typed(data).split("\0"))


TARGETS: dict[str, Callable[[bytes], None]] = {
    "journal": journal,
    "line": line,
    "pond": pond,
    "procedure": procedure,
    "weather": weather,
    "log": log,
    "report": report,
    "settings": settings,
    "record": kept_sheet,
    "unwritten": kept_changes,
    "quick": quick,
    "quantity": quantity,
    "call": call,
}


def tried(name: str, data: bytes) -> None:
    """One input; an error of ours is an answer."""
    with suppress(PondError):
        TARGETS[name](data)
