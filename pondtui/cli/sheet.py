"""`pondtui sheet [FROM TO]`: the care sheet as text, Markdown, a page or calendar events."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from datetime import date

from pondtui.books.out import write_out
from pondtui.books.sheets import keep_record
from pondtui.books.weather import read_weather
from pondtui.cli.context import Context, as_path
from pondtui.cli.words import Call
from pondtui.errors import FileError, UsageError
from pondtui.pond.away.known import sheet_visits
from pondtui.pond.away.model import Sheet, Visit
from pondtui.pond.away.sheet import make_sheet
from pondtui.pond.refill.case import local_time
from pondtui.pond.state.fold import fold
from pondtui.views.care.as_json import sheet_json

FORMATS = ("text", "markdown", "html", "ics")
_UNITS = ("metric", "us", "imperial")


def run(call: Call, context: Context) -> int:
    """Make the sheet, keep its tasks for the report, and write or print it."""
    form = _one_of("as", call.get("as") or "text", FORMATS)
    name = call.get("output")
    if name == "":
        raise UsageError("--output: name the file to write")
    sheet = make(call, context)
    if form == "ics" and not sheet.visits:
        raise UsageError("a calendar needs the days: pondtui sheet FROM TO --as ics")
    text = _rendered(sheet, form)
    if sheet.visits:
        _keep(context, sheet)
    data = sheet_json(sheet)
    if name is not None:
        path = as_path(name)
        write_out(context.folder, path, text, private=sheet.private)
        context.answer({**data, "file": str(path)}, [f"written: {path}"])
    else:
        context.answer({**data, "text": text}, [text.removesuffix("\n")])
    if not context.as_json:
        for remark in sheet.remarks:
            context.warn(f"before you leave: {remark}")
    context.warn_unread()
    return 0


def make(call: Call, context: Context) -> Sheet:
    """The sheet that the words ask for. Raises UsageError."""
    units = call.get("units")
    if units is not None:
        _one_of("units", units, _UNITS)
    first, last, noted = _span(call, context)
    sitter = call.get("sitter")
    setup, now = context.setup, context.instant
    if sitter is None:
        named = [p.name for p in setup.persons if p.role == "sitter"]
        sitter = noted or (named[0] if len(named) == 1 else "")
    entries = context.journal.live
    state = fold(setup, entries, now)
    visits: tuple[Visit, ...] = ()
    if first and last:
        weather, _ = read_weather(context.folder, setup)
        visits = sheet_visits(setup, state, entries, weather, first, last, sitter=sitter)
    return make_sheet(
        setup,
        state,
        entries,
        now,
        visits,
        first=first,
        last=last,
        sitter=sitter,
        units=units,
        private=call.has("private"),
    )


def _span(call: Call, context: Context) -> tuple[date | None, date | None, str]:
    """The dates of the call, else of the next absence in the journal, with its sitter."""
    if len(call.words) == 2:
        return date_of(call.words[0]), date_of(call.words[1]), ""
    if call.words:
        raise UsageError("two dates: pondtui sheet FROM TO, such as 2026-08-16 2026-08-30")
    today = local_time(context.setup, context.instant).date()
    away = [e for e in context.journal.live if e.kind == "away" and e.get("to") >= today]
    if not away:
        return None, None, ""
    entry = min(away, key=lambda e: (e.get("from"), e.instant))
    return entry.get("from"), entry.get("to"), str(entry.get("sitter") or "")


def date_of(text: str) -> date:
    """A date as typed. Raises UsageError."""
    if re.fullmatch(r"\d{4}-\d\d-\d\d", text, re.ASCII):
        with suppress(ValueError):
            return date.fromisoformat(text)
    raise UsageError(f"a date such as 2026-08-16, not {text or 'nothing'}")


def _one_of(option: str, typed: str, known: tuple[str, ...]) -> str:
    if typed not in known:
        raise UsageError(f"--{option}: one of {', '.join(known)}, not {typed or 'nothing'}")
    return typed


def _rendered(sheet: Sheet, form: str) -> str:
    """The sheet in a form; only that form's module is loaded."""
    if form == "html":
        from pondtui.views.care import page

        return page.text(sheet)
    if form == "ics":
        from pondtui.views.care import ics

        return ics.text(sheet)
    from pondtui.views.care import markdown
    from pondtui.views.care import text as plain

    lines: Callable[[Sheet], list[str]] = markdown.lines if form == "markdown" else plain.lines
    return "\n".join(lines(sheet)) + "\n"


def _keep(context: Context, sheet: Sheet) -> None:
    """A folder that cannot be written to gives its sheet all the same."""
    try:
        keep_record(context.folder, sheet)
    except FileError as error:
        context.warn(f"{error}; a report on this sheet will not find its tasks")
