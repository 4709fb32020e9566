"""Measuring help that ends in a field: which worksheet serves which field, and what it fills in."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pondtui.records import NamedTuple
from pondtui.units import show
from pondtui.views.sheets import hint
from pondtui.worksheets.registry import Input, find
from pondtui.worksheets.run import Answer, run

_NOTHING: Mapping[str, str] = MappingProxyType({})
_VESSEL = {key: key for key in ("shape", "diameter", "width", "breadth", "height", "length")}


class Fill(NamedTuple):
    """A field that a result goes into."""

    key: str  # of the same table
    result: str  # of the worksheet
    dimension: str = ""  # "": the result is a text, or a plain number
    text: str = ""  # goes in whatever the result is: the word that makes the others count


class Measure(NamedTuple):
    """One way to measure, by a worksheet."""

    sheet: str
    title: str
    serves: tuple[str, ...]  # "barrel.diameter"
    asks: tuple[str, ...]  # inputs of the sheet
    fills: tuple[Fill, ...]
    takes: Mapping[str, str] = _NOTHING  # inputs taken from fields of the form, by their key


class Worked(NamedTuple):
    """What a measurement leads to."""

    fills: dict[str, str]  # texts by key of the table
    told: tuple[str, ...]  # every result as a sentence


_ROWS = ("outline", "row_1", "row_2", "row_3", "row_4", "row_5", "row_6")
MEASURES: tuple[Measure, ...] = (
    Measure("barrel-girth", "by a tape round the barrel", ("barrel.diameter", "barrel.height"),
            ("girth", "wall", "height"),
            (Fill("diameter", "diameter_mm", "length"), Fill("height", "=height"))),
    Measure("dipstick", "by a dipstick", ("barrel.outlet", "barrel.full_line"),
            ("wet", "dry", "stick"), (Fill("*", "height_mm", "length"),)),
    Measure("pond-survey", "by length and width at several depths",
            ("basin.areas", "basin.shape"), _ROWS,
            (Fill("areas", "areas"), Fill("shape", "", text="table"))),
    Measure("side-slope", "by how far a side comes in", ("basin.side_slope",),
            ("inwards", "down"), (Fill("side_slope", "side_slope"),)),
    Measure("flow-by-bucket", "by bucket and stopwatch", ("source.flow",),
            ("volume", "time"), (Fill("flow", "flow_l_per_min", "flow"),)),
    Measure("watched-release", "by watching one barrel run out", ("barrel.fittings",),
            ("depth_start", "depth_end", "time"), (Fill("fittings", "fittings"),),
            {**_VESSEL, "outlet": "outlet", "drop": "drop", "bore": "pipe_bore",
             "pipe_length": "pipe_length"}),
    Measure("roof-area", "by the roof's sides", ("roof.area", "downpipe.area"),
            ("along", "across"), (Fill("area", "area_m2", "area"),)),
)  # fmt: skip
_SIZES = {
    "upright": ("shape", "diameter", "height"),
    "lying": ("shape", "diameter", "length"),
    "straight": ("shape", "width", "breadth", "height"),
}


def measure_for(table: str, key: str) -> Measure | None:
    """The way to measure that ends in this field of pond.toml; None where there is none."""
    return next((m for m in MEASURES if f"{table}.{key}" in m.serves), None)


def asked(measure: Measure) -> tuple[Input, ...]:
    """The worksheet's inputs that a form asks for."""
    inputs = {field.name: field for field in find(measure.sheet).inputs}
    return tuple(inputs[name] for name in measure.asks)


def example(measure: Measure, name: str, system: str) -> str:
    """What stands in an empty field, in the keeper's own units."""
    field = next(field for field in asked(measure) if field.name == name)
    return hint(find(measure.sheet), field, system) or "may be left out"


def work_out(
    measure: Measure, key: str, typed: Mapping[str, str], form: Mapping[str, str], system: str
) -> Worked:
    """The texts for the fields, `key` being the one that was asked from.

    `form` holds what stands in the table's fields. Raises InputError as `worksheets.run` does.
    """
    given = {name: text for name, text in typed.items() if name in measure.asks}
    wanted = _SIZES.get(form.get("shape", ""), ())
    for name, field in measure.takes.items():
        if field in _VESSEL and field not in wanted:
            continue  # a size that the shape does not use is no part of the vessel
        given[name] = form.get(field, "")
    answer = run(measure.sheet, given, gallon=system if system in ("us", "imperial") else None)
    fills = {
        (key if fill.key == "*" else fill.key): text
        for fill in measure.fills
        if (text := _text(fill, answer, given, system))
    }
    told = tuple(
        f"{result.help}: {said}"
        for result in answer.worksheet.results
        if (said := _said(result.unit, answer.results.get(result.key), system))
    )
    return Worked(fills, told)


def _text(fill: Fill, answer: Answer, given: Mapping[str, str], system: str) -> str:
    if fill.text:
        return fill.text
    if fill.result.startswith("="):
        return given.get(fill.result[1:], "").strip()
    value = answer.results.get(fill.result)
    if isinstance(value, float):
        if not fill.dimension:
            return f"{value:.3g}"
        return show(value, fill.dimension, system, rule=fill.dimension == "length")
    return value or ""


_DIMENSIONS = {"mm": "length", "L": "volume", "m2": "area", "L/min": "flow"}


def _said(unit: str, value: float | str | None, system: str) -> str:
    if value is None or isinstance(value, str):
        return value or ""
    if unit == "s":
        return show(value / 60, "time", system)
    return show(value, _DIMENSIONS[unit], system) if unit in _DIMENSIONS else f"{value:.3g}"
