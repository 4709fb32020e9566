"""What takes a while is worked out beside the screen, and again only when something is new."""

from __future__ import annotations

from typing import TYPE_CHECKING, Generic, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from datetime import date

    from pondtui.pond.away.falling import TooLittle
    from pondtui.pond.away.outlook import Outlook
    from pondtui.pond.setup.model import Setup
    from pondtui.pond.state.live import Live
    from pondtui.pond.state.model import PondState
    from pondtui.pond.water.season_budget import TwoYears
    from pondtui.pond.water.weather import WeatherDay
    from pondtui.tui.session import Session

    Weather = Mapping[date, WeatherDay]

SEASON_STALE_S = 600  # what stands for the whole day does not change by the minute
OUTLOOK_STALE_S = 3600
OUTLOOK_DAYS = 14

Found = TypeVar("Found")


class Worked(Generic[Found]):
    """Keeps the latest answer to one question about journal, description and weather."""

    def __init__(
        self,
        session: Session,
        stale_s: int,
        answer: Callable[[Setup, PondState, Live, Weather], Found],
    ) -> None:
        self._session = session
        self._stale_s = stale_s
        self._answer = answer
        self._made_of = self._begun_of = (-1, 0)
        self.latest: Found | None = None  # also where no basin floats

    @property
    def stale(self) -> bool:
        """Whether the journal, the description or the hour is another one."""
        return self._made_of != self._now_of()

    @property
    def begun(self) -> bool:
        """Whether it is being worked out of things as they are now, or was."""
        return self._begun_of == self._now_of()

    def _now_of(self) -> tuple[int, int]:
        return (self._session.facts, self._session.now() // self._stale_s)

    def work_out(self) -> Found | None:
        """The answer as things stand; None where no basin floats. Never raises."""
        self.work()()
        return self.latest

    def work(self) -> Callable[[], None]:
        """The same as work to be done, of things as they are now; may be done in a thread."""
        session, made_of = self._session, self._now_of()
        self._begun_of = made_of
        setup, state, live = session.setup, session.state(), session.journal.live
        return lambda: self._worked_out(setup, state, live, made_of)

    def _worked_out(
        self, setup: Setup, state: PondState, live: Live, made_of: tuple[int, int]
    ) -> None:
        from pondtui.books.weather import read_weather
        from pondtui.errors import InputError

        if made_of != self._begun_of:
            return  # it was begun anew, of newer things
        weather, _ = read_weather(self._session.folder, setup)
        found: Found | None
        try:
            found = self._answer(setup, state, live, weather)
        except InputError:  # no basin floats: what lacks stands under every screen
            found = None
        if made_of == self._begun_of:
            self.latest, self._made_of = found, made_of


def season_of(session: Session) -> Worked[TwoYears]:
    """The season's water budget."""

    def answer(setup: Setup, state: PondState, live: Live, weather: Weather) -> TwoYears:
        from pondtui.pond.water.season_budget import season_so_far

        return season_so_far(setup, state, live, weather)

    return Worked(session, SEASON_STALE_S, answer)


def outlook_of(session: Session) -> Worked[Outlook | TooLittle]:
    """What the level will do."""

    def answer(setup: Setup, state: PondState, live: Live, weather: Weather) -> Outlook | TooLittle:
        from pondtui.pond.away.foretell import foretell

        return foretell(setup, state, live, weather, OUTLOOK_DAYS)

    return Worked(session, OUTLOOK_STALE_S, answer)
