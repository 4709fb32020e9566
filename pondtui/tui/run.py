"""Opening the app on a pond, from the command line."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Mapping, MutableMapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from pondtui.books.pondfile import LoadedPond
from pondtui.books.settings import Settings
from pondtui.tui import themes
from pondtui.tui.app import PondApp
from pondtui.tui.base import leave_with_terminal
from pondtui.tui.looks import first_looks, looks
from pondtui.tui.session import Session

if TYPE_CHECKING:
    from pondtui.views.pages.page import Page

LAST_S = 5.0  # how long the end waits for the disk
SWITCH_S = 0.0005  # what is read or worked out in plain Python would hold the keys up else


def run(
    folder: Path,
    loaded: LoadedPond,
    now: Callable[[], int],
    settings: Settings,
    device: str,
    environ: MutableMapping[str, str] = os.environ,
    *,
    manual: Callable[[], Sequence[Page]] | None = None,
    sitter: str = "",
) -> tuple[int, list[str]]:
    """Run the app until it is closed: its exit code, and lines that could not be saved.

    Raises FileError for a pond that cannot be used, and whatever fault ended the app.
    """
    sys.setswitchinterval(SWITCH_S)
    themes.drop_empty_no_color(environ)
    session = Session(folder, loaded, now, settings=settings, device=device, years="newest",
                      sitter=sitter)  # fmt: skip
    app = make_app(session, environ)
    app.manual = manual or app.manual
    leave_with_terminal(lambda: _settle(session))
    app.run()
    app.one_by_one.leave()
    _settle(session)  # a signal may have come while the disk was writing
    if app.fault is not None:
        raise app.fault
    return app.return_code or 0, [each.line for each in session.pending]


def _settle(session: Session) -> None:
    """Let the disk have what is in hand."""
    session.settle(wait_s=LAST_S)
    if session.describing is not None:
        session.describing.settle(LAST_S)


def make_app(session: Session, environ: Mapping[str, str]) -> PondApp:
    """The app, dressed for its first frame."""
    settings = session.settings
    first = first_looks(settings, environ)
    session.settings = settings._replace(ascii=first.plain)
    return PondApp(session, first, lambda: looks(settings, environ))
