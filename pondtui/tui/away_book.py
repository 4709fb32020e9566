"""The absence that the Away screen is about, worked out beside the screen."""

from __future__ import annotations

from datetime import date, timedelta

from pondtui.books.weather import read_weather
from pondtui.errors import PondError
from pondtui.pond.away.falling import TooLittle
from pondtui.pond.away.foretell import foretell
from pondtui.pond.away.known import plan, sheet_visits
from pondtui.pond.away.model import Sheet
from pondtui.pond.away.outlook import LONGEST_DAYS, Outlook
from pondtui.pond.away.planner import Away
from pondtui.pond.away.sheet import make_sheet
from pondtui.pond.daily.times import local_day
from pondtui.pond.state.model import PondState
from pondtui.records import NamedTuple
from pondtui.tui.session import Session

USUAL_DAYS = 14


class Wanted(NamedTuple):
    """An absence as it was typed."""

    first: date
    last: date
    sitter: str


class Answer(NamedTuple):
    """What there is to show; `fault` says in one sentence why something is not."""

    outlook: Outlook | TooLittle | None = None
    away: Away | None = None
    sheet: Sheet | None = None
    fault: str = ""


def next_absence(session: Session) -> Wanted | None:
    """The next one that the journal tells."""
    today = local_day(session.setup, session.now())
    told = [e for e in session.journal.live if e.kind == "away" and e.get("to") >= today]
    if not told:
        return None
    entry = min(told, key=lambda e: (e.get("from"), e.instant))
    return Wanted(entry.get("from"), entry.get("to"), str(entry.get("sitter") or ""))


def work_out(session: Session, state: PondState, wanted: Wanted | None) -> Answer:
    """Outlook, plan and sheet; may run in a thread. Never raises for what was typed."""
    try:
        return _worked_out(session, state, wanted)
    except PondError as error:
        return Answer(fault=str(error))


def _worked_out(session: Session, state: PondState, wanted: Wanted | None) -> Answer:
    setup, entries = session.setup, session.journal.live
    tables, _ = read_weather(session.folder, setup)
    today = local_day(setup, state.now)
    if wanted is None:
        return Answer(foretell(setup, state, entries, tables, USUAL_DAYS))
    away = plan(setup, state, entries, tables, wanted.first, wanted.last, sitter=wanted.sitter)
    ahead = (wanted.last + timedelta(1) - today).days
    outlook = foretell(setup, state, entries, tables, min(max(ahead, 1), LONGEST_DAYS))
    visits = sheet_visits(setup, state, entries, tables, wanted.first, wanted.last,
                          sitter=wanted.sitter)  # fmt: skip
    sheet = make_sheet(setup, state, entries, state.now, visits, first=wanted.first,
                       last=wanted.last, sitter=wanted.sitter)  # fmt: skip
    return Answer(outlook, away, sheet)
