"""The list of worksheets: what a topic module registers, and where to find it by name.

A topic module holds `SHEETS: tuple[Worksheet, ...]`. The registration is all there is: the
screen, the command line, the help text and the checks of what was typed come from it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from difflib import get_close_matches
from importlib import import_module
from typing import Any

from pondtui.errors import InputError
from pondtui.records import NamedTuple

MODULES = (
    "barrels",
    "measuring",
    "pipes",
    "basins",
    "rain",
    "evaporation",
    "mixing",
    "safety",
    "chlorine",
    "ammonia",
    "oxygen",
    "carbonate",
    "nitrogen",
    "salts",
    "exchange",
    "automation",
    "trends",
)


class Input(NamedTuple):
    """One value that a worksheet asks for."""

    name: str  # as typed before the "="
    # A dimension of units.py ("volume", "length", ...), several joined by "|" (the one that was
    # read comes as NAME_dimension), or choice, yesno, date, number, text, areas,
    # concentration_basis (a stated basis, "0.5 mg/L as N", fills the input `basis` or `from`).
    kind: str
    help: str
    default: str | None = None  # as typed by a keeper, such as "10 %"
    low: float | None = None  # canonical unit, inclusive
    high: float | None = None  # canonical unit, inclusive
    words: tuple[str, ...] = ()  # for choice
    required: bool = True
    signed: bool = False  # negative allowed: latitude, altitude, differences
    # Defaults that follow the pond's gallon, ("us", ...) and ("imperial", ...).
    by_gallon: tuple[tuple[str, str], ...] = ()


class Result(NamedTuple):
    """One value that a worksheet answers."""

    key: str  # JSON key, unit included
    unit: str  # unit word, "" for plain numbers and words; "degC or mg/L": as the input was typed
    help: str


class Worksheet(NamedTuple):
    """One calculation with everything a person needs to trust it."""

    name: str
    group: str  # heading in the list
    title: str
    inputs: tuple[Input, ...]
    results: tuple[Result, ...]
    formula: str  # one line
    source: str  # several joined by "; "
    cautions: tuple[str, ...]
    example: Mapping[str, str]  # worked example as typed inputs
    # Gets canonical values by input name; inputs that were left out are missing keys.
    compute: Callable[[Mapping[str, Any]], dict[str, float | str]]


def sheets() -> Iterator[Worksheet]:
    """Every worksheet, in the order of the modules; a module is imported when it is reached."""
    for module in MODULES:
        yield from import_module(f"pondtui.worksheets.{module}").SHEETS


def find(name: str) -> Worksheet:
    """The worksheet of this name. Raises InputError naming the nearest one."""
    names = []
    for sheet in sheets():
        if sheet.name == name:
            return sheet
        names.append(sheet.name)
    near = get_close_matches(name, names, 1)
    hint = f"did you mean {near[0]}?" if near else "`pondtui worksheet` lists them"
    raise InputError(f"there is no worksheet {name!r}; {hint}")
