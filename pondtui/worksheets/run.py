"""Working a worksheet out: what was typed is read, checked against the registration, computed."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from datetime import date
from difflib import get_close_matches
from typing import Any

from pondtui.errors import InputError
from pondtui.records import NamedTuple
from pondtui.units import CANONICAL
from pondtui.worksheets.inputs import Value, choice, describe, take
from pondtui.worksheets.registry import Worksheet, find

_BASIS_INPUTS = ("basis", "from")  # where a basis stated with the value belongs


class Answer(NamedTuple):
    """A worksheet worked out."""

    worksheet: Worksheet
    typed: dict[str, str]  # as it was given, what was empty left out
    inputs: dict[str, Any]  # canonical values by name, defaults included
    units: dict[str, str]  # the unit word that each quantity was typed in
    results: dict[str, float | str]
    notes: tuple[str, ...]  # what had to be assumed, one sentence each


def run(
    name: str,
    typed: Mapping[str, str],
    *,
    gallon: str | None = None,
    read_file: Callable[[str], str] | None = None,
) -> Answer:
    """Work out the worksheet `name` from texts as typed by a keeper.

    `gallon` is what a bare gallon means ("us", "imperial", None: refused); `read_file` gives the
    text of a file that an input names. Raises InputError, one sentence.
    """
    sheet = find(name)
    given = {key: text for key, text in typed.items() if text.strip()}
    _refuse_unknown(sheet, typed)
    values: dict[str, Value] = {}
    for field in sheet.inputs:
        text = given.get(field.name, dict(field.by_gallon).get(gallon or "", field.default))
        if text is not None:
            values[field.name] = take(field, text, gallon, read_file)
    _take_bases(sheet, values, given)
    _refuse_missing(sheet, values, gallon)
    inputs = {key: value.value for key, value in values.items()}
    inputs |= {f"{key}_dimension": v.dimension for key, v in values.items() if v.dimension}
    notes = tuple(f"{key} {value.assumed}" for key, value in values.items() if value.assumed)
    results = _compute(sheet, inputs)
    units = {key: value.unit for key, value in values.items() if value.unit}
    return Answer(sheet, given, inputs, units, results, notes)


def as_json(answer: Answer) -> dict[str, Any]:
    """The answer as the command line promises it; numbers unrounded."""
    fields = {field.name: field for field in answer.worksheet.inputs}
    inputs: dict[str, Any] = {}
    for name, field in fields.items():
        value = answer.inputs.get(name)
        if value is None:
            continue
        dimension = answer.inputs.get(f"{name}_dimension", field.kind)
        if dimension == "areas":
            inputs[name] = [{"depth_mm": depth, "area_m2": area} for depth, area in value]
        elif CANONICAL.get(dimension):
            inputs[name] = {"value": value, "unit": CANONICAL[dimension]}
        elif dimension == "concentration_basis":
            inputs[name] = {"value": value, "unit": CANONICAL["concentration"]}
        elif dimension == "file":
            inputs[name] = answer.typed[name]
        else:
            inputs[name] = value.isoformat() if isinstance(value, date) else value
    return {
        "worksheet": answer.worksheet.name,
        "inputs": inputs,
        "results": answer.results,
        "sources": answer.worksheet.source.split("; "),
        "cautions": list(answer.worksheet.cautions),
        "notes": list(answer.notes),
    }


def _refuse_unknown(sheet: Worksheet, typed: Mapping[str, str]) -> None:
    names = [field.name for field in sheet.inputs]
    for name in typed:
        if name not in names:
            near = get_close_matches(name, names, 1)
            hint = f"did you mean {near[0]}?" if near else f"it takes {', '.join(names)}"
            raise InputError(f"{sheet.name} has no input {name!r}; {hint}")


def _refuse_missing(sheet: Worksheet, values: Mapping[str, Value], gallon: str | None) -> None:
    missing = [f for f in sheet.inputs if f.required and f.name not in values]
    if missing:
        wanted = "; ".join(f"{field.name} ({describe(field, gallon)})" for field in missing)
        raise InputError(f"{sheet.name} still needs {wanted}")


def _take_bases(sheet: Worksheet, values: dict[str, Value], given: Mapping[str, str]) -> None:
    """A basis stated with a value fills the basis input; two that differ are refused."""
    field = next((f for f in sheet.inputs if f.name in _BASIS_INPUTS and f.kind == "choice"), None)
    for name, value in list(values.items()):
        if not value.basis or field is None:
            continue
        stated = choice(field, value.basis)
        if field.name in given and values[field.name].value != stated:
            said = values[field.name].value
            raise InputError(f"{name} is said to be as {stated}, but {field.name} is {said}")
        values[field.name] = Value(stated)


def _compute(sheet: Worksheet, inputs: dict[str, Any]) -> dict[str, float | str]:
    """The results. Raises InputError where the values lead to no number."""
    nothing = f"{sheet.name}: these values together lead to no answer"
    try:
        results = sheet.compute(inputs)
    except InputError:
        raise
    except ValueError as error:  # the formulas refuse values with a sentence
        # Python's own words say nothing to a keeper
        raise InputError(nothing if "math " in str(error) else str(error)) from None
    except ArithmeticError:
        raise InputError(nothing) from None
    if any(isinstance(v, float) and not math.isfinite(v) for v in results.values()):
        raise InputError(nothing)
    return results
