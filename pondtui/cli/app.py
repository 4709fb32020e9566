"""`pondtui` without a verb: the app on its pond; without a terminal, the status in its place."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING

from pondtui.cli.context import Clock, Context
from pondtui.cli.dispatch import dispatch
from pondtui.cli.words import Call, parse
from pondtui.errors import FileError
from pondtui.paths import config_dir, data_dir, sample_source

if TYPE_CHECKING:
    from pondtui.views.pages.page import Page


def run(call: Call, context: Context) -> int:
    """Open the app, or say in words how the pond stands."""
    sitter = context.sitter_name  # somebody unknown is told before anything opens
    terminal = sys.stdin.isatty() and context.out.isatty()
    if not terminal or os.environ.get("TERM", "").lower() in ("", "dumb"):
        from pondtui.cli import status

        code = status.run(call, context)
        context.warn("no terminal for the app: this was `pondtui status`")
        return code
    if not context.named_pond and not sitter:
        note = _none_open(context)
        if note is not None:
            return _choose(context, note)
    from pondtui.tui.app import CHOOSE

    code = _open(context)
    return _choose(context, "") if code == CHOOSE else code


def _none_open(context: Context) -> str | None:
    """Why the pond used last cannot be opened, "" where there was none, None where it can."""
    if not context.settings.last_pond:
        return ""
    try:
        context.setup  # noqa: B018 - asked for the sentence that it raises
    except FileError as error:
        return f"The pond used last cannot be opened: {error}"
    return None


def _choose(context: Context, note: str) -> int:
    """Let the keeper look round, set up a pond, or open one; then open that."""
    from pondtui.books import samples
    from pondtui.books.draft import local_units, local_zone
    from pondtui.books.settings import read_settings
    from pondtui.tui.welcome import Home, welcome

    settings = read_settings(config_dir())[0]  # a pond may have been opened meanwhile
    home = Home(
        settings, data_dir(), tuple(samples.names(sample_source())), context.device,
        local_zone(os.environ), note, local_units(os.environ)
    )  # fmt: skip
    clock = Clock(context.clock.fixed)
    code, way = welcome(home, lambda: int(clock.now().timestamp()), os.environ)
    if way is None:
        return code
    if way.what == "sample":
        words = ["sample", "--us"] if way.which == "us" else ["sample"]
        return dispatch(parse(words), Context(context.out, context.err, clock, None))
    return run(parse([]), Context(context.out, context.err, clock, way.which))


def _open(context: Context) -> int:
    """Open the app on its pond until it is closed."""
    if not context.sample:
        _remember(context)
    from pondtui.tui.run import run as open_app

    code, unsaved = open_app(
        context.folder,
        context.loaded,
        lambda: int(context.clock.now().timestamp()),
        context.settings,
        context.device,
        manual=_manual,
        sitter=context.sitter_name,
    )
    if unsaved:
        lines = "\n".join(unsaved)
        raise FileError(f"not saved, write these lines into the journal by hand:\n{lines}")
    return code


def _remember(context: Context) -> None:
    """The pond used last is opened next time."""
    from pondtui.books.settings import keep_pond

    with suppress(FileError):  # only a comfort: the app opens all the same
        keep_pond(config_dir(), str(context.folder))


def _manual() -> Sequence[Page]:
    """The manual, made when it is opened."""
    from pondtui.cli.pages import manual

    return manual()
