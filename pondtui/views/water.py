"""The water budget as rows and sentences, for the screen, the command line and paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.budget import Budget, covered
from pondtui.pond.water.budget_terms import INS, OUTS, Period, Terms
from pondtui.pond.water.spent import price_per_l
from pondtui.records import NamedTuple
from pondtui.views.water_units import heads, volume
from pondtui.views.water_words import against, notes, used_words

WORDS = {
    "start": "water at the start",
    "rain": "rain",
    "downpipe": "from the roof",
    "released": "from barrels",
    "direct": "put in straight",
    "evaporation": "evaporation",
    "steady": "steady loss",
    "overflow": "ran over",
    "drained": "taken out",
    "residual": "not explained",
    "end": "water at the end",
}
UNKNOWN = "?"


class Line(NamedTuple):
    """A term of the budget in the pond's units, as texts."""

    name: str
    sign: str  # "+", "-", "=" or nothing
    words: str
    volume: str
    error: str
    depth: str
    money: str
    role: str = "text"


def table(period: Period, setup: Setup) -> list[Line]:
    """Every term of a period, from the water at the start to that at the end."""
    return [_line(period, setup, name) for name in Terms._fields]


def _line(period: Period, setup: Setup, name: str) -> Line:
    value, error = getattr(period.terms, name), getattr(period.errors, name)
    stands = name in ("start", "end")
    sign = "+" if name in INS else "-" if name in OUTS else "=" if name == "end" else ""
    role = "danger" if name == "residual" and period.unexplained else "text"
    if value is None:
        return Line(name, sign, WORDS[name], UNKNOWN, "", "", "", "quiet")
    if value == 0 and not stands and name not in ("steady", "residual"):
        role = "quiet"
    return Line(
        name, sign, WORDS[name], volume(setup, value),
        volume(setup, error) if error and round(error) else "",
        "" if stands else _depth(setup, value, period.area_m2),
        "" if stands else _money(setup, value), role,
    )  # fmt: skip


def _depth(setup: Setup, value_l: float, area_m2: float) -> str:
    if area_m2 <= 0:
        return ""
    mm = value_l / area_m2
    return f"{round(mm) + 0:d}" if setup.pond.units == "metric" else f"{mm / 25.4:.1f}"


def _money(setup: Setup, value_l: float) -> str:
    price = price_per_l(setup)
    return "" if price is None else f"{value_l * price:.2f}"


def lines(found: Budget, setup: Setup, before: Budget | None) -> list[str]:
    """The budget for people, as plain lines."""
    whole = found.whole
    told = [f"{setup.pond.name}, water from {whole.first} to {whole.last}"]
    if covered(found):
        told += ["", *table_lines(whole, setup)]
    told += ["", *(f"note  {note}" for note in notes(found, setup))]
    told.append(f"used  {used_words(whole.spent, setup)}")
    last = against(found, before, setup)
    told += [f"used  {last}"] if last else []
    shown = [p for p in found.periods if p.terms.end is not None]
    return told + (["", *period_lines(shown, setup)] if len(shown) > 1 else [])


class Table(NamedTuple):
    """The terms in columns, as many as there is room for."""

    head: str
    rows: list[str]  # one a term; of two lines where even term and volume are too wide
    missing: str = ""  # which columns are left out, and where they stand


def table_lines(period: Period, setup: Setup) -> list[str]:
    """The terms in all their columns."""
    told = columns(period, setup)
    return [told.head, *told.rows]


def columns(period: Period, setup: Setup, width: int = 80) -> Table:
    """The terms within so many columns: volume and its ± always, depth and cost as they fit."""
    over, lines = heads(setup), table(period, setup)
    cells = [[over.volume, *(line.volume for line in lines)], ["±", *(li.error for li in lines)],
             [over.depth, *(line.depth for line in lines)]]  # fmt: skip
    cells += [[over.money, *(line.money for line in lines)]] if over.money else []
    wide = [max(least, 1 + max(map(len, column)))
            for least, column in zip((8, 8, 8, 10), cells, strict=False)]  # fmt: skip
    first = 22 if width >= 22 + sum(wide[:2]) else 20
    shown = len(cells)
    while shown > 2 and first + sum(wide[:shown]) > width:
        shown -= 1
    apart = first + sum(wide[:2]) > width
    names = ["", *(f"{line.sign or ' '} {line.words}" for line in lines)]
    told = []
    for name, *row in zip(names, *cells[:shown], strict=True):
        numbers = "".join(f"{cell:>{each}}" for cell, each in zip(row, wide, strict=False))
        text = f"{name}\n  {numbers.strip()}" if apart and name else f"{name:<{first}}{numbers}"
        told.append(text.strip("\n").rstrip())
    return Table(told[0].strip() if apart else told[0], told[1:], _missing(cells[shown:]))


def _missing(left: Sequence[Sequence[str]]) -> str:
    """What has no room, and how to see it."""
    names = " and ".join(column[0] for column in left)
    return f"{names} left out: a wider window, or `pondtui water`, shows all" if names else ""


PERIOD_HEADS = ("", "rain", "barrels", "other in", "evap.", "steady", "other out", "not expl.", "±")


def period_lines(periods: Sequence[Period], setup: Setup) -> list[str]:
    """One line a period, in the unit of the table."""
    rows = [PERIOD_HEADS, *(period_row(period, setup) for period in periods)]
    wide = max(len(row[0]) for row in rows)
    return [f"{row[0]:<{wide}}" + "".join(f"{cell:>10}" for cell in row[1:]) for row in rows]


def period_row(period: Period, setup: Setup) -> tuple[str, ...]:
    """A period's columns as texts."""
    t = period.terms

    def told(*values: float | None) -> str:
        known = [value for value in values if value is not None]
        return volume(setup, sum(known)) if known else UNKNOWN

    mark = "!" if period.unexplained else ""
    return (
        period.name, told(t.rain), told(t.released), told(t.downpipe, t.direct),
        told(t.evaporation), told(t.steady), told(t.overflow, t.drained),
        told(t.residual) + mark, told(period.errors.residual),
    )  # fmt: skip


def as_json(found: Budget) -> dict[str, Any]:
    """The budget by its keys: litres, losses positive.

    A term of which nothing is known counts as 0, so that the sum closes, and its uncertainty is
    null; days without two readings are null throughout.
    """
    return {**_period_json(found.whole), "periods": [_period_json(p) for p in found.periods]}


def _period_json(period: Period) -> dict[str, Any]:
    used = period.spent
    return {
        "from": period.first.isoformat(),
        "to": period.last.isoformat(),
        "terms_l": _closing(period.terms),
        "uncertainty_l": period.errors._asdict(),
        "tap_l": used.tap_l,
        "barrels": used.barrels,
        f"conditioner_{used.unit.lower()}": used.conditioner,
        "cost": used.cost,
    }


def _closing(terms: Terms) -> dict[str, float | None]:
    if terms.end is None:
        return terms._asdict()
    return {name: value or 0.0 for name, value in terms._asdict().items()}
