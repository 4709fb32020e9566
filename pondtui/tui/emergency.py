"""The emergency page: whom to ring, and what to do in each case with this pond's own amounts."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from pondtui.pond.daily.times import local_day
from pondtui.tui import keys, paint
from pondtui.tui.dialogs import Show
from pondtui.tui.listing import Item, ListScreen
from pondtui.views import emergency as view
from pondtui.views.digits import big_digits


class EmergencyScreen(ListScreen):
    """A line a case; Enter or its digit opens it."""

    ROOM = "emergency"
    TITLE = "EMERGENCY"
    BINDINGS = keys.bindings(keys.keys_of("emergency", {}))

    def above(self) -> str:
        """Whom to ring stands on top, without a key more."""
        return view.ring(self.session.setup)

    def items(self) -> Sequence[Item]:
        """The cases, people first."""
        return [
            Item(str(number), f"{number}", case.title, "danger" if case.grave else "text")
            for number, case in enumerate(self._cases(), 1)
        ]

    def chosen(self, item: Item) -> None:
        """What to do, step by step."""
        case = self._cases()[int(item.id) - 1]
        lines: list[Content] = []
        if case.large:
            big = big_digits(case.large, self.session.settings.ascii, height=5)
            lines += [*(paint.words(line, "danger", bold=True) for line in big), Content("")]
        for step in case.steps:
            lines += [paint.words(step, bold=True), Content("")]
        self.pond.push_screen(Show(case.title, paint.joined(lines)))

    def action_case(self, number: int) -> None:
        """Open the case of that number."""
        self.chosen(self._items[number - 1])

    def _cases(self) -> tuple[view.Case, ...]:
        session = self.session
        day = local_day(session.setup, session.now())
        return view.cases(session.setup, session.state(), day)
