"""Setting up a pond: one question a screen, the drawing growing beside it, every answer kept."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import ClassVar, NamedTuple, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from pondtui.books.draft import (
    drop_draft,
    folder_of,
    free_folder,
    make_pond,
    read_draft,
    write_draft,
)
from pondtui.books.newpond import refuse_existing
from pondtui.errors import FileError, PondError
from pondtui.pond.setup.asking import contradiction, mistake_in, questions, so_far
from pondtui.pond.setup.tables import TABLES
from pondtui.pond.setup.template import Question, default_of, example_of
from pondtui.tui import keys, paint
from pondtui.tui.bars import KeyBar, Line, head
from pondtui.tui.choices import Choices
from pondtui.tui.dialogs import Show
from pondtui.tui.field import Field
from pondtui.tui.keys import Key
from pondtui.tui.welcome import Way, WelcomeApp
from pondtui.views import setup_pictures as pictures
from pondtui.views.canvas import Rows
from pondtui.views.measuring import TEXTS

_READING = next(field for field in TABLES["mark"].fields if field.key == "reading")
_LEVEL = Question("level", "What does the gauge read now?", "the first level reading; leave it "
                  "empty to read it later", "mark", _READING, required=False)  # fmt: skip
_FOLDER = "In which folder is it to be kept?"
_MAKE = "make it"
_WORD = {
    "metric": "litres, centimetres, degrees Celsius", "us": "US gallons, inches, degrees "
    "Fahrenheit", "imperial": "imperial gallons, inches",
    "down": "from a fixed edge down to the water", "up": "a rule that stands in the water",
    "box": "four upright sides", "cylinder": "round, upright sides", "ellipse": "oval, upright "
    "sides", "bowl": "oval, rounded like a bowl", "battered": "four sloping sides",
    "table": "any other form, measured at several depths",
    "upright": "round, on its end", "lying": "round, on its side", "straight": "any other with "
    "upright walls",
}  # fmt: skip


class Step(NamedTuple):
    """What is asked on one screen."""

    id: str
    text: str
    help: str
    words: tuple[str, ...] = ()
    default: str = ""
    example: str = ""
    question: Question | None = None


class WizardScreen(Screen[None]):
    """Asks until the pond is made. What was answered is on the disk: leave it when you like."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("take", "enter", "take", "take", "take the answer"),
        Key("before", "up", "previous", "question before", "back to the question before"),
        Key("measure", "question_mark", "measure", "how to measure", "how to find it out"),
        Key("leave", "escape", "leave", "leave, answers are kept", "back to the ways"),
    )
    CHOOSING: ClassVar[tuple[Key, ...]] = (
        KEYS[0],
        Key("before", "left,backspace", "previous", "question before", "the question before"),
        *KEYS[2:],
    )
    BINDINGS: ClassVar[list[BindingType]] = keys.bindings(CHOOSING[1:])
    AUTO_FOCUS = None

    def __init__(self) -> None:
        super().__init__()
        self._answers: dict[str, str] = {}
        self._at = ""  # id of the step that is asked
        self._kept = True

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
        steps = self._steps()
        self._ask(next((step for step in steps if step.id not in self._answers), steps[-1]))

    def on_resize(self, event: events.Resize) -> None:
        """Under 20x5 one line is left; what is typed stays."""
        tiny = event.size.width < 20 or event.size.height < 5
        self.set_class(tiny, "-tiny")
        self._draw()

    @property
    def _welcome(self) -> WelcomeApp:
        return cast("WelcomeApp", self.app)

    # --- the questions ----------------------------------------------------------------------------

    def _steps(self) -> list[Step]:
        found = [self._step(question) for question in questions(self._answers)]
        name = self._answers.get("pond_name", "pond")
        folder = self._answers.get("folder") or free_folder(name)
        found.append(Step("folder", _FOLDER, "pond.toml and the journal are text files in it",
                          default=folder))  # fmt: skip
        found.append(self._step(_LEVEL))
        found.append(Step("make", "That is all. Make the pond?", "all else is set later, in Setup "
                          "or by hand in pond.toml", (_MAKE, "look it over again")))  # fmt: skip
        return found

    def _step(self, question: Question) -> Step:
        default = default_of(question, self._answers)
        if question.id == "pond_time_zone":
            default = self._welcome.home.zone or default
        example = example_of(question, self._answers)
        if question.id == "level":
            example = self._answers.get("target", "")
        return Step(question.id, question.question, question.help, question.words, default,
                    example, question)  # fmt: skip

    def _now(self) -> Step:
        return next(step for step in self._steps() if step.id == self._at)

    def _ask(self, step: Step) -> None:
        """Show one question with the answer that was given before."""
        self._at = step.id
        given = self._answers.get(step.id, "")
        field, words = self.query_one(Field), self.query_one(Choices)
        field.display, words.display = not step.words, bool(step.words)
        if step.words:
            words.set_options(
                Option(paint.hanging(w, _WORD.get(w, ""), "text", self.size.width - 6), id=w)
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
        steps = self._steps()
        place = [step.id for step in steps].index(self._at)
        self._ask(steps[max(place - 1, 0)])

    def action_measure(self) -> None:
        """Show how it is found out with what lies about."""
        step = self._now()
        texts = TEXTS.get(step.id, (step.help,))
        self.app.push_screen(
            Show(
                step.text, paint.joined(paint.bullet(t, "text", self.size.width - 4) for t in texts)
            )
        )

    def action_leave(self) -> None:
        """Back to the ways; the answers are kept."""
        self.app.pop_screen()

    # --- taking an answer -------------------------------------------------------------------------

    def _take(self, typed: str) -> None:
        step = self._now()
        if step.id == "make":
            self._make() if typed == _MAKE else self._ask(self._steps()[0])
            return
        typed = typed or step.default
        wrong = self._wrong(step, typed)
        if wrong:
            self._say("answer-wrong", wrong)
            return
        self._answers[step.id] = typed
        self._keep()
        steps = self._steps()
        place = [each.id for each in steps].index(step.id)
        self._ask(steps[place + 1])

    def _wrong(self, step: Step, typed: str) -> str:
        """Why the answer cannot be taken, or nothing."""
        if step.id == "folder":
            try:
                refuse_existing(folder_of(typed))
            except FileError as error:
                return str(error)
            return ""
        question = step.question
        if question is None:
            return ""
        wrong = mistake_in(question, typed, self._answers)
        if wrong or step.id == "level":
            return wrong
        return contradiction(question, typed, self._answers)

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

    def _draw(self) -> None:
        """The question, and pond or barrel as far as they are told."""
        if not self._at:
            return
        steps, step, width = self._steps(), self._now(), self.size.width
        place = [each.id for each in steps].index(self._at) + 1
        self.query_one("#head", Line).say(
            head(self._answers.get("pond_name", "my pond"), f"Setting up {place}/{len(steps)}",
                 width - 2))  # fmt: skip
        self._say("question", step.text, "mark")
        self._say("question-help", step.help, "quiet")
        self._say("plain", f"{place}/{len(steps)} {step.text}"[: max(width, 1)], "text")
        rows, figures = self._picture()
        self._say("figures", figures, "good")
        self.query_one("#outline", Line).say(paint.drawing(rows))

    def _picture(self) -> tuple[Rows, str]:
        """The drawing that belongs to the question, and what the vessel holds."""
        height = min(self.size.height - 13 - self.query_one(Choices).option_count *
                     bool(self._now().words), 14)  # fmt: skip
        answers = self._answers
        if height < 3 or self.size.width < 40 or "basin_shape" not in answers:
            return [], ""
        setup = so_far(answers)
        day = datetime.fromtimestamp(self._welcome.now(), UTC).date()
        if setup is None:
            return [], ""
        if not answers.get("conditioner_label_volume"):
            setup = setup._replace(conditioners=())
        ascii, width = self._welcome.plain, self.size.width
        if (
            "barrel_shape" in answers
            and self._at not in ("folder", "level", "make")
            and setup.barrels
        ):
            barrel = setup.barrels[0]
            known = answers.get("barrel_outlet", "") != ""
            high = "barrel_diameter" if barrel.shape == "lying" else "barrel_height"
            outline = pictures.barrel_outline(setup, barrel, high_known=high in answers,
                                              full="barrel_full_line" in answers,
                                              outlet=known)  # fmt: skip
            told = pictures.barrel_figures(setup, barrel, day) if known else _NOT_ALL
            return pictures.to_scale(width - 2, height, outline, ascii=ascii), told
        whole = "basin_depth" in answers or "basin_areas" in answers
        across = whole or "basin_length" in answers or "basin_diameter" in answers
        pond = pictures.pond_outline(setup, day, across_known=across, depth_known=whole)
        if pond is None:
            return [], ""
        told = pictures.pond_figures(setup, day) if whole else _NOT_ALL
        return pictures.to_scale(width - 2, height, pond, ascii=ascii), told


_NOT_ALL = "drawn with likely sizes until yours are known"
