"""Worksheets: the list, found by typing."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from pondtui.errors import InputError
from pondtui.tui import keys, paint
from pondtui.tui.choices import Choices
from pondtui.tui.screen import PondScreen
from pondtui.views import sheets
from pondtui.views.explain import Explanation
from pondtui.worksheets import registry

AUTOMATION = "@automation"  # no worksheet: several of them, filled in from pond.toml


class WorksheetsScreen(PondScreen):
    """Every calculation, under its heading."""

    ROOM = "worksheets"
    TITLE = "Worksheets"
    BINDINGS = keys.bindings(keys.keys_of("worksheets", {}))
    AUTO_FOCUS = "#sheets"
    PLAIN_WHEN_SMALL = False

    def body(self) -> ComposeResult:
        """A field for words, and the list."""
        yield Input(id="words", compact=True, placeholder="s or / finds: dose, hose, ammonia ...")
        yield Choices(id="sheets")

    def on_mount(self) -> None:
        """Show all of them."""
        self._fill()

    def on_input_changed(self, _event: Input.Changed) -> None:
        """Find as one types."""
        self._fill()

    def on_input_submitted(self, _event: Input.Submitted) -> None:
        """Enter goes on to what was found."""
        self.query_one(OptionList).focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Open the worksheet."""
        from pondtui.tui.worksheet import WorksheetScreen

        if event.option.id == AUTOMATION:
            self._show_automation()
        elif event.option.id:
            self.pond.push_screen(WorksheetScreen(registry.find(event.option.id)))

    def explanation(self) -> Explanation | None:
        """The formula and sources of the worksheet under the cursor."""
        listed = self.query_one(OptionList)
        place = listed.highlighted
        name = listed.get_option_at_index(place).id if place is not None else None
        return sheets.explain(registry.find(name), {}, ()) if name and name != AUTOMATION else None

    def _show_automation(self) -> None:
        """Float valve, carbon filter and doser, filled in from pond.toml."""
        from pondtui.tui.dialogs import Show
        from pondtui.views import automation

        try:
            lines = automation.lines(automation.parts(self.session.status()))
        except InputError as error:
            lines = [str(error)]
        content = paint.joined(
            paint.words(line, "warn" if line.startswith("  !") else "text", bold=line[0] != " ")
            for line in lines
        )
        self.pond.push_screen(Show("Automation on this pond", content))

    def action_search(self) -> None:
        """To the field for words."""
        self.query_one("#words", Input).focus()

    def action_back(self) -> None:
        """From the field to the list, from the list to Today."""
        if isinstance(self.focused, Input):
            self.query_one(OptionList).focus()
        else:
            self.pond.go_back()

    def _fill(self) -> None:
        listed = self.query_one(OptionList)
        options: list[Option] = []
        groups = sheets.found(registry.sheets(), self.query_one("#words", Input).value)
        wide = max((len(s.name) for group in groups.values() for s in group), default=0)
        if not self.query_one("#words", Input).value.strip():
            options.append(Option(paint.words("This pond", "mark", bold=True), disabled=True))
            text = "  float valve, carbon filter, doser: sized for this pond, with their risks"
            options.append(Option(paint.words(text), id=AUTOMATION))
        for heading, group in groups.items():
            options.append(Option(paint.words(heading, "mark", bold=True), disabled=True))
            options += [
                Option(paint.words(f"  {sheet.name:<{wide}}  {sheet.title}"), id=sheet.name)
                for sheet in group
            ]
        if not options:
            options = [Option(paint.words("no worksheet holds these words"), disabled=True)]
        listed.set_options(options)
        if groups:
            listed.highlighted = 1
