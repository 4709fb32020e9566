"""The description as a list: a row a table, in the order in which a keeper thinks of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from pondtui.pond.setup import edit
from pondtui.pond.setup.chores import CHORES
from pondtui.pond.setup.edit import FORMS, Place
from pondtui.pond.setup.fields import Field, Finding, Table
from pondtui.pond.setup.forms import as_typed
from pondtui.records import NamedTuple
from pondtui.views.setup_fields import example

_GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("The pond", ("pond", "gauge", "basin", "mark", "downpipe")),
    ("Barrels and their water", ("barrel", "source", "conditioner", "limits")),
    ("Own steps of a refill", ("step",)),
    ("Care", ("chore", "season", "supply", "kit", "readings")),
    ("People and house", ("person", "house")),
    ("Weather", ("weather",)),
)
_WORDS = {
    "roof": "its roof", "columns": "its columns", "readings": "own limits", "kit": "test kit",
    "downpipe": "downpipe",
}  # fmt: skip
_SUMMARY = {
    "pond": ("name", "units", "time_zone"),
    "basin": ("shape", "length", "width", "diameter", "depth", "water_share"),
    "mark": ("reading", "role", "rising"),
    "barrel": ("shape", "full_line", "outlet", "source", "into", "retired"),
    "conditioner": ("kind", "label_dose", "label_volume", "agent", "purity", "bottle"),
    "source": ("total_chlorine", "measured", "flow", "price"),
    "step": ("text", "after", "kind"),
    "person": ("role", "initials", "free"),
}
_CHARS = 200  # of a summary; the screen cuts it to its width


class Row(NamedTuple):
    """A line of the list: a heading (no id), a table, or a way to add one."""

    id: str
    head: str
    text: str
    role: str = "text"
    place: Place | None = None
    table: str = ""


def place_of(finding: Finding) -> tuple[Place, str] | None:
    """The form and the field that a finding belongs to; None for the file as a whole."""
    table, _, inner = finding.table.partition(".")
    if table not in FORMS:
        return None
    which: int | str = finding.nth
    if FORMS[table].many == "named":
        which, inner = inner, ""
    key = finding.key
    before, dot, after = key.partition(".")
    if dot and before in FORMS and FORMS[before].inside == table:
        inner, key = before, after
    return Place(inner or table, which), key


def sentence(finding: Finding, field: Field | None = None) -> str:
    """What is wrong, without the words that name the table and the key; as a form says it."""
    if field is not None and finding.message.partition(f": {finding.key}: ")[2].startswith("miss"):
        return f"missing: such as {example(field)}"
    key = finding.key.rpartition(".")[2]
    told = finding.message
    for mark in (f": {finding.key}: ", f": {key}: "):
        if key and mark in told:
            told = told.partition(mark)[2]
    return told.replace("true or false, without quotes", "yes or no")


def groups() -> list[tuple[str, list[Table]]]:
    """Every table that stands for itself, under its heading; none can be forgotten."""
    found = [(title, [FORMS[name] for name in names]) for title, names in _GROUPS]
    listed = {name for _, names in _GROUPS for name in names}
    rest = [table for table in FORMS.values() if table.name not in listed and not table.inside]
    return [*found, ("More", rest)] if rest else found


def rows(
    pond: Mapping[str, Any],
    steps: Mapping[str, Any],
    findings: Iterable[Finding],
    changed: Sequence[Place],
) -> list[Row]:
    """The whole list. `changed` are the places that differ from the file."""
    wrong: dict[Place, str] = {}
    for finding in findings:
        found = place_of(finding)
        if found is not None and finding.severity == "problem":
            wrong.setdefault(found[0], f"{found[1]}: {sentence(finding)}".removeprefix(": "))
    listed: list[Row] = []
    for title, tables in groups():
        listed.append(Row("", "", title, "mark"))
        for table in tables:
            data = steps if table.name == "step" else pond
            listed += _of_table(data, table, wrong, changed)
    return listed


def _of_table(
    data: Mapping[str, Any], table: Table, wrong: Mapping[Place, str], changed: Sequence[Place]
) -> list[Row]:
    if edit.misshapen(data, table):
        return [_odd(table)]
    found: list[Row] = []
    inside = [sub for sub in FORMS.values() if sub.inside == table.name]
    for place in edit.places(data, table):
        found.append(_row(data, table, place, wrong, changed))
        for sub in inside:
            inner = Place(sub.name, place.which)
            odd = edit.misshapen(data, sub)
            found.append(_odd(sub, place) if odd else _row(data, sub, inner, wrong, changed))
    if table.many:
        found.append(Row(f"add:{table.name}", f"+ {table.name}", "add one", "quiet",
                         None, table.name))  # fmt: skip
    return found


def _odd(table: Table, outer: Place | None = None) -> Row:
    """Something else stands there, which is left to the hand that wrote it."""
    text = f"write {table.title} by hand: another thing stands in its place"
    name = f"odd:{table.name}:{outer.which if outer else ''}"
    return Row(name, _WORDS.get(table.name, table.name), text, "danger")


def _row(
    data: Mapping[str, Any],
    table: Table,
    place: Place,
    wrong: Mapping[Place, str],
    changed: Sequence[Place],
) -> Row:
    row = edit.row_of(data, place)
    texts = edit.texts(data, place)
    text, role = summary(table, texts), "text"
    if row is None:
        text, role = f"not described: {table.help}", "quiet"
    if place in changed:
        text, role = f"(changed) {text}", "warn"
    if place in wrong:
        text, role = f"! {wrong[place]}", "danger"
    return Row(f"{place.table}:{place.which}", title(table, place, row), text, role, place,
               table.name)  # fmt: skip


def title(table: Table, place: Place, row: Mapping[str, Any] | None) -> str:
    """How a table is called: by its name, or by its kind."""
    if table.inside:
        return f"  {_WORDS.get(table.name, table.name)}"
    if table.many == "named":
        return str(place.which)
    if table.many == "list":
        name = (row or {}).get("name", (row or {}).get("id", ""))
        day = (row or {}).get("from")
        since = f" from {as_typed(day)}" if day else ""
        return f"{name or table.name}{since}"
    return _WORDS.get(table.name, table.name)


def usual_chores() -> list[tuple[str, dict[str, str]]]:
    """The chores of a garden pond as they stand in a form, by their names."""
    return [
        (chore["name"], {key: as_typed(value) for key, value in chore.items()}) for chore in CHORES
    ]


def summary(table: Table, texts: Mapping[str, str], name: str = "") -> str:
    """The few texts by which one is told from another, behind a name where one is given."""
    keys = _SUMMARY.get(table.name, tuple(field.key for field in table.fields))
    told = [name] if name else []
    for key in keys:
        text = texts.get(key, "")
        if not text or key == "name":
            told += [text] if text and not table.many else []
            continue
        field = table.field(key)
        plain = field is not None and field.type in ("choice", "text") and text not in ("", "true")
        told.append(text if plain else f"{key.replace('_', ' ')} {text}")
    return ", ".join(told)[:_CHARS]
