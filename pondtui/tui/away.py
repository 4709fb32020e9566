"""Away: dates in, plan out; the care sheet to look at and to print; the sitter's report back."""

from __future__ import annotations

import os
import re
from contextlib import suppress
from datetime import date
from pathlib import Path

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message

from pondtui.books.out import write_out
from pondtui.books.reports import shown, sort_out, understood
from pondtui.books.sheets import find_record, keep_record, read_records
from pondtui.books.texts import read_text
from pondtui.errors import FileError, InputError, PondError
from pondtui.pond.away.default_visits import check_span
from pondtui.pond.away.falling import TooLittle
from pondtui.pond.away.model import Sheet
from pondtui.pond.away.report import code_in
from pondtui.pond.away.sheet import check_name
from pondtui.pond.state.entry import Entry
from pondtui.tui import keys, paint
from pondtui.tui.ask import Ask
from pondtui.tui.away_book import Answer, Wanted, next_absence, work_out
from pondtui.tui.bars import Line
from pondtui.tui.dialogs import Confirm, Show
from pondtui.tui.screen import PondScreen
from pondtui.views import away as told
from pondtui.views import outlook as ahead
from pondtui.views.care import text as plain
from pondtui.views.charts import Chart
from pondtui.views.fan_chart import fan_chart

_DATES = re.compile(r"\s*(\d{4}-\d\d-\d\d)\s+(?:to\s+)?(\d{4}-\d\d-\d\d)(?:\s+(\S.*?))?\s*",
                    re.ASCII)  # fmt: skip
_EXAMPLE = "2026-08-16 2026-08-30 Tam"
_CHART_ROWS = 14


def dates_of(typed: str) -> Wanted:
    """An absence of a line. Raises InputError."""
    found = _DATES.fullmatch(typed)
    if found:
        with suppress(ValueError):
            first, last = (date.fromisoformat(found[n]) for n in (1, 2))
            check_span(first, last)
            return Wanted(first, last, check_name(found[3] or ""))
    raise InputError(f"first day, last day, and who comes, such as {_EXAMPLE}")


class Worked(Message):
    """A worker has the answer."""

    def __init__(self, answer: Answer, made_of: tuple[object, ...]) -> None:
        super().__init__()
        self.answer = answer
        self.made_of = made_of


class AwayScreen(PondScreen):
    """May the keeper leave?"""

    ROOM = "away"
    TITLE = "Away"
    BINDINGS = keys.bindings(keys.keys_of("away", {}))
    AUTO_FOCUS = "#away"
    PLAIN_WHEN_SMALL = False

    def __init__(self) -> None:
        super().__init__()
        self._typed: Wanted | None = None
        self._answer: Answer | None = None
        self._made_of: tuple[object, ...] = ()

    def body(self) -> ComposeResult:
        """All of it in one text that scrolls."""
        with VerticalScroll(id="away", can_focus=True):
            yield Line(id="away-told")
            yield Line(id="away-chart")

    def show(self) -> None:
        """What was worked out, and that more is on its way."""
        wanted = self._typed or next_absence(self.session)
        session = self.session
        made_of = (session.facts, session.now() // 3600, wanted)
        if made_of != self._made_of:
            self._made_of = made_of
            self._work(wanted, made_of)
        width = max(self.size.width - 4, 20)
        answer = self._answer
        if answer is None:
            self.query_one("#away-told", Line).say(paint.words("working it out ...", "quiet"))
            self.query_one("#away-chart", Line).say(Content(""))  # it was of other days
            return
        self.query_one("#away-told", Line).say(paint.joined(self._lines(answer, width)))
        self.query_one("#away-chart", Line).say(self._chart(answer, width))

    # --- what is shown ----------------------------------------------------------------------------

    def _lines(self, answer: Answer, width: int) -> list[Content]:
        setup = self.session.setup
        if answer.fault:
            return [paint.bullet(answer.fault, "danger", width),
                    paint.bullet("d asks for other days", "quiet", width)]  # fmt: skip
        if answer.away is not None:
            first, *rest = told.lines(answer.away, setup)
            found = [paint.words(first, "mark", bold=True)]
            return found + [self._line(line, width) for line in rest]
        lines = [paint.words("d: the days on which you are away, and who comes", "mark", bold=True)]
        if isinstance(answer.outlook, TooLittle):
            return [*lines, paint.bullet(ahead.too_little(answer.outlook), "warn", width)]
        if answer.outlook is not None:
            lines += [self._line(line, width) for line in ahead.lines(answer.outlook, setup, width)]
        return lines

    def _line(self, line: str, width: int) -> Content:
        """A heading, or a row that is wrapped under itself."""
        if not line.startswith(" "):
            return paint.words(line, "mark", bold=True)
        return (
            paint.words(line) if len(line) <= width else paint.bullet(line.strip(), "text", width)
        )

    def _chart(self, answer: Answer, width: int) -> Content:
        if answer.outlook is None or isinstance(answer.outlook, TooLittle):
            return Content("")
        chart = Chart(self.session.setup, width, _CHART_ROWS, self.session.settings.ascii)
        return paint.drawing(fan_chart(chart, answer.outlook))

    # --- working it out ---------------------------------------------------------------------------

    def _work(self, wanted: Wanted | None, made_of: tuple[object, ...]) -> None:
        """Beside the screen, since it takes a second; keys are answered meanwhile."""
        session, state = self.session, self.session.state()
        if session.inline:
            self._answer = work_out(session, state, wanted)
            return

        def work() -> None:
            self.post_message(Worked(work_out(session, state, wanted), made_of))

        self.run_worker(work, thread=True, exclusive=True, group="away")

    def on_worked(self, message: Worked) -> None:
        """Show it, unless the question is another one by now."""
        if message.made_of == self._made_of:
            self._answer = message.answer
            self.show()

    # --- keys -------------------------------------------------------------------------------------

    def action_dates(self) -> None:
        """Ask for the days."""
        wanted = self._typed or next_absence(self.session)
        value = f"{wanted.first} {wanted.last} {wanted.sitter}".strip() if wanted else ""
        self.pond.push_screen(
            Ask("Away from, to, and who comes", _EXAMPLE, value, dates_of), self._take_dates
        )

    def _take_dates(self, typed: str | None) -> None:
        if typed is not None:
            self._typed, self._answer = dates_of(typed), None
            self.show()

    def _sheet(self) -> Sheet | None:
        """The sheet of the days that were asked for; where there is none it is said why."""
        if self._answer is None:
            self.pond.notify("it is still being worked out: wait a moment", markup=False)
        elif self._answer.sheet is None:
            self.pond.notify("d first: the sheet is for the days of an absence", markup=False)
        return None if self._answer is None else self._answer.sheet

    def action_sheet(self) -> None:
        """Look at the care sheet."""
        sheet = self._sheet()
        if sheet is None:
            return

        def laid(width: int) -> Content:
            return paint.words("\n".join(plain.lines(sheet, width)))

        self.pond.push_screen(Show(sheet.title, laid))

    def action_print(self) -> None:
        """Write the sheet into the pond's folder: as text and as a page for a telephone."""
        sheet = self._sheet()
        if sheet is None:
            return
        from pondtui.views.care import page

        folder = self.session.folder
        name = f"{(sheet.first or sheet.made.date()).isoformat()}-{sheet.code}"
        texts = {"txt": "\n".join(plain.lines(sheet)) + "\n", "html": page.text(sheet)}
        try:
            for ending, text in texts.items():
                path = folder / "sheets" / f"{name}.{ending}"
                write_out(folder, path, text, private=sheet.private)
            keep_record(folder, sheet)
        except FileError as error:
            self.pond.notify(str(error), severity="error", markup=False)
            return
        self.pond.notify(f"written: sheets/{name}.txt and .html", markup=False)

    def action_report(self) -> None:
        """Ask for the sitter's report: pasted, typed, or the name of its file."""
        self.pond.push_screen(
            Ask("The sitter's report: paste it, or name its file", "1.1 ok 1.2 70 mm 1.3 no: gate "
                "shut", "", self._sorted), self._take_report
        )  # fmt: skip

    def _sorted(self, typed: str) -> tuple[list[str], list[Entry]]:
        """What a report means, and its new entries. Raises InputError."""
        session = self.session
        text = typed.strip()
        try:
            if "\n" not in text and Path(os.path.expanduser(text)).is_file():
                text = read_text(os.path.expanduser(text))
            record = find_record(read_records(session.folder), code_in(text))
        except (FileError, OSError) as error:
            raise InputError(str(error)) from None
        limits = session.setup.limits
        report = understood(text, record, session.zone, limits.kit_first_step_mg_l)
        found = sort_out(report, session.journal.entries, session.zone, session.setup.gallon)
        lines = shown(record, report, found)
        if not found.new:
            raise InputError("; ".join(["nothing new in it", *lines[1:]]))
        return lines, found.new

    def _take_report(self, typed: str | None) -> None:
        if typed is None:
            return
        lines, new = self._sorted(typed)
        self.pond.push_screen(
            Confirm(f"Write {len(new)} into the journal?", *lines),
            lambda yes: self._write(new) if yes else None,
        )

    def _write(self, new: list[Entry]) -> None:
        try:
            for entry in new:
                self.session.write(entry.kind, entry.fields, entry.note, at=entry.instant)
        except PondError as error:
            self.pond.notify(str(error), severity="error", markup=False)
        self.pond.state_changed()
