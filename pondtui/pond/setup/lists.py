"""Lists and rows of pond.toml: surveys, measuring devices, feeding bands, weather columns.

Readers as in `scalars`; rows are named in the sentence.
"""

from __future__ import annotations

import re
from typing import Any

from pondtui import units
from pondtui.errors import InputError, QuantityError
from pondtui.pond.setup import windows
from pondtui.pond.setup.columns import scale_of
from pondtui.pond.setup.fields import Field
from pondtui.pond.setup.model import Device
from pondtui.pond.setup.scalars import amount, check_range, month_day, read_words, shown


def _list(raw: object, what: str, length: int | None = None) -> list[Any]:
    if not isinstance(raw, list) or (length is not None and len(raw) != length):
        raise InputError(f"{what}, not {shown(raw)}")
    return raw


def read_texts(field: Field, raw: object, gallon: str | None) -> tuple[str, ...]:
    items = _list(raw, f"a list of texts such as {field.example}")
    return tuple(read_words(field, item, gallon) for item in items)


def read_windows(field: Field, raw: object, gallon: str | None) -> tuple[str, ...]:
    items = _list(raw, f"a list of texts such as {field.example}")
    for item in items:
        if not isinstance(item, str):
            raise InputError(f"a list of texts such as {field.example}, not {shown(item)} in it")
        windows.parse(read_words(field, item, gallon))
    return tuple(items)


def read_weekdays(_field: Field, raw: object, _gallon: str | None) -> tuple[str, ...]:
    items = _list(raw, 'a list of weekdays such as ["sat"]')
    days = tuple(str(item).casefold() if isinstance(item, str) else "" for item in items)
    for item, day in zip(items, days, strict=True):
        if day not in windows.WEEKDAYS:
            raise InputError(f"weekdays of {', '.join(windows.WEEKDAYS)}, not {shown(item)}")
    return days


def read_span(_field: Field, raw: object, _gallon: str | None) -> tuple[tuple[int, int], ...]:
    first, last = _list(raw, 'first and last day such as ["04-01", "10-31"]', 2)
    return month_day(first), month_day(last)


def _rows(field: Field, raw: object, length: int) -> list[list[Any]]:
    rows = _list(raw, f"rows such as {field.example}")
    return [_list(row, f"row {n}: {length} values, as in {field.example}", length)
            for n, row in enumerate(rows, 1)]  # fmt: skip


def read_areas(field: Field, raw: object, gallon: str | None) -> tuple[tuple[float, float], ...]:
    return tuple(
        (_cell(n, "length", depth, gallon, "200 mm"), _cell(n, "area", area, gallon, "0.7 m2"))
        for n, (depth, area) in enumerate(_rows(field, raw, 2), 1)
    )


def _cell(row: int, dimension: str, raw: object, gallon: str | None, example: str) -> float:
    try:
        return amount(dimension, raw, gallon, example)
    except InputError as error:
        raise InputError(f"row {row}: {error}") from None


def read_feeding(field: Field, raw: object, gallon: str | None) -> tuple[tuple[float, ...], ...]:
    rows = []
    for n, (low, high, every) in enumerate(_rows(field, raw, 3), 1):
        cold = _cell(n, "temperature", low, gallon, "10 degC")
        warm = _cell(n, "temperature", high, gallon, "15 degC")
        pause = _cell(n, "time", every, gallon, "3 d")
        if warm <= cold or pause <= 0:
            raise InputError(f"row {n}: from a colder to a warmer temperature, every some hours")
        rows.append((cold, warm, pause))
    return tuple(rows)


def volume_or_mass(raw: object, gallon: str | None) -> tuple[str, float]:
    """("mL", millilitres) or ("g", grams) of an amount of conditioner. Raises InputError."""
    try:
        return "mL", amount("volume", raw, gallon, "20 mL") * 1e3
    except InputError as error:
        try:
            return "g", amount("mass", raw, gallon, "5 g")
        except InputError:
            raise error from None


def read_amount_of(_field: Field, raw: object, gallon: str | None) -> tuple[str, float]:
    unit, value = volume_or_mass(raw, gallon)
    if value <= 0:
        raise InputError(f"more than nothing, not {shown(raw)}")
    return unit, value


def read_devices(field: Field, raw: object, gallon: str | None) -> tuple[tuple[str, Device], ...]:
    """Devices, each with the unit of its marks: the conditioner says which one it needs."""
    devices = []
    for n, (name, holds, mark) in enumerate(_rows(field, raw, 3), 1):
        try:
            name = read_words(field._replace(required=True, example='"syringe"'), name, gallon)
            (unit, most), (other, step) = (volume_or_mass(cell, gallon) for cell in (holds, mark))
        except InputError as error:
            raise InputError(f"row {n}: {error}") from None
        if unit != other or not 0 < step <= most:
            raise InputError(f"row {n}: the mark of the {name}, {shown(mark)}, must be of what it "
                             f"holds, {shown(holds)}")  # fmt: skip
        devices.append((unit, Device(name, most, step)))
    return tuple(devices)


def read_twelve(field: Field, raw: object, gallon: str | None) -> tuple[float, ...]:
    items = _list(raw, "twelve numbers, January to December", 12)
    values = tuple(amount("number", item, gallon, "95") for item in items)
    for value in values:
        check_range(field, value, "mm")
    return values


def read_reorder(field: Field, raw: object, gallon: str | None) -> str:
    """Kept as written, since its unit is the item's own."""
    if isinstance(raw, int) and not isinstance(raw, bool) and 0 <= raw < 1e9:
        return str(raw)
    text = read_words(field, raw, gallon)
    for dimension in ("volume", "mass", "number"):
        try:
            units.read(text, dimension, gallon=gallon)
            return text
        except QuantityError:
            continue
    raise InputError(f"an amount such as 150 mL, 200 g or 2, not {shown(raw)}")


def read_column(field: Field, raw: object) -> str:
    """A column's header, with the unit of its numbers in brackets but for the date."""
    text, dimension = read_words(field, raw, None), field.type.removeprefix("column:")
    unit = re.search(r"\[([^\[\]]*)\]$", text)
    if not dimension:
        return text
    if not unit:
        raise InputError(f"a header with its unit such as {field.example}, not {shown(raw)}")
    try:
        scale_of(unit[1], dimension)
    except QuantityError as error:
        raise InputError(f"{error}; write a header with its unit such as {field.example}") from None
    return text
