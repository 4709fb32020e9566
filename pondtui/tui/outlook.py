"""What the level will do, worked out beside the screen: Today tells it once it is there."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from pondtui.pond.away.falling import TooLittle
    from pondtui.pond.away.outlook import Outlook
    from pondtui.pond.setup.model import Setup
    from pondtui.pond.state.live import Live
    from pondtui.pond.state.model import PondState
    from pondtui.tui.session import Session

STALE_S = 3600
DAYS = 14


class OutlookBook:
    """Keeps the latest answer."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._made_of: tuple[object, ...] = ()
        self._begun_of: tuple[object, ...] = ()
        self.latest: Outlook | TooLittle | None = None

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

    def work(self) -> Callable[[], None]:
        """The next days as work to be done, of things as they are now; may be done in a thread."""
        session, made_of = self._session, self._now_of()
        self._begun_of = made_of
        setup, state, live = session.setup, session.state(), session.journal.live
        return lambda: self._worked_out(setup, state, live, made_of)

    def _worked_out(
        self, setup: Setup, state: PondState, live: Live, made_of: tuple[object, ...]
    ) -> None:
        from pondtui.books.weather import read_weather
        from pondtui.errors import InputError
        from pondtui.pond.away.foretell import foretell

        found: Outlook | TooLittle | None
        if made_of != self._begun_of:
            return  # it was begun anew, of newer things
        weather, _ = read_weather(self._session.folder, setup)
        try:
            found = foretell(setup, state, live, weather, DAYS)
        except InputError:  # no basin floats: what lacks stands under every screen
            found = None
        if made_of == self._begun_of:
            self.latest, self._made_of = found, made_of
