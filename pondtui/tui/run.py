"""Opening the app on a pond, from the command line."""

from __future__ import annotations

import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Mapping, MutableMapping
from pathlib import Path

from pondtui.books.pondfile import LoadedPond
from pondtui.books.settings import Settings
from pondtui.tui import themes
from pondtui.tui.app import LOOK_S, PondApp
from pondtui.tui.looks import looks
from pondtui.tui.session import Session


def run(
    folder: Path,
    loaded: LoadedPond,
    now: Callable[[], int],
    settings: Settings,
    device: str,
    environ: MutableMapping[str, str] = os.environ,
) -> tuple[int, list[str]]:
    """Run the app until it is closed: its exit code, and lines that could not be saved.

    Raises FileError for a pond that cannot be used, and whatever fault ended the app.
    """
    themes.drop_empty_no_color(environ)
    session = Session(folder, loaded, now, settings=settings, device=device, years="newest")
    app = make_app(session, environ)
    if _terminal():
        threading.Thread(target=_leave_when_closed, args=(session,), daemon=True).start()
    app.run()
    session.settle(wait_s=5.0)  # a signal may have come while the disk was writing
    if app.fault is not None:
        raise app.fault
    return app.return_code or 0, [each.line for each in session.pending]


def _terminal() -> bool:
    """Whether a terminal is there to be typed at."""
    return sys.__stdin__ is not None and not sys.__stdin__.closed and sys.__stdin__.isatty()


def _leave_when_closed(session: Session) -> None:
    """End with the terminal, once what is in hand is saved.

    The toolkit blocks for ever on a terminal that was closed, whoever asks it to end; so this
    looks from a thread of its own and asks nobody.
    """
    while _terminal():
        time.sleep(LOOK_S)
    session.settle(wait_s=5.0)
    os._exit(128 + signal.SIGHUP)


def make_app(session: Session, environ: Mapping[str, str]) -> PondApp:
    """The app with its themes."""
    dress = looks(session.settings, environ)
    session.settings = session.settings._replace(ascii=dress.plain)
    app = PondApp(session, dress)
    app.faults += dress.faults
    return app
