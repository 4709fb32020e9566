"""What is measured without a screen: reading, writing, the season's water, the command line."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import date, timedelta
from functools import partial
from itertools import count
from pathlib import Path
from typing import NamedTuple
from zoneinfo import ZoneInfo

from pondtui.books.journal import read_folder
from pondtui.books.lines import make, render
from pondtui.books.pondfile import load
from pondtui.books.store import Store
from pondtui.books.weather import read_weather
from pondtui.pond.away.foretell import foretell
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import fold
from pondtui.pond.state.live import Live
from pondtui.pond.state.model import PondState
from pondtui.pond.water.budget import budget
from pondtui.pond.water.evaporation import daily
from pondtui.pond.water.loss import estimate
from pondtui.pond.water.seasons import midnight, season_of
from pondtui.pond.water.weather import WeatherDay
from pondtui.science.evaporation import of_day
from tests.bench import books
from tests.bench.measure import Row, both, timed, written
from tests.bench.screens import MOMENT

NOW = 1_791_560_400  # MOMENT
OUTLOOK_DAYS = 14


@contextmanager
def evaporation(_room: Path) -> Iterator[Row]:
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

    yield Row(
        "evaporation", "a year of daily evaporation, all terms", "pyet, the reference term alone",
        both(lambda: [of_day(day) for day in days], theirs), 15, times=10.0, most=60.0,
    )  # fmt: skip


@contextmanager
def entries(room: Path) -> Iterator[Row]:
    """Twenty years read, merged and folded, beside reading the same facts as JSON."""
    years = books.twenty_years(room / "years")
    setup = _setup(years)
    lines = books.as_json_lines(years)
    zone = ZoneInfo(setup.pond.time_zone)
    yield Row(
        "entries", f"{len(lines)} entries read, merged, folded",
        "json.loads per line of the same facts",
        both(lambda: fold(setup, read_folder(years, zone, setup.gallon).live, NOW),
             lambda: [json.loads(text) for text in lines]),
        7, times=3.0,
    )  # fmt: skip


@contextmanager
def append(room: Path) -> Iterator[Row]:
    """An entry on the disk, beside one write and fsync of the same bytes."""
    folder = room / "append"
    (folder / "journal").mkdir(parents=True)
    store, number = Store(folder, "bench"), count()
    zone = ZoneInfo("Europe/Brussels")
    fields = {"step": "mix", "batch": "yard-261009"}
    line = (render(make("tick", fields, "", NOW, zone, None)) + "\n").encode()
    handle = os.open(room / "plain.txt", os.O_WRONLY | os.O_APPEND | os.O_CREAT)
    yield Row(
        "append", "an entry made, written and on the disk", "write + fsync of the same bytes",
        both(lambda: store.append(make("tick", fields, "", NOW + next(number), zone, None)),
             lambda: written(handle, line)),
        200, times=2.0,
    )  # fmt: skip
    os.close(handle)


class _Season(NamedTuple):
    """A season, as it stood on its last day."""

    first: date
    last: date
    state: PondState
    weather: dict[date, WeatherDay]
    entries: list[Entry]  # of the whole journal


@contextmanager
def seasons(room: Path) -> Iterator[Row]:
    """Budget, loss and outlook of each season of twenty years, beside those of a pond that has
    nothing but that one season: seasons differ, so each one is held against itself."""
    folder = books.twenty_years(room / "years")
    setup = _setup(folder)
    live = list(read_folder(folder, ZoneInfo(setup.pond.time_zone), setup.gallon).live)
    weather, _ = read_weather(folder, setup)
    together = list(_seasons(setup, live, weather))
    alone = [_alone(setup, season) for season in together]

    def in_turn() -> tuple[float, float]:
        """Season by season, so that a machine that slows down does it to both sides."""
        entries = Live(live)  # with its index still to be made
        ours = theirs = 0.0
        for season, lone in zip(together, alone, strict=True):
            ours += timed(partial(_water_of, setup, season, entries))
            theirs += timed(partial(_water_of, setup, lone, Live(lone.entries)))
        return ours, theirs / len(alone)

    yield Row(
        "seasons", "budget, loss and outlook season by season, 20 years", "one season",
        in_turn, 3, times=22.0,
    )  # fmt: skip


def _seasons(setup: Setup, live: list[Entry], weather: dict[date, WeatherDay]) -> Iterator[_Season]:
    for year in sorted({day.year for day in weather if day <= books.LAST}):
        span = season_of(setup, date(year, books.LAST.month, books.LAST.day))
        last = min(span.last, books.LAST)
        ends = midnight(setup, last + timedelta(1))
        until = [entry for entry in live if entry.instant < ends]
        if until and until[0].instant < midnight(setup, span.first + timedelta(30)):
            known = {day: one for day, one in weather.items() if day <= last}
            yield _Season(span.first, last, fold(setup, until, ends), known, live)


def _alone(setup: Setup, season: _Season) -> _Season:
    """The same without what the years before know."""
    begin = date(season.first.year, 1, 1)
    whole = Live(season.entries)
    known = {day: one for day, one in season.weather.items() if day >= begin}
    entries = [e for e in whole.since(midnight(setup, begin)) if e.instant < season.state.now]
    return season._replace(
        state=fold(setup, entries, season.state.now), weather=known, entries=entries
    )


def _water_of(setup: Setup, season: _Season, live: Live) -> object:
    first, last, state, weather, _ = season
    evaporated = daily(setup, weather, live, first, last + timedelta(1))
    return (
        budget(setup, state, live, weather, first, last),
        estimate(setup, state, evaporated, first, last, state.now),
        foretell(setup, state, live, weather, OUTLOOK_DAYS),
    )


@contextmanager
def status(room: Path) -> Iterator[Row]:
    """The status on the command line, beside Python reading the same files."""
    season = books.season(room / "season")
    files = f"pathlib.Path({str(season)!r}).rglob('*.t*')"
    plain = f"import json, pathlib; [p.read_text() for p in {files}]"
    yield Row(
        "status", "`pondtui status --json`, one season",
        "`python -c 'import json'` + reading the same files",
        both(_run(["-m", "pondtui", "--pond", str(season), "status", "--json"], room),
             _run(["-c", plain], room)),
        15, times=5.0,
    )  # fmt: skip


def _run(words: list[str], home: Path) -> Callable[[], object]:
    environ = {**os.environ, "HOME": str(home), "PONDTUI_NOW": MOMENT}
    return lambda: subprocess.run(
        [sys.executable, *words], env=environ, check=True, capture_output=True
    )


def _setup(folder: Path) -> Setup:
    setup = load(folder).setup
    assert setup is not None
    return setup


ROWS: dict[str, Callable[[Path], AbstractContextManager[Row]]] = {
    "evaporation": evaporation,
    "entries": entries,
    "append": append,
    "seasons": seasons,
    "status": status,
}
