"""What is measured, each against the least that the same work takes."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path
from zoneinfo import ZoneInfo

from pondtui.books.journal import read_folder
from pondtui.books.lines import make, render
from pondtui.books.pondfile import load
from pondtui.books.store import Store
from pondtui.pond.state.fold import fold
from pondtui.science.evaporation import of_day
from tests.bench import books
from tests.bench.measure import Row
from tests.tui.terminal import Terminal

NOW = 1_791_560_400
BARE = """
from textual.app import App
from textual.widgets import Static
class Bare(App):
    def compose(self):
        yield Static("Today")
Bare().run()
"""


def rows(room: Path) -> Iterator[Row]:
    """All rows; `room` is a folder to write in."""
    season, years = books.season(room / "season"), books.twenty_years(room / "years")
    yield evaporation()
    yield reading(years)
    yield tick(room)
    yield status(season, room)
    yield first_paint(season, room)
    yield first_paint_of_years(season, years, room)


def evaporation() -> Row:
    """A year of daily evaporation beside pyet."""
    import pandas as pd
    import pyet

    from tests.science.test_year import ELEVATION, LATITUDE, weather

    days = weather()
    index = pd.date_range("1976-01-01", periods=len(days), freq="D")
    column = {name: pd.Series([getattr(d, name) for d in days], index) for name in days[0]._fields}
    mean = (column["tmax_c"] + column["tmin_c"]) / 2

    def theirs() -> object:
        return pyet.pm_fao56(
            mean,
            column["wind_m_s"].astype(float),
            rs=column["radiation_mj"].astype(float),
            elevation=ELEVATION,
            lat=LATITUDE * 3.14159265 / 180,
            tmax=column["tmax_c"],
            tmin=column["tmin_c"],
            ea=column["vapour_kpa"].astype(float),
        )

    return Row(
        "a year of daily evaporation, all terms", "pyet, the reference term alone",
        lambda: [of_day(day) for day in days], theirs, bar=10.0, most_ms=60.0,
    )  # fmt: skip


def reading(years: Path) -> Row:
    """Twenty years read, merged and folded, beside reading the same facts as JSON."""
    setup = load(years).setup
    assert setup is not None
    lines = books.as_json_lines(years)
    zone = ZoneInfo(setup.pond.time_zone)

    def ours() -> object:
        return fold(setup, read_folder(years, zone, setup.gallon).live, NOW)

    return Row(
        f"{len(lines)} entries read, merged, folded", "json.loads per line of the same facts",
        ours, lambda: [json.loads(text) for text in lines], bar=3.0, rounds=7,
    )  # fmt: skip


def tick(room: Path) -> Row:
    """An entry acknowledged, beside one write and fsync of the same bytes."""
    folder = room / "tick"
    (folder / "journal").mkdir(parents=True)
    store, number = Store(folder, "bench"), count()
    zone = ZoneInfo("Europe/Brussels")

    def entry() -> object:
        fields = {"step": "mix", "batch": "yard-261009"}
        return store.append(make("tick", fields, "", NOW + next(number), zone, None))

    sample = make("tick", {"step": "mix", "batch": "yard-261009"}, "", NOW, zone, None)
    line = (render(sample) + "\n").encode()
    handle = os.open(room / "plain.txt", os.O_WRONLY | os.O_APPEND | os.O_CREAT)

    def plain() -> None:
        os.write(handle, line)
        os.fsync(handle)

    return Row("an entry acknowledged", "write + fsync of the same bytes", entry, plain, bar=2.0,
               rounds=200)  # fmt: skip


def _run(words: list[str], room: Path) -> Callable[[], object]:
    environ = {**os.environ, "HOME": str(room), "PONDTUI_NOW": "2026-10-09T17:40:00+02:00"}
    return lambda: subprocess.run(
        [sys.executable, *words], env=environ, check=True, capture_output=True
    )


def status(season: Path, room: Path) -> Row:
    """The status on the command line, beside Python reading the same files."""
    files = f"pathlib.Path({str(season)!r}).rglob('*.t*')"
    plain = f"import json, pathlib; [p.read_text() for p in {files}]"
    return Row(
        "`pondtui status --json`, one season", "`python -c 'import json'` + reading the same files",
        _run(["-m", "pondtui", "--pond", str(season), "status", "--json"], room),
        _run(["-c", plain], room), bar=5.0, rounds=11,
    )  # fmt: skip


def _painted(words: list[str], shown: str, room: Path) -> Callable[[], object]:
    environ = {"HOME": str(room), "PONDTUI_NOW": "2026-10-09T17:40:00+02:00"}

    def work() -> None:
        terminal = Terminal(words, environ)
        terminal.wait_for(shown)
        terminal.kill()

    return work


def first_paint(season: Path, room: Path) -> Row:
    """Spawn to the first painted Today, in a real terminal, beside a bare app."""
    return Row(
        "spawn to the first painted Today", "a bare Textual app with one Static",
        _painted(["-m", "pondtui", "--pond", str(season)], "74 mm", room),
        _painted(["-c", BARE], "Today", room), bar=1.5, rounds=11,
    )  # fmt: skip


def first_paint_of_years(season: Path, years: Path, room: Path) -> Row:
    """The same with twenty years of journal, beside one season."""
    return Row(
        "the same with 20 years of journal", "with one season",
        _painted(["-m", "pondtui", "--pond", str(years)], "below the edge", room),
        _painted(["-m", "pondtui", "--pond", str(season)], "below the edge", room),
        bar=1.1, rounds=7,
    )  # fmt: skip
