"""A list to choose from; the toolkit's own, made to bear a terminal in which nothing has room."""

from __future__ import annotations

from textual.widgets import OptionList


class Choices(OptionList):
    """Texts are plain; pages are turned only where there is a page to be seen."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id, markup=False)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Whether an action is possible now."""
        if action.startswith("page_") and not self.scrollable_content_region:
            return False
        return super().check_action(action, parameters)
