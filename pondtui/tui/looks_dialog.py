"""Colours and signs, shown at once as the cursor moves; Enter keeps them."""

from __future__ import annotations

from textual.widgets import OptionList
from textual.widgets.option_list import Option

from pondtui.books.settings import keep
from pondtui.errors import FileError
from pondtui.paths import config_dir
from pondtui.tui import paint
from pondtui.tui.choices import Choices
from pondtui.tui.dialogs import Choose
from pondtui.tui.themes import TERMINAL

_SIGNS = " signs"  # no name of a theme begins with a blank
_WORDS = {
    "dusk": "dark, for the evening round",
    "noon": "light, for a screen in the sun",
    "stark": "highest contrast on black",
    "stark-light": "highest contrast on white",
    "sundial": "told apart by eyes that mix up colours",
    TERMINAL: "the terminal's own colours",
}


class LooksDialog(Choose):
    """A list of themes, and a line for plain signs."""

    def __init__(self) -> None:
        super().__init__("Looks: the cursor shows them, Enter keeps", ())
        self._before = ""

    def on_mount(self) -> None:
        """Fill the list; the cursor stands on what is worn now."""
        app = self.pond
        self._before = app.theme
        names = [*app.looks.themes]
        shown = self.query_one(Choices)
        shown.clear_options()
        for name in names:
            told = f"{name:<12} {_WORDS.get(name, 'your own')}"
            shown.add_option(Option(paint.words(told), id=name))
        signs = "all signs" if app.plain else "plain signs only"
        shown.add_option(Option(paint.words(f"{'signs':<12} {signs}"), id=_SIGNS))
        shown.highlighted = names.index(app.theme) if app.theme in names else 0

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Wear it."""
        name = event.option.id or ""
        if name in self.pond.looks.themes:
            self.pond.wear(name)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Keep it in the settings."""
        event.prevent_default()
        name = event.option.id or ""
        app = self.pond
        try:
            if name == _SIGNS:
                app.wear(self._before)
                app.plain = not app.plain
                app.session.settings = app.session.settings._replace(ascii=app.plain)
                keep(config_dir(), ascii=app.plain)
            else:
                keep(config_dir(), theme=name)
        except FileError as error:
            app.notify(f"until the program is closed: {error}", severity="warning", markup=False)
        app.refresh(layout=True)
        app.session.version += 1
        self.dismiss(None)

    def action_leave(self) -> None:
        """Back to what was worn before."""
        self.pond.wear(self._before)
        self.dismiss(None)
