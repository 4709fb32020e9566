"""The keeper's own limits of readings and the first steps of the kit, as pond.toml writes them."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from pondtui import units
from pondtui.errors import InputError, QuantityError
from pondtui.pond.setup.fields import Field
from pondtui.pond.setup.scalars import amount, check_range, read_words, shown

BASES = {"ammonia": ("N", "NH3", "NH4"), "nitrite": ("N", "NO2"), "nitrate": ("N", "NO3")}


def read_bounds(field: Field, raw: object, gallon: str | None) -> tuple[float, ...]:
    """As many limits as the example shows, from low to high."""
    dimension = field.type.removeprefix("bounds:")
    wanted = field.example.count(",") + 1
    if not isinstance(raw, list) or len(raw) != wanted:
        many = "one limit" if wanted == 1 else f"{wanted} limits from low to high"
        raise InputError(f"{many} such as {field.example}, not {shown(raw)}")
    sample = field.example.strip("[]").split(",")[0].strip('" ')
    values = tuple(_bound(dimension, item, gallon, sample) for item in raw)
    for value in values:
        check_range(field, value, units.CANONICAL[dimension])
    if any(b <= a for a, b in pairwise(values)):
        raise InputError(f"from low to high, such as {field.example}")
    return values


def _bound(dimension: str, item: Any, gallon: str | None, sample: str) -> float:
    return amount(dimension, item, gallon, sample)


def read_step(field: Field, raw: object, gallon: str | None) -> str:
    """The first step of a test, kept as written: its unit and basis are the kit's own."""
    text = read_words(field, raw, gallon)
    dimension = field.type.removeprefix("step:")
    try:
        value, below, basis = units.read_measured(text, dimension, gallon=gallon)
    except QuantityError as error:
        raise InputError(str(error)) from None
    allowed = BASES.get(field.key, ())
    if below or value <= 0:
        raise InputError(f"the first step above nothing, such as {field.example}, not {text}")
    if basis not in (allowed or ("",)):
        way_out = f"as {', '.join(allowed)}" if allowed else "without a basis"
        raise InputError(f"say it {way_out}, such as {field.example}, not {text}")
    return text
