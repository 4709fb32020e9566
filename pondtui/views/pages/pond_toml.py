"""The reference of pond.toml and procedure.toml, written from the tables that read them."""

from __future__ import annotations

from collections.abc import Iterator

from pondtui.pond.refill.own_steps import KINDS as STEP_KINDS
from pondtui.pond.refill.procedure import STAGE_TITLES, STEPS
from pondtui.pond.setup.fields import Field, Table
from pondtui.pond.setup.tables import TABLES
from pondtui.units import CANONICAL, NOUNS, show
from pondtui.views.pages.page import Page, row

NAME = "pond-toml"
INTRO = """\
pond.toml describes your pond. It is plain text: write it with any editor, or let
the questions of `pondtui new DIR` and the screens write it. `pondtui check`
tells everything that is wrong in it at once, with the line and the way out.

A quantity is a text with its unit, such as "62 mm". A bare number stands only
where there is no unit. A day is written 2026-05-20, without quotes. What stands
behind a # is your own comment.

A refill needs {needed}. Everything else has a default,
or switches on what it describes. A table or key that this program does not know
is kept and remarked on.

A table in double brackets may stand several times. [[basin]], [[barrel]] and
[[conditioner]] may carry from = DAY and stand twice under one name: older
entries are then judged by what held on their day.

The first line says which form of the file it is:
    format = 1
"""
PROCEDURE = """\
procedure.toml holds your own steps of a refill. The fixed steps cannot be taken
away, only passed over with a reason.
    [[step]]
    id = "own-lid"
    after = "mix"
    text = "Put the lid back on"
    kind = "tick"

id :: required. A word of small letters, digits and hyphens.
after :: required. The id of the step it stands behind.
text :: required. What to do.
kind :: one of {kinds}; left out: tick.
unit :: of a number.
minutes :: of a wait: a time such as "5 min", or bare minutes.

# The fixed steps
"""
_KINDS = {
    "text": "a text", "name": "a text without ; and |", "choice": "", "yesno": "true or false",
    "whole": "a whole number", "date": "a day", "monthday": "month and day", "clock": "a time of "
    "day", "zone": "a time zone", "texts": "a list of texts", "windows": "a list of texts: [dates] "
    "[weekdays, odd days or even days] [hours]", "weekdays": "a list of mon, tue, wed, thu, fri, "
    "sat, sun", "span": "first and last day of the year", "areas": "rows of a length and an area",
    "feeding": "rows of two temperatures and a time", "amount": "a volume or a mass",
    "devices": "rows of name, what it holds, its smallest mark", "twelve": "twelve numbers",
    "reorder": "a volume, a mass or a count",
}  # fmt: skip


def pages() -> Iterator[Page]:
    """The file as a whole, one page a table, and the own steps of a refill."""
    needed = [table.refill for table in TABLES.values() if table.refill]
    told = f"{', '.join(needed[:-1])} and {needed[-1]}"
    tables = "\n".join(row(t.title, t.help) for t in TABLES.values())
    yield Page(NAME, "pond.toml, every table and field", f"{INTRO.format(needed=told)}\n{tables}\n")
    for table in TABLES.values():
        yield Page(f"{NAME} {table.name}", table.title, _table(table))
    steps = "\n".join(row(s.id, f"{STAGE_TITLES[s.stage]}: {s.title}") for s in STEPS)
    kinds = ", ".join(STEP_KINDS)
    yield Page("procedure-toml", "procedure.toml, your own steps of a refill",
               PROCEDURE.format(kinds=kinds) + steps + "\n")  # fmt: skip


def _table(table: Table) -> str:
    needed = f"\nA refill needs {table.refill}." if table.refill else ""
    rows = "\n".join(row(field.key, told(field)) for field in table.fields)
    written = "\n".join(f"    {field.key} = {field.example}" for field in table.fields)
    how = f"# How each is written\n    {table.title}\n{written}"
    return f"{table.help}{needed}\n\n{rows}\n\n{how}\n"


def told(field: Field) -> str:
    """What a field is: help, type, limits, default."""
    parts = [kind_of(field), limits(field)]
    if field.required:
        parts.append("required")
    elif field.default:
        parts.append(f"left out: {field.default}")
    facts = "; ".join(part for part in parts if part)
    return f"{field.help}. {facts[:1].upper()}{facts[1:]}."


def kind_of(field: Field) -> str:
    """The type of a field in words."""
    head, _, dimension = field.type.partition(":")
    if head == "column":
        return "a column's header" + (f" with its unit [{CANONICAL[dimension]} or another]"
                                      if dimension and CANONICAL[dimension] else "")  # fmt: skip
    if head == "bounds":
        many = field.example.count(",") + 1
        return f"a list of {many}, from low to high: {NOUNS[dimension][0]}"
    if head == "step":
        return f"{NOUNS[dimension][0]} in the kit's own unit and basis"
    if field.words:
        return f"one of {', '.join(field.words)}"
    return _KINDS.get(field.type) or NOUNS[field.type][0]


def limits(field: Field) -> str:
    """From where to where a value may be."""
    if field.low is None and field.high is None:
        return ""
    low = "0" if field.low is None else _value(field, field.low)
    if field.high is None:
        return f"at least {low}"
    return f"{low} to {_value(field, field.high)}"


def _value(field: Field, value: float) -> str:
    dimension = field.type.partition(":")[2] or field.type
    if CANONICAL.get(dimension):
        return show(value, dimension, "metric")
    return f"{value:g}" + (" mm" if dimension == "twelve" else "")
