"""The sitter's screen: the visit that is on, its tasks numbered as on the sheet, in large text.

Nothing is kept here: which tasks are done follows from the journal.
"""

from __future__ import annotations

from datetime import date
from time import monotonic

from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from pondtui.books.lines import make
from pondtui.books.visits import Sitting, sitting
from pondtui.errors import InputError, PondError
from pondtui.pond.away.report import Told
from pondtui.pond.away.visiting import TaskNow, answered, visit_on
from pondtui.pond.daily.possible import impossible
from pondtui.pond.daily.times import local_day
from pondtui.tui import keys, paint
from pondtui.tui.ask import Ask
from pondtui.tui.away_book import next_absence
from pondtui.tui.bars import Line
from pondtui.tui.choices import Choices
from pondtui.tui.screen import PondScreen
from pondtui.tui.sitting import make_record
from pondtui.views import visits as view
from pondtui.views.digits import big_digits
from pondtui.views.explain import Explanation

SETTLE_S = 0.35  # a key held down must not tick the next task as well
_TALL = 22  # rows from which the digits are large
_WIDE = 70  # columns under which the list has titles only; the chosen task stands above
_ROOMY = 32  # rows from which there is an empty line between tasks


class Made(Message):
    """A worker has made the sheet, or says why it cannot."""

    def __init__(self, fault: str) -> None:
        super().__init__()
        self.fault = fault


class VisitsScreen(PondScreen):
    """What is to be done today, one task after the other."""

    ROOM = "visits"
    TITLE = "Visit"
    BINDINGS = keys.bindings(keys.keys_of("visits", {}))
    AUTO_FOCUS = "#tasks"
    PLAIN_WHEN_SMALL = False

    def __init__(self) -> None:
        super().__init__()
        self.settle_s = SETTLE_S
        self._sitting: Sitting | None = None
        self._looked_at: int | None = None  # a visit that was turned to
        self._drawn: tuple[object, ...] = ()
        self._asked_for: object = None  # the absence whose sheet is being made
        self._fault = ""
        self._stepped = 0.0

    def body(self) -> ComposeResult:
        """Which visit, the chosen task large, and all tasks."""
        yield Line(id="visit")
        yield Line(id="large")
        yield Line(id="todo")
        yield Choices(id="tasks")

    # --- what is shown ----------------------------------------------------------------------------

    def show(self) -> None:
        """The visit as the journal tells it now."""
        self._sitting = self._look_up()
        tasks = self.query_one("#tasks", Choices)
        tasks.display = self._sitting is not None
        if self._sitting is None:
            self._show_none()
            return
        visits, place = self._sitting.visits, self._place()
        text, role = view.heading(visits, place, self._today())
        self.query_one("#visit", Line).say(paint.words(text, role, bold=True))
        self._list(visits[place].tasks)
        self._show_task()

    def _show_none(self) -> None:
        wanted = None if self.session.partial else next_absence(self.session)
        if wanted is not None and wanted != self._asked_for:
            self._asked_for = wanted
            session, state = self.session, self.session.state()

            def work() -> None:
                self.post_message(Made(make_record(session, state, wanted)))

            self.run_worker(work, thread=True, exclusive=True, group="sheet")
        first, *rest = view.NONE
        if wanted is not None:
            first, *rest = (self._fault or "Working out the visits ...",)
        self.query_one("#visit", Line).say(paint.words(first, "mark", bold=True))
        self.query_one("#large", Line).say(Content(""))
        shown = [*rest, "r  refill", "l  level", "n  note", "s  EMERGENCY"]
        self.query_one("#todo", Line).say(paint.words("\n\n".join(shown), bold=True))

    def on_made(self, message: Made) -> None:
        """The sheet is there."""
        self._fault = message.fault
        self.refresh_state()

    def _list(self, tasks: tuple[TaskNow, ...]) -> None:
        """The tasks; the cursor goes to the first one that is open where something was ticked."""
        drawn = (tasks, self.size, self._place())
        if drawn == self._drawn:
            return
        before, self._drawn = self._drawn, drawn
        listed = self.query_one("#tasks", Choices)
        old = listed.highlighted
        gap = "\n" if self.size.height >= _ROOMY else ""
        ascii, width = self.session.settings.ascii, self.size.width - 6  # bar and edge
        rows = [view.row(one, brief=width < _WIDE, ascii=ascii) for one in tasks]
        listed.set_options(
            Option(Content.assemble(paint.hanging(*row, width, most=3), gap), id=one.task.number)
            for row, one in zip(rows, tasks, strict=True)
        )
        moved = not before or before[0] != tasks or before[2] != drawn[2]
        first = next((at for at, one in enumerate(tasks) if not one.said), 0)
        listed.highlighted = first if moved or old is None else old

    def _show_task(self) -> None:
        """The chosen task, large; or that all is done."""
        one, found = self._chosen(), self._sitting
        if one is None or found is None:
            return
        end = view.after(found.visits, self._place())
        height = 5 if self.size.height >= _TALL else 3
        big = big_digits("" if end else view.large(one), self.session.settings.ascii, height=height)
        large = (
            paint.joined(paint.words(line, bold=True) for line in big) if not end else Content("")
        )
        self.query_one("#large", Line).say(large)
        told = end or f"{one.task.number}  {one.task.text}"
        self.query_one("#todo", Line).say(paint.words(told, "good" if end else "text", bold=True))

    def on_option_list_option_highlighted(self, _event: OptionList.OptionHighlighted) -> None:
        """Another task is chosen."""
        self._show_task()

    def _plain(self) -> Content:
        """Where nothing else has room: the task in one line."""
        self._sitting = self._look_up()
        if self._sitting is None:
            return paint.words(view.NONE[0])
        visit = self._sitting.visits[self._place()]
        text = f"{visit.open[0].task.number} {visit.open[0].task.title}" if visit.open else "done"
        return paint.words(text[: max(self.size.width, 1)])

    def _look_up(self) -> Sitting | None:
        session = self.session
        live, zone = session.journal.live, session.zone
        return sitting(session.folder, session.setup, live, zone, session.sitter, self._today())

    def _today(self) -> date:
        return local_day(self.session.setup, self.session.now())

    def _place(self) -> int:
        """The visit that is shown."""
        assert self._sitting is not None  # asked only then
        visits = self._sitting.visits
        if self._looked_at is not None and self._looked_at < len(visits):
            return self._looked_at
        return visit_on(visits, self._today())

    def _chosen(self) -> TaskNow | None:
        place = self.query_one("#tasks", Choices).highlighted
        if self._sitting is None or place is None:
            return None
        tasks = self._sitting.visits[self._place()].tasks
        return tasks[place] if place < len(tasks) else None

    def explanation(self) -> Explanation | None:
        """The chosen task in full."""
        one = self._chosen()
        return None if one is None else view.explain(one)

    # --- what is pressed --------------------------------------------------------------------------

    def action_turn(self, by: int) -> None:
        """Another visit."""
        if self._sitting is None:
            return
        last = len(self._sitting.visits) - 1
        self._looked_at = min(max(self._place() + by, 0), last)
        self.refresh_state()

    def on_option_list_option_selected(self, _event: OptionList.OptionSelected) -> None:
        """Enter does the task."""
        self.action_do_task()

    def action_do_task(self) -> None:
        """Tick the chosen task, or ask for its amount."""
        one = self._open_task()
        if one is None:
            return
        if not one.task.field:
            self._write(one, "ok")
            return
        self.pond.push_screen(
            Ask(f"{one.task.number} {one.task.text}", view.example(one), one.task.planned,
                lambda typed: self._told(one, typed)),
            lambda typed: self._write(one, typed) if typed is not None else None,
        )  # fmt: skip

    def action_not_done(self) -> None:
        """Not done, or not as it should be: the reason is asked for."""
        one = self._open_task()
        if one is None:
            return
        self.pond.push_screen(
            Ask(f"{one.task.number} not done, or not as it should be: why?", "such as gate shut",
                "", lambda typed: self._told(one, self._no(typed))),
            lambda typed: self._write(one, self._no(typed)) if typed is not None else None,
        )  # fmt: skip

    @staticmethod
    def _no(typed: str) -> str:
        if not typed.strip():
            raise InputError("say why in a few words")
        return f"no: {typed}"

    def _open_task(self) -> TaskNow | None:
        """The chosen task, where it may be answered now."""
        one = self._chosen()
        if one is None or monotonic() - self._stepped < self.settle_s:
            return None
        if one.said:
            self.pond.notify(f"{one.task.number} is answered ({one.said}); u takes back what was "
                             "written last", markup=False)  # fmt: skip
            return None
        return one

    def _told(self, one: TaskNow, typed: str) -> Told:
        """What an answer means. Raises InputError."""
        found, session = self._sitting, self.session
        assert found is not None  # a task was chosen
        gallon = {"us": "us", "imperial": "imperial"}.get(found.record.units)
        told = answered(one.task, typed, sitter=session.sitter, zone=session.zone, gallon=gallon,
                        first_step=session.setup.limits.kit_first_step_mg_l)  # fmt: skip
        entry = make(told.kind, told.fields, told.note, session.now(), session.zone, gallon)
        wrong = impossible(session.setup, entry, local_day(session.setup, entry.instant))
        if wrong:
            raise InputError(wrong)
        return told

    def _write(self, one: TaskNow, typed: str) -> None:
        """Write the answer, of now."""
        try:
            told = self._told(one, typed)
            self.session.write(told.kind, told.fields, told.note)
        except PondError as error:
            self.pond.notify(str(error), severity="error", markup=False)
            return
        self._stepped = monotonic()
        self.pond.state_changed()
