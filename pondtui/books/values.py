"""The value of one field of an entry, read by the type that the table of kinds gives it."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, tzinfo
from typing import Any

from pondtui import units
from pondtui.books.stamps import parse_stamp
from pondtui.errors import InputError
from pondtui.pond.setup.reading_limits import BASES
from pondtui.pond.state.entry import Dose, Measured, Rate, Reference
from pondtui.pond.state.kinds import EXAMPLES, Field

Read = tuple[Any, str]  # the value, and a remark or ""


def read_value(field: Field, text: str, tz: tzinfo, gallon: str | None) -> Read:
    """The value of a field as written, with a remark where something had to be assumed.

    Raises InputError: one sentence that begins with the field's name.
    """
    reader = _READERS.get(field.type.partition(":")[0])
    if reader:
        return reader(field, text, tz, gallon)
    quantity = units.read(text, field.type, gallon=gallon, what=field.name)
    if field.type == "fraction" and quantity.value > 1:
        raise InputError(f"{field.name}: a share of at most 100 %, such as 40 %, not {text}")
    return quantity.value, f"{field.name}: {quantity.assumed}" if quantity.assumed else ""


def did_you_mean(word: str, known: Any) -> str:
    """`; did you mean level?`, or nothing where no known word is near."""
    from difflib import get_close_matches  # only a mistake needs it

    near = get_close_matches(word.lower(), list(known), 1, 0.6)
    return f"; did you mean {near[0]}?" if near else ""


def _measured(field: Field, text: str, _tz: tzinfo, gallon: str | None) -> Read:
    dimension = field.type.partition(":")[2]
    if field.name.startswith("chlorine"):
        text = re.sub(r" as Cl2$", "", text, flags=re.IGNORECASE)
    value, below, basis = units.read_measured(text, dimension, gallon=gallon, what=field.name)
    allowed = BASES.get(field.name, ())
    if basis and basis not in allowed:
        way_out = f"as {' or '.join(allowed)}" if allowed else "without a basis"
        raise InputError(f"{field.name}: not as {basis}, write it {way_out}")
    if field.name == "ph" and not 0 <= value <= 14:
        raise InputError(f"ph: from 0 to 14, such as 7.5, not {text}")
    if allowed and not basis:
        ways = f"{', '.join(allowed[:-1])} or {allowed[-1]}"
        remark = f"{field.name}: {text} of what? say it as {ways}, such as {text} as {allowed[0]}"
        return Measured(value, below), remark
    return Measured(value, below, basis), ""


def _dose(field: Field, text: str, _tz: tzinfo, gallon: str | None) -> Read:
    try:
        litres = units.read(
            text, "volume", gallon=gallon, what=field.name, example=EXAMPLES["dose"]
        )
    except InputError as error:
        try:
            return Dose(units.read(text, "mass").value, "g"), ""
        except InputError:
            raise error from None
    return Dose(litres.value * 1000, "mL"), f"{field.name}: {litres.assumed}" * bool(litres.assumed)


def _rate(field: Field, text: str, _tz: tzinfo, gallon: str | None) -> Read:
    amount, unit, litres = units.read_rate(text, gallon=gallon, what=field.name)
    return Rate(amount / litres, unit), ""


def _number(field: Field, text: str, _tz: tzinfo, _gallon: str | None) -> Read:
    value = units.read_number(text, field.name)
    if value < 0:
        raise InputError(f"{field.name}: a number that is not negative, such as 3, not {text}")
    return value, ""


def _whole(field: Field, text: str, _tz: tzinfo, _gallon: str | None) -> Read:
    value = units.read_number(text, field.name)
    if value < 0 or value != int(value):
        raise InputError(f"{field.name}: a whole number such as 3, not {text}")
    return int(value), ""


def _yesno(field: Field, text: str, _tz: tzinfo, _gallon: str | None) -> Read:
    if text.lower() not in ("yes", "no"):
        raise InputError(f"{field.name}: yes or no, not {text or 'nothing'}")
    return text.lower() == "yes", ""


def _word(field: Field, text: str, _tz: tzinfo, _gallon: str | None) -> Read:
    if text.lower() in field.words:
        return text.lower(), ""
    hint = did_you_mean(text, field.words) or f"; known are {', '.join(field.words)}"
    return text, f"{field.name}: {text} is not a known word{hint}"


def _phrase(_field: Field, text: str, _tz: tzinfo, _gallon: str | None) -> Read:
    return text, ""


def _date(field: Field, text: str, _tz: tzinfo, _gallon: str | None) -> Read:
    try:
        if re.fullmatch(r"\d{4}-\d\d-\d\d", text, re.ASCII):
            return date.fromisoformat(text), ""
    except ValueError:
        raise InputError(f"{field.name}: there is no {text} in the calendar") from None
    raise InputError(f"{field.name}: a date such as 2026-06-03, not {text or 'nothing'}")


def _stamp(field: Field, text: str, tz: tzinfo, _gallon: str | None) -> Read:
    try:
        instant, remark = parse_stamp(text, tz)
    except InputError as error:
        raise InputError(f"{field.name}: {error}") from None
    return instant, f"{field.name}: {remark}" if remark else ""


def _reference(field: Field, text: str, tz: tzinfo, gallon: str | None) -> Read:
    stamp, _, kind = text.rpartition(" ")
    if not re.fullmatch(r"[a-z][a-z0-9_-]*", kind):
        raise InputError(f"{field.name}: a stamp and a kind such as {EXAMPLES['reference']}")
    instant, remark = _stamp(field, stamp.strip(), tz, gallon)
    return Reference(instant, kind), remark


def _level(field: Field, text: str, _tz: tzinfo, gallon: str | None) -> Read:
    """The word `line` or a depth; any other word is kept, with a remark."""
    if text.lower() == "line":
        return "line", ""
    if text[:1].isalpha():
        return text, f"{field.name}: {text} is not a known word; write line or a depth: 856 mm"
    return units.read(text, "length", gallon=gallon, what=field.name).value, ""


_READERS: dict[str, Callable[[Field, str, tzinfo, str | None], Read]] = {
    "measured": _measured,
    "dose": _dose,
    "rate": _rate,
    "number": _number,
    "whole": _whole,
    "yesno": _yesno,
    "word": _word,
    "phrase": _phrase,
    "date": _date,
    "stamp": _stamp,
    "reference": _reference,
    "level": _level,
}
