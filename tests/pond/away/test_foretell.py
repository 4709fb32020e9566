"""The outlook in short tells at a glance what the whole one tells."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from pondtui.books.journal import read_folder
from pondtui.books.pondfile import load
from pondtui.books.weather import read_weather
from pondtui.pond.away.foretell import foretell
from pondtui.pond.away.outlook import Outlook
from pondtui.pond.state.fold import fold
from pondtui.views.outlook import glance, glance_json

SAMPLE = Path(__file__).parents[3] / "sample" / "metric"
NOW = datetime.fromisoformat("2026-10-09T17:40:00+02:00")
TODAY, DAYS = date(2026, 10, 9), 14


def test_in_short_it_tells_the_same_marks_on_the_same_days() -> None:
    setup = load(SAMPLE).setup
    assert setup is not None
    live = read_folder(SAMPLE, ZoneInfo(setup.pond.time_zone), setup.gallon).live
    state = fold(setup, live, int(NOW.timestamp()))
    weather, _ = read_weather(SAMPLE, setup)
    whole = foretell(setup, state, live, weather, DAYS)
    short = foretell(setup, state, live, weather, DAYS, in_short=True)
    assert isinstance(whole, Outlook)
    assert isinstance(short, Outlook)
    assert short == whole._replace(levels=whole.levels[-1:], without_rain=())
    assert glance(short, TODAY) == glance(whole, TODAY)
    assert glance_json(short, TODAY) == glance_json(whole, TODAY)
