"""Tests: the latest water test of each kind, judged, with its trend and what to do."""

from __future__ import annotations

from collections.abc import Sequence

from pondtui.pond.daily.judged import Judged
from pondtui.pond.daily.measured import value_words
from pondtui.pond.daily.series import series
from pondtui.pond.daily.water_tests import judged
from pondtui.tui import keys
from pondtui.tui.listing import Item, ListScreen
from pondtui.views import water_tests as view
from pondtui.views.explain import Explanation
from pondtui.views.words import when


class TestsScreen(ListScreen):
    """The readings of one place."""

    __test__ = False  # no test of ours, whatever its name begins with
    ROOM = "tests"
    TITLE = "Tests"
    BINDINGS = keys.bindings(keys.keys_of("tests", {}))
    MOST_LINES = 4

    def __init__(self) -> None:
        super().__init__()
        self._where = "pond"
        self._tests: tuple[Judged, ...] = ()

    def above(self) -> str:
        """Whose tests these are."""
        return f"Tests of {self._where}: t writes one, Enter tells what to do, o another place"

    def items(self) -> Sequence[Item]:
        """A line a reading; what to do stands under what is not ok."""
        session = self.session
        live, now = session.journal.live, session.now()
        self._tests = judged(session.setup, live, now, self._where)
        found = series(live, now, self._where)
        shown = view.rows(session.setup, self._tests, found, now, ascii=session.settings.ascii)
        if not shown:
            return [Item("", "", f"No water test of {self._where} yet: t writes one")]
        return [
            Item(row.name, row.sign, self._text(row, test), row.role)
            for row, test in zip(shown, self._tests, strict=True)
        ]

    def _text(self, row: view.ReadingRow, test: Judged) -> str:
        parts = [f"{row.label} {row.value}", row.trend, row.told]
        text = "  ".join(part for part in parts if part)
        return f"{text} -> {test.remedy}" if test.remedy else text

    def explanation(self) -> Explanation | None:
        """The reading under the cursor, whole."""
        item = self.item()
        test = next((t for t in self._tests if item is not None and t.name == item.id), None)
        if test is None:
            return None
        session = self.session
        inputs = [("measured", when(session.setup, test.instant, session.now()))]
        for head, text in (
            ("as written", test.written),
            ("range", view.sound_words(session.setup, test)),
            ("beside it", test.text),
            ("means", view.SIGNS[test.verdict]),
            ("what to do", test.remedy),
        ):
            if text:
                inputs.append((head, text))
        return Explanation(
            test.label, value_words(session.setup, test), tuple(inputs), "", test.source
        )

    def action_place(self) -> None:
        """The tests of another place."""
        from pondtui.tui.dialogs import Choose

        setup = self.session.setup
        places = dict.fromkeys(("pond", "tap", *(barrel.name for barrel in setup.barrels)))
        self.pond.push_screen(
            Choose("Whose tests?", [(place, place) for place in places]), self._go_to
        )

    def _go_to(self, place: str | None) -> None:
        if place is not None:
            self._where = place
            self.refresh_state()
