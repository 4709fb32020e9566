"""Worksheets for people: results in their own units and in the keeper's, and what they rest on."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from pondtui.records import NamedTuple
from pondtui.units import CANONICAL, convert, dimension_of, show
from pondtui.views.explain import Explanation
from pondtui.worksheets.inputs import describe, limits
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.run import Answer
from pondtui.worksheets.spoken import canonical, spoken, system_of


class ResultRow(NamedTuple):
    """One result: in its own unit, in the keeper's where that differs, and what it is."""

    key: str
    own: str
    other: str
    help: str


def result_rows(answer: Answer, gallon: str | None) -> list[ResultRow]:
    """The results in the order of the worksheet's answer."""
    system = system_of(answer.units.values(), gallon)
    known = {result.key: result for result in answer.worksheet.results}
    rows = []
    for key, value in answer.results.items():
        if isinstance(value, str):
            rows.append(ResultRow(key, value, "", ""))
        else:
            own, other = _said(value, _unit_of(known[key], answer), system)
            rows.append(ResultRow(key, own, other, known[key].help))
    return rows


def takes(field: Input, system: str | None = None) -> str:
    """`a volume such as 11 mL; at least 0 L; 10 L when left out`, in the units of a system."""
    parts = [describe(field, system), limits(field, system=system), _when_left_out(field, system)]
    return "; ".join(part for part in parts if part)


def example(sheet: Worksheet, system: str | None) -> dict[str, str]:
    """The worked example as one would type it in these units; as registered without a system."""
    fields = {field.name: field for field in sheet.inputs}
    return {
        name: dict(fields[name].by_gallon).get(system or "")
        or spoken(text, fields[name].kind, system)
        for name, text in sheet.example.items()
    }


def hint(sheet: Worksheet, field: Input, system: str | None) -> str:
    """What stands in an empty field: its default, else its example; nothing without both."""
    text = example(sheet, system).get(field.name, "")
    return _when_left_out(field, system) or (f"such as {text}" if text else "")


def _when_left_out(field: Input, system: str | None) -> str:
    """`10 L when left out`; a default that is rounded in these units is told as about so much."""
    text = dict(field.by_gallon).get(system or "", field.default)
    if text is None:
        return ""
    own = spoken(text, field.kind, system)
    exact, told = canonical(text, field.kind), canonical(own, field.kind)
    same = exact is None or told is None or math.isclose(exact, told, rel_tol=1e-9)
    return f"{'' if same else 'about '}{own} when left out"


def figures(value: float) -> str:
    """About four figures, whole digits never rounded off, without an exponent."""
    if value == 0 or abs(value) >= 1000:
        return f"{value:.0f}"
    if abs(value) < 1e-6:
        return f"{value:.12f}".rstrip("0").rstrip(".")
    places = 3
    while abs(value) < 10 ** (3 - places) and places < 10:
        places += 1
    text = f"{value:.{max(places, 3)}f}" if abs(value) < 1 else f"{value:.4g}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def explain(sheet: Worksheet, typed: Mapping[str, str], rows: Iterable[ResultRow]) -> Explanation:
    """The worksheet's formula and sources, with what was typed and what came out."""
    told = [f"{row.key} = {row.own}" for row in rows]
    return Explanation(
        f"{sheet.name}: {sheet.title}",
        "; ".join(told) or "no result yet",
        tuple((name, text) for name, text in typed.items() if text.strip()),
        sheet.formula,
        sheet.source,
        sheet.cautions,
    )


def as_note(sheet: Worksheet, typed: Mapping[str, str], row: ResultRow) -> str:
    """A result with what it was computed from, for a note in the journal."""
    given = ", ".join(f"{name}={text.strip()}" for name, text in typed.items() if text.strip())
    return f"{sheet.name}: {row.key} = {row.own} from {given}"


def found(sheets: Iterable[Worksheet], words: str) -> dict[str, list[Worksheet]]:
    """The worksheets whose name, title, group or results hold all the words, by group."""
    groups: dict[str, list[Worksheet]] = {}
    for sheet in sheets:
        results = " ".join(result.help for result in sheet.results)
        text = f"{sheet.name} {sheet.title} {sheet.group} {results}".casefold()
        if all(word in text for word in words.casefold().split()):
            heading = f"{sheet.group[:1].upper()}{sheet.group[1:]}"
            groups.setdefault(heading, []).append(sheet)
    return groups


def _unit_of(result: Result, answer: Answer) -> str:
    """The unit of a result; of several, the one whose dimension was typed in."""
    typed = {value for name, value in answer.inputs.items() if name.endswith("_dimension")}
    units = result.unit.split(" or ")
    return next((unit for unit in units if dimension_of(unit) in typed), units[0])


def _said(value: float, unit: str, system: str) -> tuple[str, str]:
    """A result as text in its own unit, and in the keeper's where that differs."""
    own = f"{figures(value)} {unit}".strip()
    dimension = dimension_of(unit)
    if dimension in ("number", "fraction") or (system == "metric" and dimension != "time"):
        return own, ""
    other = show(convert(value, unit, CANONICAL[dimension]), dimension, system)
    return own, "" if other.split(" ", 1)[-1] == unit or other == "0 min" else f"= {other}"
