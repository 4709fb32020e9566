"""The weather of the pond, read and worked out beside the screen: the alarms wait for it."""

from __future__ import annotations

from pondtui.books.weather import read_weather
from pondtui.pond.daily.climate import Climate, climate
from pondtui.pond.state.model import PondState
from pondtui.tui.session import Session


def weather_of(session: Session, state: PondState, now: int) -> Climate:
    """The weather at `now`; may run in a worker's thread, keys are answered meanwhile."""
    tables, _ = read_weather(session.folder, session.setup)
    return climate(session.setup, state, tables, session.journal.live, now)
