"""The season's water, worked out once for all screens and again only when something is new."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from pondtui.pond.water.budget import Budget
    from pondtui.tui.session import Session

STALE_S = 600  # what stands for the whole day does not change by the minute


class Season(NamedTuple):
    """The budget of the season up to now, by month, and of the season before to the same day."""

    now: Budget
    before: Budget | None
    first: date
    last: date


class SeasonBook:
    """Keeps the latest answer. `work_out` may run in a thread; it imports what it needs."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._made_of: tuple[object, ...] = ()
        self.latest: Season | None = None

    @property
    def stale(self) -> bool:
        """Whether the journal, the description or the hour is another one."""
        return self._made_of != self._now_of()

    def _now_of(self) -> tuple[object, ...]:
        session = self._session
        return (id(session.journal), id(session.loaded), session.now() // STALE_S)

    def work_out(self) -> Season | None:
        """The season as it stands; None where no basin floats. Never raises."""
        from pondtui.books.weather import read_weather
        from pondtui.errors import InputError
        from pondtui.pond.water.budget import budget
        from pondtui.pond.water.seasons import local_day, season_of, year_before

        session = self._session
        made_of = self._now_of()
        setup, state, entries = session.setup, session.state(), session.journal.live
        today = local_day(setup, state.now)
        season = season_of(setup, today)
        last = min(season.last, today)
        weather, _ = read_weather(session.folder, setup)
        past = year_before(season.first), year_before(last)
        kept = any(past[0] <= local_day(setup, r.instant) <= past[1] for r in state.levels)
        try:
            now = budget(setup, state, entries, weather, season.first, last)
            before = budget(setup, state, entries, weather, *past) if kept else None
        except InputError:  # no basin floats: what lacks stands under every screen
            self.latest = None
        else:
            self.latest = Season(now, before, season.first, last)
        self._made_of = made_of
        return self.latest
