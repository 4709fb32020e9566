"""The care sheet as one page for a telephone: it needs no network, no script and no install."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Sequence
from html import escape

from pondtui.pond.away.model import Block, Drawing, Grid, Items, Part, Planned, Sheet, Task, Words
from pondtui.pond.away.say import Say
from pondtui.pond.away.tasks import start_of
from pondtui.views.care.drawing import Line, lines, meanings
from pondtui.views.care.page_script import SCRIPT
from pondtui.views.care.page_style import STYLE

_ROW = 22  # of the drawing: label to label
_HEIGHT = 220.0
_LONG_WORD = 16
_NAME = 24  # letters of a mark's name in the drawing


def text(sheet: Sheet) -> str:
    """The whole page."""
    policy = (
        f"default-src 'none'; style-src '{_hash(STYLE)}'; script-src '{_hash(SCRIPT)}'; "
        "base-uri 'none'; form-action 'none'"
    )
    rows = [
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="referrer" content="no-referrer">',
        f"<title>{escape(sheet.title)}</title>\n<style>{STYLE}</style>\n</head>",
        f'<body data-sheet="{escape(sheet.code)}">',
        *_header(sheet),
        "<main>",
        *(row for part in sheet.parts for row in _part(sheet, part)),
        *(_visits(sheet) if sheet.visits else ()),
        "</main>",
        f"<script>{SCRIPT}</script>\n</body>\n</html>",
    ]
    return "\n".join(rows) + "\n"


def _hash(content: str) -> str:
    digest = base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()
    return f"sha256-{digest}"


def _header(sheet: Sheet) -> Iterable[str]:
    sitter = f" For {escape(sheet.sitter)}." if sheet.sitter else ""
    yield f"<header><h1>{escape(sheet.title)}</h1>"
    yield (
        f"<p>Made {sheet.made:%a %d %b %Y %H:%M}, {escape(sheet.span)}.{sitter} "
        f"Sheet {escape(sheet.code)}.</p></header>"
    )
    yield '<nav aria-label="Parts"><ul>'
    if sheet.visits:
        yield '<li><a href="#visits">Visits</a></li>'
    yield '<li><a class="act" href="#part8">Emergencies</a></li>'
    for part in sheet.parts:
        if part.number != 8:
            yield f'<li><a href="#part{part.number}">{part.number} {escape(part.title)}</a></li>'
    yield "</ul></nav>"


def _part(sheet: Sheet, part: Part) -> Iterable[str]:
    head = f'<h2 id="head{part.number}">{part.number} {escape(part.title)}</h2>'
    yield f'<section id="part{part.number}" aria-labelledby="head{part.number}">{head}'
    for block in part.blocks:
        yield from _block(sheet, block)
    yield "</section>"


def _block(sheet: Sheet, block: Block) -> Iterable[str]:
    if isinstance(block, Words):
        return [f"<p>{escape(block.text)}</p>"]
    if isinstance(block, Drawing):
        return [_svg(lines(sheet, block)), _list("ul", meanings(sheet))]
    if isinstance(block, Items):
        return [_items(block)]
    return _grid(sheet, block)


def _list(tag: str, rows: Iterable[str], sign: str = "") -> str:
    inside = "".join(f"<li>{sign}{escape(row)}</li>" for row in rows)
    kind = ' class="not"' if sign else ""
    return f"<{tag}{kind}>{inside}</{tag}>"


def _items(items: Items) -> str:
    title = f"<h3>{escape(items.title)}</h3>" if items.title else ""
    if items.sign == "x":
        rows = _list("ul", items.rows, "<b>do NOT</b> ")
    else:
        rows = _list("ol" if items.sign == "1" else "ul", items.rows)
    return f'<div class="case">{title}{rows}</div>'


def _grid(sheet: Sheet, table: Grid) -> Iterable[str]:
    caption = f"<caption>{escape(table.title)}</caption>" if table.title else ""
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in table.head)
    yield f"<table>{caption}<thead><tr>{head}</tr></thead><tbody>"
    for place, row in enumerate(table.rows):
        cells = "".join(_cell(cell) for cell in row)
        yield f"<tr{_amount(table, place)}>{cells}</tr>"
    yield "</tbody></table>"
    if table.amounts_l:
        yield _lookup(sheet, table)


def _cell(cell: str) -> str:
    """A cell; an empty one is a place to write, and a word too long for a telephone may break."""
    if not cell.strip("_"):
        return '<td class="blank"></td>'
    kind = ' class="long"' if max(map(len, cell.split())) > _LONG_WORD else ""
    return f"<td{kind}>{escape(cell)}</td>"


def _amount(table: Grid, place: int) -> str:
    """What the look-up needs of a row of a dose table."""
    if not table.amounts_l:
        return ""
    amount = float(table.rows[place][0].split()[0])  # as shown, so that a row finds itself
    dose = f"{table.rows[place][2]}: {table.rows[place][3]}"
    return (
        f' data-amount="{amount:g}" data-barrel="{escape(table.barrel)}" data-dose="{escape(dose)}"'
    )


def _lookup(sheet: Sheet, table: Grid) -> str:
    out = f"dose-{hashlib.sha256(table.barrel.encode()).hexdigest()[:8]}"
    return (
        '<div class="script" hidden><label class="field">Water in it, '
        f'{Say(sheet.setup).volume_unit} <input type="text" class="number" inputmode="decimal" '
        f'autocomplete="off" data-lookup="{escape(table.barrel)}" data-out="{out}"></label>'
        f'<output id="{out}"></output></div>'
    )


def _visits(sheet: Sheet) -> Iterable[str]:
    yield '<section id="visits" aria-labelledby="head-visits"><h2 id="head-visits">Visits</h2>'
    yield (
        "<p>Tick what is done and as it should be. Answer by message: the number, then ok, or no "
        "and why, or what it reads.</p>"
    )
    yield (
        '<div class="script" id="timer" hidden><label class="field">Timer, minutes '
        '<input type="text" class="number" inputmode="decimal" id="timer-min" autocomplete="off">'
        '<button type="button" id="timer-start">Start</button></label>'
        '<output id="timer-out"></output></div>'
    )
    for planned in sheet.visits:
        yield from _visit(sheet, planned)
    yield (
        '<div class="script" hidden><button type="button" id="report-make">Make the report'
        '</button><output id="report-out"></output><label for="report">Report</label>'
        '<textarea id="report" readonly></textarea></div></section>'
    )


def _visit(sheet: Sheet, planned: Planned) -> Iterable[str]:
    start = start_of(sheet.setup, planned.visit)
    legend = f"Visit {planned.number}: {start:%a %d %b, about %H:%M}"
    yield f'<fieldset id="visit{planned.number}"><legend>{legend}</legend>'
    for task in planned.tasks:
        yield from _task(task)
    for minutes, what in _times(planned):
        yield (
            f'<button type="button" class="script" data-minutes="{minutes}" hidden>Timer: '
            f"{minutes} min, {what}</button>"
        )
    yield "</fieldset>"


def _times(planned: Planned) -> Iterable[tuple[int, str]]:
    """The visit's own times for the timer; filling rings early, for a tap's flow varies."""
    visit = planned.visit
    for minutes, what in (
        ((visit.fill_min or 0.0) * 0.8 if visit.add_l > 0 else 0.0, "filling"),
        (visit.wait_min if visit.add_l > 0 else 0.0, "waiting"),
        (visit.release_min or 0.0, "outlet"),
    ):
        if minutes >= 1:
            yield round(minutes), what


def _task(task: Task) -> Iterable[str]:
    number = escape(task.number)
    yield (
        f'<div class="task"><label class="box"><input type="checkbox" data-task="{number}">'
        f"<span><b>{number}</b> {escape(task.text)}</span></label>"
    )
    if task.field:
        unit, asked = escape(task.shown_unit), "how much" if task.planned else "reads"
        yield (
            f'<label class="field">{number} {asked}, {unit} <input type="text" class="number" '
            f'inputmode="decimal" autocomplete="off" data-read="{number}" '
            f'data-unit="{escape(task.unit)}"></label>'
        )
    yield (
        f'<label class="field script" hidden>{number} if not, why <input type="text" '
        f'class="words" maxlength="120" autocomplete="off" data-why="{number}"></label></div>'
    )


def _svg(marks: Sequence[Line]) -> str:
    """The gauge with the water and each mark at its height, labels spread so that none overlap."""
    if not marks:
        return ""
    spots = _spread([20 + line.down * (_HEIGHT - 60) for line in marks])
    height = max(_HEIGHT, spots[-1] + 20)
    water = next((20 + m.down * (_HEIGHT - 60) for m in marks if m.role == "water"), None)
    rows = [f'<svg role="img" aria-label="The gauge and its marks" viewBox="0 0 360 {height:.0f}">']
    if water is not None:
        rows.append(
            f'<rect class="water" x="10" y="{water:.1f}" width="50" '
            f'height="{_HEIGHT - 10 - water:.1f}"/>'
        )
    rows.append(f'<rect class="rule" x="10" y="10" width="50" height="{_HEIGHT - 20:.0f}"/>')
    for line, spot in zip(marks, spots, strict=True):
        y = 20 + line.down * (_HEIGHT - 60)
        name = line.name if len(line.name) <= _NAME else line.name[: _NAME - 1] + "…"
        loud = ' class="act"' if line.role in ("danger", "water") else ""
        rows.append(f'<line x1="30" y1="{y:.1f}" x2="70" y2="{y:.1f}"/>')
        rows.append(f'<line x1="70" y1="{y:.1f}" x2="88" y2="{spot:.1f}"/>')
        rows.append(
            f'<text{loud} x="92" y="{spot + 5:.1f}">{escape(line.reading)}  {escape(name)}</text>'
        )
    return "".join([*rows, "</svg>"])


def _spread(wanted: Sequence[float]) -> list[float]:
    """Heights at least a row apart, in order, pushed down where they would overlap."""
    found: list[float] = []
    for height in wanted:
        found.append(max(height, found[-1] + _ROW) if found else height)
    return found
