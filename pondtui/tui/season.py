"""The season's water, worked out once for all screens and again only when something is new."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from pondtui.pond.setup.model import Setup
    from pondtui.pond.state.live import Live
    from pondtui.pond.state.model import PondState
    from pondtui.pond.water.season_budget import TwoYears
    from pondtui.tui.session import Session

STALE_S = 600  # what stands for the whole day does not change by the minute


class SeasonBook:
    """Keeps the latest answer."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._made_of: tuple[object, ...] = ()
        self._begun_of: tuple[object, ...] = ()
        self.latest: TwoYears | None = None

    @property
    def stale(self) -> bool:
        """Whether the journal, the description or the hour is another one."""
        return self._made_of != self._now_of()

    @property
    def begun(self) -> bool:
        """Whether it is being worked out of things as they are now, or was."""
        return self._begun_of == self._now_of()

    def _now_of(self) -> tuple[object, ...]:
        session = self._session
        return (id(session.journal), id(session.loaded), session.now() // STALE_S)

    def work_out(self) -> TwoYears | None:
        """The season as it stands; None where no basin floats. Never raises."""
        return self.work()()

    def work(self) -> Callable[[], TwoYears | None]:
        """The same as work to be done, of things as they are now; may be done in a thread."""
        session, made_of = self._session, self._now_of()
        self._begun_of = made_of
        setup, state, live = session.setup, session.state(), session.journal.live
        return lambda: self._worked_out(setup, state, live, made_of)

    def _worked_out(
        self, setup: Setup, state: PondState, live: Live, made_of: tuple[object, ...]
    ) -> TwoYears | None:
        from pondtui.books.weather import read_weather
        from pondtui.errors import InputError
        from pondtui.pond.water.season_budget import season_so_far

        if made_of != self._begun_of:
            return self.latest  # it was begun anew, of newer things
        weather, _ = read_weather(self._session.folder, setup)
        found: TwoYears | None
        try:
            found = season_so_far(setup, state, live, weather)
        except InputError:  # no basin floats: what lacks stands under every screen
            found = None
        if made_of == self._begun_of:
            self.latest, self._made_of = found, made_of
        return self.latest
