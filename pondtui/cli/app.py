"""`pondtui` without a verb: the app on its pond; without a terminal, the status in its place."""

from __future__ import annotations

import os
import sys
from contextlib import suppress

from pondtui.books.settings import write_settings
from pondtui.cli import status
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.errors import FileError
from pondtui.paths import config_dir

WELCOME = """\
No pond is set up on this machine yet.

  pondtui sample     look around in an invented pond first
  pondtui new DIR    describe your own pond: some twenty short questions

pondtui help lists everything else."""


def run(call: Call, context: Context) -> int:
    """Open the app, or say in words how the pond stands."""
    terminal = sys.stdin.isatty() and context.out.isatty()
    if not terminal or os.environ.get("TERM", "").lower() in ("", "dumb"):
        code = status.run(call, context)
        context.warn("no terminal for the app: this was `pondtui status`")
        return code
    if not (context.named_pond or context.settings.last_pond):
        context.say(WELCOME)
        return 0
    if not context.sample:
        _remember(context)
    from pondtui.tui.run import run as open_app

    code, unsaved = open_app(
        context.folder,
        context.loaded,
        lambda: int(context.clock.now().timestamp()),
        context.settings,
        context.device,
    )
    if unsaved:
        lines = "\n".join(unsaved)
        raise FileError(f"not saved, write these lines into the journal by hand:\n{lines}")
    return code


def _remember(context: Context) -> None:
    """The pond used last is opened next time."""
    folder = str(context.folder)
    if context.settings.last_pond != folder:
        with suppress(FileError):  # only a comfort: the app opens all the same
            write_settings(config_dir(), context.settings._replace(last_pond=folder))
