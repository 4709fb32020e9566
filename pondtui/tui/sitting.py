"""The sheet of an absence that only the journal tells, made beside the screen."""

from __future__ import annotations

from pondtui.books.sheets import keep_record
from pondtui.books.weather import read_weather
from pondtui.errors import PondError
from pondtui.pond.away.known import sheet_visits
from pondtui.pond.away.sheet import make_sheet
from pondtui.pond.state.model import PondState
from pondtui.tui.away_book import Wanted
from pondtui.tui.session import Session


def make_record(session: Session, state: PondState, wanted: Wanted) -> str:
    """Make and keep it; may run in a thread. "", or why it cannot be made."""
    setup, entries = session.setup, session.journal.live
    try:
        tables, _ = read_weather(session.folder, setup)
        visits = sheet_visits(setup, state, entries, tables, wanted.first, wanted.last,
                              sitter=wanted.sitter)  # fmt: skip
        sheet = make_sheet(setup, state, entries, state.now, visits, first=wanted.first,
                           last=wanted.last, sitter=wanted.sitter)  # fmt: skip
        keep_record(session.folder, sheet)
    except PondError as error:
        return str(error)
    return ""
