"""Inputs that many worksheets share, with limits wide enough for a bottle and for a lake."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.worksheets.registry import Input

MOST_LENGTH_MM = 1e6
MOST_AREA_M2 = 50_000.0
MOST_VOLUME_L = 1e7
MOST_FLOW_L_MIN = 1e6


def length(name: str, text: str, default: str | None = None, *, required: bool = False) -> Input:
    """A length from nothing to a kilometre."""
    return Input(name, "length", text, default, 0, MOST_LENGTH_MM, required=required)


def area(name: str, text: str, *, required: bool = False) -> Input:
    """An area up to five hectares, above nothing."""
    return Input(name, "area", text, low=1e-9, high=MOST_AREA_M2, required=required)


def volume(name: str, text: str, *, required: bool = False) -> Input:
    """A volume from nothing to ten thousand cubic metres."""
    return Input(name, "volume", text, low=0, high=MOST_VOLUME_L, required=required)


def flow(name: str, text: str, *, required: bool = False) -> Input:
    """A flow above nothing."""
    return Input(name, "flow", text, low=1e-6, high=MOST_FLOW_L_MIN, required=required)


def discharge() -> Input:
    """The discharge coefficient of a hole."""
    return Input("cd", "number", "discharge coefficient of the hole", "0.6", 0.01, 1)


def one_of(values: Mapping[str, Any], *names: str) -> str:
    """The one name of several that was given. Raises InputError for none or more than one."""
    given = [name for name in names if name in values]
    if len(given) != 1:
        wanted = " or ".join(names)
        raise InputError(f"give {wanted}" + (", not more than one of them" if given else ""))
    return given[0]


def above_zero(values: Mapping[str, Any], *names: str) -> None:
    """Refuse zero where a formula would divide by it. Raises InputError naming the input."""
    for name in names:
        if not values[name] > 0:
            raise InputError(f"{name}: must be above zero")
