"""Worksheets for people: results in their own units and in the keeper's, and what they rest on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from pondtui.records import NamedTuple
from pondtui.units import CANONICAL, convert, dimension_of, show
from pondtui.views.explain import Explanation
from pondtui.worksheets.inputs import describe, limits
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.run import Answer

_IMPERIAL = {"in", "ft", "yd", "ft2", "in2", "ft3", "acre", "degF", "lb", "oz", "mph", "inHg"}


class ResultRow(NamedTuple):
    """One result: in its own unit, in the keeper's where that differs, and what it is."""

    key: str
    own: str
    other: str
    help: str


def result_rows(answer: Answer, gallon: str | None) -> list[ResultRow]:
    """The results in the order of the worksheet's answer."""
    system = _system(answer.units.values(), gallon)
    known = {result.key: result for result in answer.worksheet.results}
    rows = []
    for key, value in answer.results.items():
        if isinstance(value, str):
            rows.append(ResultRow(key, value, "", ""))
        else:
            own, other = _said(value, _unit_of(known[key], answer), system)
            rows.append(ResultRow(key, own, other, known[key].help))
    return rows


def takes(field: Input) -> str:
    """`a volume such as 11 mL; at least 0 L; 10 L when left out`."""
    parts = [describe(field), limits(field)]
    if field.default is not None:
        parts.append(f"{field.default} when left out")
    return "; ".join(part for part in parts if part)


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


def _system(units: Iterable[str], gallon: str | None) -> str:
    """The units the keeper typed: us, imperial or metric."""
    words = {word for unit in units for word in unit.replace("/", " ").split()}
    if "US" in words or "imp" in words:
        return "us" if "US" in words else "imperial"
    return (gallon or "us") if words & _IMPERIAL else "metric"


def _said(value: float, unit: str, system: str) -> tuple[str, str]:
    """A result as text in its own unit, and in the keeper's where that differs."""
    own = f"{figures(value)} {unit}".strip()
    dimension = dimension_of(unit)
    if dimension in ("number", "fraction") or (system == "metric" and dimension != "time"):
        return own, ""
    other = show(convert(value, unit, CANONICAL[dimension]), dimension, system)
    return own, "" if other.split(" ", 1)[-1] == unit or other == "0 min" else f"= {other}"
