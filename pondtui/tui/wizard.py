"""Setting up a pond: one question a screen, the drawing growing beside it, every answer kept."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import ClassVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from pondtui.books.draft import drop_draft, folder_of, make_pond, read_draft, write_draft
from pondtui.errors import FileError, PondError
from pondtui.tui import keys, paint
from pondtui.tui.bars import KeyBar, Line, head
from pondtui.tui.choices import Choices
from pondtui.tui.dialogs import Show
from pondtui.tui.field import Field
from pondtui.tui.keys import Key
from pondtui.tui.screen import SMALL, mark_small, under
from pondtui.tui.welcome import Way, WelcomeApp
from pondtui.tui.wizard_steps import HEADS, WORDS, Step, steps, wrong
from pondtui.views.canvas import Rows
from pondtui.views.measures import measure_for
from pondtui.views.measuring import TEXTS
from pondtui.views.setup_so_far import NOT_ALL, picture


class WizardScreen(Screen[None]):
    """Asks until the pond is made. What was answered is on the disk: leave it when you like."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("take", "enter", "take", "take", "take the answer"),
        Key("before", "up", "previous", "back", "back to the question before"),
        Key("measure", "question_mark", "measure", "measure", "how to find it out"),
        Key("leave", "escape", "leave", "leave, all is kept", "back to the ways"),
    )
    CHOOSING: ClassVar[tuple[Key, ...]] = (
        KEYS[0],
        Key("before", "left,backspace", "previous", "back", "back to the question before"),
        *KEYS[2:],
    )
    BINDINGS: ClassVar[list[BindingType]] = keys.bindings(CHOOSING[1:])
    AUTO_FOCUS = None

    def __init__(self) -> None:
        super().__init__()
        self._answers: dict[str, str] = {}
        self._at = ""  # id of the step that is asked
        self._kept = True
        self._measured: dict[str, str] = {}  # texts that measuring left for answers, by step
        self._taped: dict[str, dict[str, str]] = {}  # what stands in the measuring panels

    def compose(self) -> ComposeResult:
        """Head, question, answer, what follows from it, the drawing, the keys."""
        yield Line(id="head")
        with VerticalScroll(id="asking", can_focus=False):
            yield Line(id="question")
            yield Line(id="question-help")
            yield Field("", example="", id="answer-field",
                        acts={"up": "screen.previous", "question_mark": "screen.measure",
                              "down": "screen.take"})  # fmt: skip
            yield Choices(id="answer-words")
            yield Line(id="answer-wrong")
            yield Line(id="figures")
        yield Line(id="outline")
        yield Line(id="plain")
        with Vertical(id="foot"):
            yield KeyBar(self.KEYS, id="keys")

    def on_mount(self) -> None:
        """Go on where it was left."""
        self._answers = read_draft(self._welcome.home.data)
        asked = self._steps()
        self._ask(next((step for step in asked if step.id not in self._answers), asked[-1]))

    def on_resize(self, event: events.Resize) -> None:
        """Under 20x5 one line is left; what is typed stays."""
        mark_small(self, event.size)
        self._draw()

    @property
    def _welcome(self) -> WelcomeApp:
        return cast("WelcomeApp", self.app)

    # --- the questions ----------------------------------------------------------------------------

    def _steps(self) -> list[Step]:
        home = self._welcome.home
        return steps(self._answers, home.zone, home.units)

    def _now(self) -> Step:
        return next(step for step in self._steps() if step.id == self._at)

    def _ask(self, step: Step) -> None:
        """Show one question with the answer that was given before."""
        self._at = step.id
        given = self._measured.pop(step.id, "") or self._answers.get(step.id, "")
        field, words = self.query_one(Field), self.query_one(Choices)
        field.display, words.display = not step.words, bool(step.words)
        if step.words:
            words.set_options(
                Option(
                    paint.hanging(HEADS.get(w, w), WORDS.get(w, ""), "text", self.size.width - 6),
                    id=w,
                )
                for w in step.words
            )
            chosen = given or step.default
            words.highlighted = step.words.index(chosen) if chosen in step.words else 0
            words.focus()
        else:
            such = f"such as {step.example}" if step.example else ""
            field.placeholder = f"Enter takes {step.default}" if step.default else such
            field.value = given if given != step.default else ""
            field.focus()
        self.query_one("#keys", KeyBar).offer(self.CHOOSING if step.words else self.KEYS)
        self._say("answer-wrong", "")
        self._draw()

    def _say(self, line: str, text: str, role: str = "danger") -> None:
        self.query_one(f"#{line}", Line).say(paint.words(text, role) if text else Content(""))

    # --- keys -------------------------------------------------------------------------------------

    def action_take(self) -> None:
        """Take the answer, from the list or from the field."""
        if self._now().words:
            self.query_one(Choices).action_select()
        else:
            self._take(self.query_one(Field).value.strip())

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter in the field."""
        self._take(event.value.strip())

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter on a word."""
        self._take(event.option.id or "")

    def action_previous(self) -> None:
        """Back to the question before."""
        asked = self._steps()
        place = [step.id for step in asked].index(self._at)
        self._ask(asked[max(place - 1, 0)])

    def action_measure(self) -> None:
        """Measure what is asked for into the answer, or show how it is found out."""
        step = self._now()
        question = step.question
        measure = measure_for(question.table, question.field.key) if question else None
        if question is None or measure is None:
            texts = TEXTS.get(step.id, (step.help,))
            width = self.size.width - 4
            self.app.push_screen(
                Show(step.text, paint.joined(paint.bullet(t, "text", width) for t in texts))
            )
            return
        from pondtui.tui.measuring import Measuring

        table = f"{question.table}_"
        form = {
            name.removeprefix(table): text
            for name, text in self._answers.items() if name.startswith(table)
        }  # fmt: skip
        kept = self._taped.setdefault(measure.sheet, {})
        units = self._answers.get("pond_units", "metric")
        dialog = Measuring(measure, question.field.key, form, units, kept)
        self.app.push_screen(dialog, self._take_measured)

    def _take_measured(self, found: dict[str, str] | None) -> None:
        """What was measured stands in the field, and in those that come later, to be taken."""
        question = self._now().question
        if found and question is not None:
            self._measured |= {f"{question.table}_{key}": text for key, text in found.items()}
            self._ask(self._now())

    def action_leave(self) -> None:
        """Back to the ways; the answers are kept."""
        self.app.pop_screen()

    # --- taking an answer -------------------------------------------------------------------------

    def _take(self, typed: str) -> None:
        step = self._now()
        typed = typed or step.default
        told = wrong(step, typed, self._answers)
        if told:
            self._say("answer-wrong", told)
            return
        self._answers[step.id] = typed
        self._keep()
        asked = self._steps()
        place = [each.id for each in asked].index(step.id)
        if place + 1 < len(asked):
            self._ask(asked[place + 1])
        else:
            self._make()

    def _keep(self) -> None:
        try:
            write_draft(self._welcome.home.data, self._answers)
        except FileError as error:
            if self._kept:
                self.notify(f"the answers are not kept if you leave: {error}", severity="warning",
                            markup=False, timeout=10)  # fmt: skip
            self._kept = False

    def _make(self) -> None:
        """Make the folder and open it."""
        path = folder_of(self._answers["folder"])
        home = self._welcome.home
        try:
            make_pond(self._answers, path, home.device, self._welcome.now())
        except PondError as error:
            self._say("answer-wrong", str(error))
            return
        drop_draft(home.data)
        self.app.exit(Way("open", str(path)))

    # --- drawing ----------------------------------------------------------------------------------

    def on_input_changed(self, event: Input.Changed) -> None:
        """The drawing follows what is typed."""
        event.stop()
        self._draw()

    def _draw(self) -> None:
        """The question, and pond or barrel as far as they are told."""
        if not self._at:
            return
        asked, step, width = self._steps(), self._now(), self.size.width
        place = f"{[each.id for each in asked].index(self._at) + 1}/{len(asked)}"
        self.query_one("#head", Line).say(
            head(self._answers.get("pond_name", "my pond"), f"Setting up {place}", width - 2)
        )
        low = self.has_class("-low")
        self._say("question", f"{place} {step.text}" if low else step.text, "mark")
        self._say("question-help", step.help, "quiet")
        self._say("plain", f"{place} {step.text}"[: max(width, 1)], "text")
        rows, figures = self._picture(step)
        self._say("figures", figures, "good")
        self.query_one("#outline", Line).say(paint.drawing(rows))

    def _picture(self, step: Step) -> tuple[Rows, str]:
        """The drawing that belongs to the question, with what is being typed where it fits."""
        width, height = self.size
        words = self.query_one(Choices).option_count if step.words else 0
        rows = min(height - 13 - words, 14)
        if rows < 3 or under(self.size, SMALL):
            rows = 0
        typed = self.query_one(Field).value.strip()
        answers = dict(self._answers)
        if typed and not step.words and not wrong(step, typed, answers):
            answers[step.id] = typed
        day = datetime.fromtimestamp(self._welcome.now(), UTC).date()
        room = (width - 2, max(rows, 3))
        drawn, figures = picture(answers, step.id, room, day, ascii=self._welcome.plain)
        if not rows:
            return (), "" if figures == NOT_ALL else figures
        return drawn, figures
