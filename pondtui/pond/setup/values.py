"""One value of pond.toml, by its field's type: what tomllib gives in, the model's value out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from pondtui import units
from pondtui.pond.setup import lists, reading_limits, scalars
from pondtui.pond.setup.fields import Field

READERS: dict[str, Callable[[Field, object, str | None], Any]] = {
    "text": scalars.read_words,
    "name": scalars.read_name,
    "choice": scalars.read_choice,
    "yesno": scalars.read_yesno,
    "whole": scalars.read_whole,
    "date": scalars.read_date,
    "monthday": lambda _field, raw, _gallon: scalars.month_day(raw),
    "clock": scalars.read_clock,
    "zone": scalars.read_zone,
    "texts": lists.read_texts,
    "windows": lists.read_windows,
    "weekdays": lists.read_weekdays,
    "span": lists.read_span,
    "areas": lists.read_areas,
    "feeding": lists.read_feeding,
    "amount": lists.read_amount_of,
    "devices": lists.read_devices,
    "twelve": lists.read_twelve,
    "reorder": lists.read_reorder,
}


def read_value(field: Field, raw: object, gallon: str | None) -> Any:
    """The value of a field as the model keeps it.

    Raises InputError with the part of the sentence that follows `barrel "yard": outlet: `.
    """
    if field.type.startswith("column:"):
        return lists.read_column(field, raw)
    if field.type.startswith("bounds:"):
        return reading_limits.read_bounds(field, raw, gallon)
    if field.type.startswith("step:"):
        return reading_limits.read_step(field, raw, gallon)
    if field.type in units.CANONICAL:
        example = field.example.strip('"')
        value = scalars.amount(field.type, raw, gallon, example, field.signed)
        scalars.check_range(field, value, units.CANONICAL[field.type])
        return value * field.scale
    return READERS[field.type](field, raw, gallon)
