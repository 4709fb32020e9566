"""What was typed at a step: amounts whose usual unit may be left out, and the entry it becomes."""

from __future__ import annotations

import re

from pondtui import units
from pondtui.errors import QuantityError
from pondtui.pond.refill.case import Case
from pondtui.records import NamedTuple

_VOLUMES = {"metric": "L", "us": "US gal", "imperial": "imp gal"}
_METER = re.compile(r"[,;]?\s*\bmeter\s+(.+)$", re.IGNORECASE)


class Answer(NamedTuple):
    """An entry to be written, and a word of warning to be shown before it is."""

    kind: str
    fields: dict[str, str]
    note: str = ""
    warning: str = ""


def batch_fields(case: Case) -> dict[str, str]:
    """The fields that place an entry in this batch."""
    return {"barrel": case.barrel.name, "batch": case.batch.label}


def split_meter(text: str, case: Case) -> tuple[str, tuple[str, float] | None]:
    """The text before `meter 1250 L`, and the meter as written and in litres. Raises InputError."""
    found = _METER.search(text)
    if not found:
        return text, None
    written = amount_text(found[1], case, "volume")
    return text[: found.start()].strip(), (
        written,
        read_amount(written, "volume", case, "meter").value,
    )


def read_amount(text: str, dimension: str, case: Case, what: str) -> units.Quantity:
    """A quantity in the pond's gallon. Raises InputError, which names `what`."""
    return units.read(text, dimension, gallon=case.setup.gallon, what=what)


def try_amount(text: str, dimension: str, case: Case) -> units.Quantity | None:
    """The same, None where the text is no such quantity."""
    try:
        return units.read(text, dimension, gallon=case.setup.gallon)
    except QuantityError:
        return None


def amount_text(text: str, case: Case, dimension: str) -> str:
    """The text with the pond's usual unit where none was typed."""
    usual = _VOLUMES[case.setup.pond.units]
    if dimension == "length":
        usual = "mm" if case.setup.pond.units == "metric" else "in"
    return with_unit(text, usual)


def with_unit(text: str, unit: str) -> str:
    """A bare number gets the unit that is usual here; anything else stays as it was typed."""
    return f"{text} {unit}" if re.fullmatch(r"[-+<]?[0-9./ ]+", text.strip()) else text.strip()


def volume_text(litres: float, case: Case) -> str:
    """A volume for the journal, in the pond's usual unit."""
    unit = _VOLUMES[case.setup.pond.units]
    return plain(units.convert(litres, "L", unit), unit)


def plain(value: float, unit: str) -> str:
    """A number for the journal: two decimals at most, never in exponent form."""
    return f"{value:.2f}".rstrip("0").rstrip(".") + f" {unit}"
