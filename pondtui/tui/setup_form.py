"""One table of the description as a form: each field with its mistake, and what follows from it."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from pondtui.pond.setup import edit
from pondtui.pond.setup.edit import FORMS, Place
from pondtui.pond.setup.fields import Field as Key
from pondtui.tui import keys, paint
from pondtui.tui.bars import TYPING, KeyBar, Line
from pondtui.tui.dialogs import Show
from pondtui.tui.field import Field
from pondtui.tui.screen import PondScreen
from pondtui.tui.setup import ROOMY
from pondtui.tui.setup_book import SetupBook
from pondtui.views import setup_fields, setup_figures, setup_rows
from pondtui.views.measures import measure_for
from pondtui.views.measuring import TEXTS

_BESIDE = 26  # columns beside what is wrong with a field: its label, and the scroll bar
_MEASURE = keys.Key("", "question_mark", "measure", "measure", "")
_MORE = _MEASURE._replace(label="more")
_TURN = keys.Key("", "space", "turn", "turn", "")


class SetupForm(PondScreen):
    """What is typed goes into the draft at once: leaving, resizing and mistakes lose nothing."""

    ROOM = "setup-form"
    BINDINGS = keys.bindings(keys.keys_of("setup-form", {}))
    AUTO_FOCUS = "Input"

    def __init__(self, book: SetupBook, place: Place) -> None:
        super().__init__()
        self._book, self._place = book, place
        self._taken: dict[str, str] = {}
        self._table = FORMS[place.table]
        row = edit.row_of(book.draft.of(place.table).data, place)
        self.title = f"Setup: {setup_rows.title(self._table, place, row).strip()}"

    def body(self) -> ComposeResult:
        """A row a field with its mistake under it; what the field takes; what follows."""
        typed = self._book.draft.of(self._place.table).typed(self._place)
        system = self.session.setup.pond.units
        with Horizontal(id="setup"):
            with VerticalScroll(id="fields", can_focus=False):
                for key in self._table.fields:
                    with Horizontal(classes="field"):
                        text = setup_fields.label(key)
                        yield Static(paint.words(text), classes="label", markup=False)
                        yield Field(
                            _shown(key, typed.get(key.key, "")),
                            example=setup_fields.placeholder(self._table.name, key, typed, system),
                            id=f"in-{key.key}",
                            acts=_acts(self._table.name, key),
                        )
                    yield Line(id=f"wrong-{key.key}", classes="wrong -empty")
                yield Line(id="others")
            with Vertical(id="setup-side"):
                yield Line(id="side-figures")
                yield Line(id="side-picture")
        yield Line(id="takes")
        yield Line(id="setup-figures")

    def show(self) -> None:
        """Mistakes, figures and drawing as the fields stand."""
        self.set_class(self.size.width >= ROOMY, "-roomy")
        self._judge()

    def on_input_changed(self, _event: Input.Changed) -> None:
        """Take it over, and judge the whole description; once where many fields changed at once, as
        when the form opens."""
        typed = self._typed()
        if typed != self._taken:
            self._taken = typed
            self._book.put(self._place, typed)
            self._judge()

    def on_input_submitted(self, _event: Input.Submitted) -> None:
        """Enter goes on; from the last field back to the list."""
        fields = list(self.query(Field))
        if self.focused is fields[-1]:
            self.action_back()
        else:
            self.focus_next(Input)

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Say what the field takes."""
        super().on_descendant_focus(event)
        key = self._key_of(event.widget.id)
        if key is None:
            return
        text = setup_fields.takes(key, self.session.setup.pond.units)
        if names := self._book.candidates(self._place, key.key):
            text += f"; there is: {', '.join(names)}"
        acts = _acts(self._table.name, key)
        more = [_MEASURE] if "question_mark" in acts else []
        if measure_for(self._place.table, key.key) is None:
            more = [_MORE for _ in more]
        turn = [_TURN] if "space" in acts else []
        self.query_one(KeyBar).offer([*TYPING[:-1], *turn, *more, TYPING[-1]])
        self.query_one("#takes", Line).say(paint.wrapped(text, "quiet", self.size.width - 2))

    def action_back(self) -> None:
        """Back to the list; a new table in which nothing was typed goes with the form."""
        row = edit.row_of(self._book.draft.of(self._place.table).data, self._place)
        if row == {} and self._table.many == "list":
            self._book.remove(self._place)
        super().action_back()

    def action_next(self) -> None:
        """To the next field."""
        self.focus_next(Input)

    def action_previous(self) -> None:
        """To the field before."""
        self.focus_previous(Input)

    def action_turn(self) -> None:
        """The next word of a choice; the one that was begun, where some letters stand there."""
        field = self.focused
        key = self._key_of(field.id if field is not None else "")
        if not isinstance(field, Input) or key is None:
            return
        words = setup_fields.words(key) or tuple(self._book.candidates(self._place, key.key))
        begun = [word for word in words if field.value and word.startswith(field.value)]
        if field.value in words:
            field.value = words[(words.index(field.value) + 1) % len(words)]
        else:
            field.value = (begun or words)[0]
        field.cursor_position = len(field.value)

    def action_measure(self) -> None:
        """Measure what the field wants, or say more about it."""
        key = self._key_of(self.focused.id if self.focused is not None else "")
        if key is None:
            return
        measure = measure_for(self._place.table, key.key)
        if measure is None:
            self._say_more(key)
            return
        from pondtui.tui.measuring import Measuring

        kept = self._book.measured.setdefault(f"{self._place} {measure.sheet}", {})
        system = self.session.setup.pond.units
        dialog = Measuring(measure, key.key, self._typed(), system, kept)
        self.pond.push_screen(dialog, self._take_measured)

    def _take_measured(self, found: dict[str, str] | None) -> None:
        for name, text in (found or {}).items():
            self.query_one(f"#in-{name}", Input).value = text

    def _say_more(self, key: Key) -> None:
        texts = [setup_fields.takes(key, self.session.setup.pond.units)]
        texts += TEXTS.get(f"{self._place.table}_{key.key}", ())
        texts.append(f"In the file: {key.key} = {key.example}")
        width = self.size.width - 4
        content = paint.joined(paint.bullet(text, "text", width) for text in texts)
        self.pond.push_screen(Show(setup_fields.label(key), content))

    def _key_of(self, name: str | None) -> Key | None:
        return self._table.field((name or "").removeprefix("in-"))

    def _typed(self) -> dict[str, str]:
        fields = self.query(Field)
        return {field.id.removeprefix("in-"): field.value for field in fields if field.id}

    # --- judging ----------------------------------------------------------------------------------

    def _judge(self) -> None:
        """Each mistake at its field, and what follows from all of them."""
        beside: dict[str, tuple[str, str]] = {}
        rest, grave = [], False
        for finding in self._book.judged()[1]:
            found = setup_rows.place_of(finding)
            if found is None or found[0] != self._place:
                continue
            role = "danger" if finding.severity == "problem" else "warn"
            key = self._table.field(found[1])
            if key is None:
                rest.append(setup_rows.sentence(finding))
                grave = grave or role == "danger"
            elif beside.get(found[1], ("", "warn"))[1] == "warn":
                beside[found[1]] = (setup_rows.sentence(finding, key), role)
        for name, told in self._renamed().items():
            beside.setdefault(name, (told, "warn"))
        for field in self._table.fields:
            text, role = beside.get(field.key, ("", "text"))
            self._say(f"wrong-{field.key}", text, role)
        others = "; ".join([*rest, *self._unknown()])
        typed, system = self._typed(), self.session.setup.pond.units
        for field in self._table.fields:
            told = setup_fields.placeholder(self._table.name, field, typed, system)
            self.query_one(f"#in-{field.key}", Input).placeholder = told
        self._say("others", others, "danger" if grave else "quiet")
        self._tell()

    def _renamed(self) -> dict[str, str]:
        """What goes on under the old name, where the name was changed."""
        if self._table.field("name") is None:
            return {}
        was = self._book.draft.of(self._place.table).was(self._place)
        now = self.query_one("#in-name", Input).value.strip()
        if not was or not now or was == now:
            return {}
        named = self._book.named_by(self._place, was)
        return {"name": f"it was {was}: {'; '.join(named)}"} if named else {}

    def _unknown(self) -> list[str]:
        """Keys that the program does not know: they stay as they are."""
        row = edit.row_of(self._book.draft.of(self._place.table).data, self._place) or {}
        inside = [sub.name for sub in FORMS.values() if sub.inside == self._table.name]
        known = {field.key for field in self._table.fields} | set(inside)
        names = [str(key) for key in row if key not in known]
        return [f"also in the file, left as it is: {', '.join(names)}"] if names else []

    def _tell(self) -> None:
        setup, day, table = self._book.judged()[0], self._book.day(), self._place.table
        texts = self._typed()
        told = setup_figures.figures(setup, table, texts, day, self._book.known())
        roomy = self.has_class("-roomy")
        width = self.size.width * 2 // 5 - 4 if roomy else self.size.width - 2
        said = paint.joined(paint.wrapped(text, "good", width) for text in told)
        self.query_one("#setup-figures", Line).say(Content("") if roomy else said)
        self.query_one("#side-figures", Line).say(said if roomy else Content(""))
        size = (self.size.width * 2 // 5 - 4, min(max(self.size.height - 14, 0), 22))
        drawn = setup_figures.picture(setup, table, texts, day, size,
                                      ascii=self.session.settings.ascii)  # fmt: skip
        self.query_one("#side-picture", Line).say(paint.drawing(drawn) if roomy else Content(""))

    def _say(self, line: str, text: str, role: str) -> None:
        room = self.size.width * 3 // 5 if self.has_class("-roomy") else self.size.width
        told = paint.wrapped(text, role, room - _BESIDE) if text else Content("")
        self.query_one(f"#{line}", Line).say(told)


def _acts(table: str, key: Key) -> dict[str, str]:
    """The keys that are taken from the text of a field."""
    acts = {} if key.type in setup_fields.LETTERS else {"question_mark": "screen.measure"}
    if setup_fields.words(key) or (table, key.key) == ("step", "after"):  # ids hold no blanks
        acts["space"] = "screen.turn"
    return acts


def _shown(key: Key, text: str) -> str:
    """Yes and no are typed; the file says true and false."""
    return {"true": "yes", "false": "no"}.get(text, text) if key.type == "yesno" else text
