"""The water budget as one page to print: tables and charts in one file, nothing from elsewhere."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Iterator
from html import escape

from pondtui.clean import visible
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.pond.water.budget import Budget, covered
from pondtui.views import water, water_series, water_svg, water_units, water_words

STYLE = """
:root { color-scheme: light; }
body { margin: 0 auto; padding: 0 1rem 2rem; max-width: 52rem; color: #16201c;
  background: #ffffff; font: 1rem/1.45 system-ui, sans-serif; overflow-wrap: break-word; }
h1 { font-size: 1.5rem; margin: 1rem 0 .25rem; }
h2 { font-size: 1.15rem; margin: 1.75rem 0 .5rem; border-bottom: 2px solid #6b7a72; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; margin: .5rem 0; }
caption { text-align: left; font-weight: bold; padding: .25rem 0; }
th, td { border: 1px solid #6b7a72; padding: .2rem .6rem; text-align: right; }
th:first-child, td:first-child { text-align: left; }
th { background: #eef3f0; }
tr.act td, tr.act th, strong { color: #9c1c10; }
svg { width: 100%; height: auto; display: block; margin: .5rem 0; break-inside: avoid; }
svg text { font: 12px system-ui, sans-serif; fill: #16201c; }
.grid { stroke: #d5ded9; stroke-width: 1; }
.mark { stroke: #7a4b00; stroke-width: 1.2; stroke-dasharray: 6 4; }
.level { fill: none; stroke: #0a4f78; stroke-width: 1.8; }
.rain { fill: #2f7fae; }
.refill { fill: #0b5c46; }
.measured { fill: #0a4f78; }
.computed { fill: none; stroke: #7a4b00; stroke-width: 2.5; stroke-dasharray: 2 3; }
.in { fill: #0b5c46; }
.out { fill: #8fb9d3; stroke: #0a4f78; }
.rest { fill: #ffffff; stroke: #16201c; stroke-dasharray: 3 2; }
section, tr { break-inside: avoid; }
@page { margin: 15mm; }
"""


def page(found: Budget, before: Budget | None, state: PondState, setup: Setup, now: int) -> str:
    """The whole page; every word of the keeper's is escaped, and the policy lets nothing load."""
    title = f"{setup.pond.name}: water from {found.whole.first} to {found.whole.last}"
    policy = f"default-src 'none'; style-src '{_hash(STYLE)}'"
    return "".join((
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<title>{_said(title)}</title><style>{STYLE}</style></head><body>",
        f"<main><h1>{_said(title)}</h1>",
        f"<p>Worked out on {local_time(setup, now):%Y-%m-%d at %H:%M}.</p>",
        *_body(found, setup, before, state),
        "</main></body></html>\n",
    ))  # fmt: skip


def _hash(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _said(text: str) -> str:
    return escape(visible(text))


def _body(found: Budget, setup: Setup, before: Budget | None, state: PondState) -> Iterator[str]:
    yield "<section><h2>The budget</h2>"
    if covered(found):
        yield _terms(found, setup)
    yield "<ul>"
    yield from (f"<li>{_said(note)}</li>" for note in water_words.notes(found, setup))
    yield f"<li>Used: {_said(water_words.used_words(found.whole.spent, setup))}</li>"
    last = water_words.against(found, before, setup)
    yield f"<li>{_said(last)}</li></ul></section>" if last else "</ul></section>"
    if not covered(found):
        return
    first, last_day = found.whole.first, found.whole.last
    yield "<section><h2>Level, refills, rain</h2>"
    rows = water_series.levels(found, setup, first, last_day)
    days = water_series.days(found, setup, state, first, last_day)
    yield f"{water_svg.level_svg(setup, rows, days)}</section>"
    weeks = water_series.weeks(found, setup, first, last_day)
    yield "<section><h2>Loss measured, and what the weather explains</h2>"
    yield water_svg.loss_svg(setup, weeks) or "<p>Too few readings for a week's loss.</p>"
    yield "</section><section><h2>Month by month</h2>"
    yield f"{water_svg.month_svg(setup, water_series.months(found))}{_periods(found, setup)}"
    yield "</section><section><h2>The numbers of the charts</h2>"
    yield _table("Loss a day, week by week", *_week_rows(setup, weeks))
    yield _table("Day by day", *_day_rows(setup, days))
    yield "</section>"


def _terms(found: Budget, setup: Setup) -> str:
    over = water_units.heads(setup)
    head = ["", over.volume, "±", over.depth] + ([over.money] if over.money else [])
    rows = []
    for line in water.table(found.whole, setup):
        cells = [f"{line.sign} {line.words}".strip(), line.volume, line.error, line.depth]
        rows.append((cells + ([line.money] if over.money else []), line.role == "danger"))
    return _table("Every term", head, [cells for cells, _ in rows], [act for _, act in rows])


def _periods(found: Budget, setup: Setup) -> str:
    shown = [p for p in found.periods if p.terms.end is not None]
    rows = [water.period_row(period, setup) for period in shown]
    caption = f"{water_units.heads(setup).volume}; ! is more than the errors allow"
    return _table(caption, water.PERIOD_HEADS, rows, [p.unexplained for p in shown])


def _week_rows(
    setup: Setup, weeks: Iterable[water_series.WeekRow]
) -> tuple[list[str], list[list[str]]]:
    unit = water_units.heads(setup).depth
    head = ["week from", f"measured, {unit} a day", f"by weather, {unit} a day"]
    return head, [water_series.week_cells(setup, week) for week in weeks]


def _day_rows(
    setup: Setup, days: Iterable[water_series.DayRow]
) -> tuple[list[str], list[list[str]]]:
    over = water_units.heads(setup)
    head = ["day", f"gauge, {over.depth}", f"rain, {over.depth}", f"refill, {over.volume}",
            "events"]  # fmt: skip
    return head, [water_series.day_cells(setup, day) for day in days]


def _table(
    caption: str,
    head: Iterable[str],
    rows: Iterable[Iterable[str]],
    act: Iterable[bool] | None = None,
) -> str:
    """A table that scrolls by itself where it is wider than the page."""
    body = []
    marks = iter(act or ())
    for row in rows:
        cells = "".join(f"<td>{_said(cell)}</td>" for cell in row)
        body.append(f'<tr class="act">{cells}</tr>' if next(marks, False) else f"<tr>{cells}</tr>")
    top = "".join(f'<th scope="col">{_said(cell)}</th>' for cell in head)
    return (
        f'<div class="scroll"><table><caption>{_said(caption)}</caption>'
        f"<thead><tr>{top}</tr></thead><tbody>{''.join(body)}</tbody></table></div>"
    )
