"""Today: one glance at level, loss, barrels, what is wrong and what is next."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from pondtui.pond.refill.case import Case, current_case, local_time
from pondtui.tui import keys, paint
from pondtui.tui.bars import Line
from pondtui.tui.choices import Choices
from pondtui.tui.screen import PondScreen
from pondtui.views import today
from pondtui.views.explain import Explanation
from pondtui.views.today import Row, SeasonWords

_LEAST_PICTURE = (24, 5)  # under this a drawing says nothing
_LEAST_POND = 36  # columns beside a barrel
_ROOMY = 36  # rows from which every chore has its line
_TALLEST = 34  # rows that a drawing makes use of
_BARREL = 38  # columns that a barrel's drawing wants


class TodayScreen(PondScreen):
    """The first screen."""

    ROOM = "today"
    TITLE = "Today"
    BINDINGS = keys.bindings(keys.keys_of("today", {}))
    AUTO_FOCUS = "#rows"

    class Worked(Message):
        """Season or outlook was worked out, by a worker."""

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[Row, ...] = ()
        self._drawn: tuple[object, ...] = ()
        self._drawn_in: tuple[object, ...] = ()

    def body(self) -> ComposeResult:
        """The rows, and the drawings in what room is left."""
        yield Choices(id="rows")
        with Horizontal(id="pictures"):
            yield Line(id="pond")
            yield Line(id="barrels")

    def on_mount(self) -> None:
        """Each new layout may leave the drawings other room than they were made for."""
        self.screen_layout_refresh_signal.subscribe(self, lambda _: self._fit_drawings())

    def _fit_drawings(self) -> None:
        """Draw where that is still to be done; never before the first frame, which has words."""
        if self.pond.begun and self._drawn and self._drawn_in != self._sizes():
            self._draw()

    def show(self) -> None:
        """Rows and drawings as they are now."""
        self.call_after_refresh(self._work_on)
        status, roomy = self.session.status(), self.size.height >= _ROOMY
        rows = today.rows(status, roomy=roomy, water=self._water(), ahead=self._ahead())
        drawn = (rows, self.size, self.session.facts, self.session.settings.ascii)
        if drawn != self._drawn:
            self._drawn, self._drawn_in, self._rows = drawn, (), rows
            self._list_rows()
        self.call_after_refresh(self._fit_drawings)  # a size may be back before it was drawn for

    def _water(self) -> SeasonWords | None:
        """The season, once it is worked out."""
        session = self.session
        book = session.season
        if session.inline and book.stale:
            book.work_out()
        if book.latest is None:
            return None
        from pondtui.views.water_words import glance

        return glance(book.latest.now, session.status().recent, session.setup)

    def _ahead(self) -> str:
        """Which mark comes next and when, once that is worked out; "" until then."""
        found = self.session.outlook.latest
        if found is None:
            return ""
        from pondtui.views.outlook import glance

        return glance(found, local_time(self.session.setup, self.session.now()).date())

    def _work_on(self) -> None:
        """Work season and outlook out beside the screen, when it has been drawn: no frame waits."""
        session = self.session
        books = [b for b in (session.season, session.outlook) if b.stale and not b.begun]
        if books and not (session.inline or session.partial):
            work = partial(self._work_out, [book.work() for book in books])
            # never cancelled: what waits may still be wanted, and would not be begun again
            self.run_worker(work, thread=True, group="season")

    def _work_out(self, works: Sequence[Callable[[], object]]) -> None:
        for work in works:
            with self.session.at_work:
                work()
            self.post_message(self.Worked())

    def on_today_screen_worked(self, _message: Worked) -> None:
        """Season or outlook is in."""
        self.refresh_state()

    def action_tick(self, number: int) -> None:
        """Tick off the chore of that number."""
        chores = today.round_of(self.session.status())
        if number > len(chores):
            self.pond.notify(f"no chore of today has the number {number}", markup=False)
            return
        chore = chores[number - 1]
        if chore.state == "done":
            self.pond.notify(f"{chore.name} is done already today", markup=False)
            return
        self.put("chore", {"name": chore.name})

    def action_looks(self) -> None:
        """Try colours and signs."""
        from pondtui.tui.looks_dialog import LooksDialog

        self.pond.push_screen(LooksDialog())

    def explanation(self) -> Explanation | None:
        """How the figure of the chosen row came about."""
        row = self._chosen()
        season = self.session.season.latest
        if row is not None and row.id == "season" and season is not None:
            from pondtui.views.water_why import explain as explain_water

            return explain_water(season.now, self.session.setup)
        from pondtui.views.today_why import explain

        return explain(self.session.status(), row.id) if row is not None else None

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter opens what stands behind the row."""
        row = self._rows[event.option_index]
        if row.opens not in self.pond.SCREENS:
            self.action_explain()
            return
        what, _, name = row.id.partition(":")
        batches = {batch.label: batch.barrel for batch in self.session.state().batches}
        barrel = name if what == "barrel" else batches.get(name, "")
        self.pond.open_room(row.opens, barrel)

    def _chosen(self) -> Row | None:
        place = self.query_one(OptionList).highlighted
        return None if place is None or place >= len(self._rows) else self._rows[place]

    def _list_rows(self) -> None:
        """Fill the list; the cursor stays on its row."""
        options = self.query_one(OptionList)
        before = options.highlighted
        old = options.get_option_at_index(before).id if before is not None else None
        width = self.size.width - 4
        options.set_options(
            Option(paint.hanging(row.head, row.text, row.role, width, most=_most(row)), id=row.id)
            for row in self._rows
        )
        ids = [row.id for row in self._rows]
        options.highlighted = ids.index(old) if old in ids else 0

    def _draw(self) -> None:
        """The pond, and beside it the barrels that hold something to be released."""
        from pondtui.views import pictures  # here: the first frame is words alone

        session = self.session
        self._drawn_in = self._sizes()
        box = self._room()
        cases = self._cases()
        beside = bool(cases) and box.width >= _LEAST_POND + _BARREL and box.height >= 6
        room = max(_BARREL, box.width * 2 // 5) if beside else 0
        wide = box.width - room - (1 if beside else 0)
        height = min(box.height, _TALLEST)
        rows: list[Content] = []
        if box:
            status, ascii = session.status(), session.settings.ascii
            rows = [paint.drawing(pictures.pond_rows(
                status.setup, status.state, status.now, wide, height, ascii=ascii
            ))]  # fmt: skip
        self.query_one("#pond", Line).say(paint.joined(rows))
        barrels = self._draw_barrels(cases, room, height) if beside else Content("")
        self.query_one("#barrels", Line).say(barrels)

    def _sizes(self) -> tuple[object, ...]:
        """What the room for drawings hangs on."""
        foot, rows = self.query_one("#foot"), self.query_one("#rows")
        return (self.size, foot.outer_size.height, rows.virtual_size.height)

    def _room(self) -> Size:
        """What the rows leave for drawings; none where that is too little: words go first."""
        left = self.size.height - 1 - self.query_one("#foot").outer_size.height
        rows = self.query_one("#rows")
        rows.styles.max_height = left
        room = Size(self.size.width - 2, left - rows.virtual_size.height)
        shown = room.width >= _LEAST_PICTURE[0] and room.height >= _LEAST_PICTURE[1]
        self.query_one("#pictures").display = shown
        return room if shown else Size(0, 0)

    def _draw_barrels(self, cases: list[Case], width: int, height: int) -> Content:
        """As many barrels over one another as find room, the one in work first."""
        from pondtui.views import pictures

        ascii = self.session.settings.ascii
        number = max(1, min(len(cases), height // 9))
        return paint.joined(
            paint.drawing(pictures.barrel_rows(case, width, height // number, ascii=ascii))
            for case in cases[:number]
        )

    def _cases(self) -> list[Case]:
        """The barrels that are in work or hold something to be let out, the latest first."""
        status = self.session.status()
        day = local_time(status.setup, status.now).date()
        shown = {
            row.water.name
            for row in status.barrels
            if row.flow or row.water.batch or not row.why_not.startswith("nothing")
        }
        cases = [
            current_case(status.setup, status.state, barrel, status.now)
            for barrel in status.setup.barrels_on(day)
            if barrel.name in shown
        ]
        return sorted(cases, key=lambda c: (c.water.batch is None, -c.water.changed))


def _most(row: Row) -> int:
    """Lines that a row may take; `?` shows it whole."""
    if row.id.startswith("alarm"):
        return 1 if row.role == "warn" else 5
    return 3
