"""Water: the season's budget, and its charts with a cursor to read values."""

from __future__ import annotations

from datetime import date, timedelta

from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content

from pondtui.pond.water.budget import covered
from pondtui.pond.water.season_budget import TwoYears
from pondtui.tui import keys, paint
from pondtui.tui.bars import Line
from pondtui.tui.screen import PondScreen
from pondtui.views import charts, water, water_numbers, water_series, water_why, water_words
from pondtui.views.explain import Explanation
from pondtui.views.month_chart import month_chart

VIEWS = ("budget", "level", "loss", "months")
_ROOMY = 130  # columns from which the budget stands beside a chart
_TERMS = 62  # columns of the budget


class WaterScreen(PondScreen):
    """Where the water came from, where it went, and how the level fell."""

    ROOM = "water"
    TITLE = "Water"
    BINDINGS = keys.bindings(keys.keys_of("water", {}))
    AUTO_FOCUS = "#water-told"
    PLAIN_WHEN_SMALL = False

    def __init__(self) -> None:
        super().__init__()
        self._view = "budget"
        self._table = False
        self._zoomed = False
        self._cursor: date | None = None

    def body(self) -> ComposeResult:
        """The budget, and beside it or in its place a chart."""
        with Horizontal(id="water"):
            with VerticalScroll(id="water-told", can_focus=True):
                yield Line(id="water-terms")
            yield Line(id="water-chart")
        yield Line(id="water-read")

    def show(self) -> None:
        """The view that was chosen, as things are now."""
        book = self.session.season
        season = book.work_out() if book.stale else book.latest
        if season is None:
            self.query_one("#water-terms", Line).say(
                paint.words("No basin floats in pond.toml, so no gauge tells the water: "
                            "`pondtui check` says more.", "warn"))  # fmt: skip
            return
        roomy = self.size.width >= _ROOMY
        terms = roomy or self._view == "budget" or self._table
        self.query_one("#water-told").display = terms
        self.query_one("#water-told").styles.width = _TERMS if roomy else "1fr"
        chart = roomy or not terms
        self.query_one("#water-chart").display = chart
        self.query_one("#water-terms", Line).say(self._words(season, roomy))
        self.query_one("#water-read", Line).say(self._reading(season) if chart else Content(""))
        if chart:
            self.call_after_refresh(self._draw, season)

    def explanation(self) -> Explanation | None:
        """How the terms were computed."""
        season = self.session.season.latest
        return None if season is None else water_why.explain(season.now, self.session.setup)

    # --- what is shown ----------------------------------------------------------------------------

    def _words(self, season: TwoYears, roomy: bool) -> Content:
        """The budget, or the table of the chart's numbers."""
        setup = self.session.setup
        width = (_TERMS if roomy else self.size.width) - 4
        if self._table:
            return paint.words("\n".join(self._numbers(season, width)))
        found = season.now
        lines = [paint.words(f"{found.whole.first} to {found.whole.last}", "mark", bold=True)]
        if covered(found):
            told = water.columns(found.whole, setup, width)
            lines.append(paint.words(told.head, "quiet"))
            for text, line in zip(told.rows, water.table(found.whole, setup), strict=True):
                lines.append(paint.words(text, line.role, bold=line.sign in ("", "=")))
            if told.missing:
                lines.append(paint.bullet(told.missing, "quiet", width))
        first, *others = water_words.notes(found, setup)
        marks = [("danger" if found.whole.unexplained else "text", first)]
        marks += [("text", note) for note in others]
        marks.append(("text", f"used {water_words.used_words(found.whole.spent, setup)}"))
        last = water_words.against(found, season.before, setup)
        marks += [("quiet", last)] if last else []
        lines += [paint.bullet(text, role, width) for role, text in marks]
        return paint.joined(lines)

    def _numbers(self, season: TwoYears, width: int) -> list[str]:
        """The chart's numbers as plain lines."""
        setup, state = self.session.setup, self.session.state()
        first, last = self._span(season)
        if self._view in ("budget", "months"):
            return water_numbers.periods(season.now.periods, setup, width)
        if self._view == "loss":
            weeks = water_series.weeks(season.now, setup, first, last)
            return water_numbers.weeks(weeks, setup)
        days = water_series.days(season.now, setup, state, first, last)
        return water_numbers.days(days, setup, width)

    def _draw(self, season: TwoYears) -> None:
        """The chart in what room there is."""
        session, setup = self.session, self.session.setup
        box = self.query_one("#water-chart").content_size
        first, last = self._span(season)
        cursor = self._day(season)
        halves = 2 if self.size.width >= _ROOMY and self._view in ("budget", "level") else 1
        chart = charts.Chart(setup, box.width, box.height // halves, session.settings.ascii)
        weeks = water_series.weeks(season.now, setup, first, last)
        if self._view in ("budget", "level"):
            days = water_series.days(season.now, setup, session.state(), first, last)
            rows = charts.level_chart(
                chart, water_series.levels(season.now, setup, first, last), days, cursor
            )
            if halves == 2:
                rows = rows + charts.loss_chart(chart, weeks, cursor)
        elif self._view == "loss":
            rows = charts.loss_chart(chart, weeks, cursor)
        else:
            rows = month_chart(chart, water_series.months(season.now), self._month(season))
        drawn = paint.drawing(rows)
        if not drawn.plain.strip():
            drawn = paint.wrapped("no room for this chart: t shows its numbers", "quiet", box.width)
        self.query_one("#water-chart", Line).say(drawn)

    def _reading(self, season: TwoYears) -> Content:
        """The values at the cursor."""
        setup, state = self.session.setup, self.session.state()
        view = "level" if self._view == "budget" else self._view
        text = water_series.at(season.now, setup, state, view, self._day(season),
                               self._span(season)[0])  # fmt: skip
        return paint.words(text, "text", bold=True)

    # --- cursor and zoom --------------------------------------------------------------------------

    def _span(self, season: TwoYears) -> tuple[date, date]:
        """The days that are shown: the season, or the cursor's month."""
        first, last = season.now.whole.first, season.now.whole.last
        if not self._zoomed:
            return first, last
        day = self._day(season)
        begin = day.replace(day=1)
        end = (begin + timedelta(31)).replace(day=1) - timedelta(1)
        return max(begin, first), min(end, last)

    def _day(self, season: TwoYears) -> date:
        first, last = season.now.whole.first, season.now.whole.last
        return min(max(self._cursor or last, first), last)

    def _month(self, season: TwoYears) -> int | None:
        names = [m.name for m in water_series.months(season.now)]
        name = f"{self._day(season):%Y-%m}"
        return names.index(name) if name in names else None

    def _move_to(self, day: date) -> None:
        season = self.session.season.latest
        if season is not None:
            first, last = season.now.whole.first, season.now.whole.last
            self._cursor = min(max(day, first), last)
            self.show()

    def action_move(self, steps: int) -> None:
        """The cursor by a day, a week or a month, as the chart has them."""
        season = self.session.season.latest
        if season is None:
            return
        if self._view == "months":
            self.action_turn(steps)
            return
        self._move_to(self._day(season) + timedelta(steps * (7 if self._view == "loss" else 1)))

    def action_turn(self, steps: int) -> None:
        """The cursor by a month."""
        season = self.session.season.latest
        if season is not None:
            middle = self._day(season).replace(day=15) + timedelta(30 * steps)
            self._move_to(middle)

    def action_view(self) -> None:
        """The next view: budget, level, loss, months."""
        self._view = VIEWS[(VIEWS.index(self._view) + 1) % len(VIEWS)]
        self._table = False
        self.show()

    def action_zoom(self) -> None:
        """One month, or the whole season again."""
        self._zoomed = not self._zoomed
        if self._view == "budget":
            self._view = "level"
        self.show()

    def action_numbers(self) -> None:
        """The chart's numbers as a table, or the chart again."""
        self._table = not self._table
        self.show()
