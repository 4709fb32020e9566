"""Single values of pond.toml: quantities, texts, words, days.

Every reader takes the field, what tomllib gave and the pond's gallon, and raises InputError with
the part of the sentence that follows `barrel "yard": outlet: `.
"""

from __future__ import annotations

import re
import unicodedata
from contextlib import suppress
from datetime import date, datetime

from pondtui import units
from pondtui.clean import visible
from pondtui.errors import InputError, QuantityError
from pondtui.pond.setup.fields import Field

BARE = ("number", "fraction", "angle")  # dimensions that may be written without a unit
LONGEST = 200  # characters of a text
HUGE = 10**15


def shown(raw: object) -> str:
    """A raw value as it can be repeated in a sentence: short, and nothing invisible."""
    if isinstance(raw, dict | list):
        return "a table" if isinstance(raw, dict) else "a list"
    if isinstance(raw, int) and abs(raw) > HUGE:
        return "a huge number"
    text = str(raw).lower() if isinstance(raw, bool) else str(raw)
    return visible(text if len(text) <= 60 else text[:57] + "...")


def month_day(raw: object) -> tuple[int, int]:
    """`04-01` as (4, 1). Raises InputError."""
    found = re.fullmatch(r"([0-9]{2})-([0-9]{2})", raw) if isinstance(raw, str) else None
    if found:
        with suppress(ValueError):
            day = date(2024, int(found[1]), int(found[2]))  # a leap year
            return day.month, day.day
    raise InputError(f'a month and day such as "04-01", not {shown(raw)}')


def amount(
    dimension: str, raw: object, gallon: str | None, example: str, signed: bool = False
) -> float:
    """A quantity in its canonical unit."""
    noun = units.NOUNS[dimension][0]
    if isinstance(raw, int | float) and not isinstance(raw, bool):
        if dimension not in BARE:
            raise InputError(f'{noun} with its unit, such as "{example}", not bare {shown(raw)}')
        if not abs(raw) <= units.LARGEST[dimension]:
            raise InputError(f"{noun} such as {example}, not {shown(raw)}")
        return float(raw)
    if not isinstance(raw, str) or len(raw) > LONGEST:
        raise InputError(f"{noun} such as {example}, not {shown(raw)}")
    try:
        return units.read(raw, dimension, gallon=gallon, signed=signed, example=example).value
    except QuantityError as error:
        raise InputError(str(error)) from None


def check_range(field: Field, value: float, unit: str) -> None:
    low, high = field.low, field.high
    if (low is not None and value < low) or (high is not None and value > high):
        unit = f" {unit}" if unit else ""
        least = f"{low:.9g}" if low is not None else "0"
        most = f" to {high:.9g}{unit}" if high is not None else f"{unit} or more"
        raise InputError(f"{least}{most}, not {value:.9g}{unit}")


def read_words(field: Field, raw: object, _gallon: str | None) -> str:
    if not isinstance(raw, str):
        raise InputError(f"a text in quotes such as {field.example}, not {shown(raw)}")
    if len(raw) > 4 * LONGEST:  # blanks in it do not count, but some end there is
        raise InputError(f"at most {LONGEST} characters, not {len(raw)}")
    text = visible(" ".join(unicodedata.normalize("NFC", raw).split()))
    if len(text) > LONGEST:
        raise InputError(f"at most {LONGEST} characters, not {len(text)}")
    if field.required and not text:
        raise InputError(f"a text such as {field.example}, not an empty one")
    return text


def read_name(field: Field, raw: object, gallon: str | None) -> str:
    text = read_words(field, raw, gallon)
    if ";" in text or "|" in text:
        raise InputError(f"no ; and no |, which part the fields of the journal: {text}")
    return text


def read_choice(field: Field, raw: object, _gallon: str | None) -> str:
    if raw in field.words:
        return str(raw)
    raise InputError(f"one of {', '.join(field.words)}, not {shown(raw)}{near(raw, field.words)}")


def near(raw: object, words: tuple[str, ...]) -> str:
    """`; did you mean X?` for the nearest of the words, or nothing."""
    if not isinstance(raw, str):
        return ""
    from difflib import get_close_matches  # only a mistake needs it

    plain = {word.casefold(): word for word in words}
    close = get_close_matches(raw[:60].casefold(), plain, 1)
    return f"; did you mean {plain[close[0]]}?" if close else ""


def read_yesno(_field: Field, raw: object, _gallon: str | None) -> bool:
    if isinstance(raw, bool):
        return raw
    raise InputError(f"true or false, without quotes, not {shown(raw)}")


def read_whole(field: Field, raw: object, _gallon: str | None) -> int:
    if isinstance(raw, bool) or not isinstance(raw, int):
        raise InputError(f"a whole number such as {field.example}, not {shown(raw)}")
    if abs(raw) > HUGE:
        raise InputError(f"a whole number such as {field.example}, not {shown(raw)}")
    check_range(field, raw, "")
    return raw


def read_date(_field: Field, raw: object, _gallon: str | None) -> date:
    if isinstance(raw, date) and not isinstance(raw, datetime):
        return raw
    try:
        if isinstance(raw, str) and re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", raw):
            return date.fromisoformat(raw)
    except ValueError:
        raise InputError(f"there is no day {raw}") from None
    raise InputError(f"a day such as 2026-05-20, not {shown(raw)}")


def read_clock(_field: Field, raw: object, _gallon: str | None) -> str:
    if isinstance(raw, str) and re.fullmatch("([01][0-9]|2[0-3]):[0-5][0-9]", raw):
        return raw
    raise InputError(f'a time of day such as "09:00", not {shown(raw)}')


def read_zone(_field: Field, raw: object, _gallon: str | None) -> str:
    from zoneinfo import ZoneInfo, available_timezones

    if not isinstance(raw, str) or len(raw) > LONGEST:
        raise InputError(f'a time zone such as "Europe/Brussels", not {shown(raw)}')
    try:
        return ZoneInfo(raw).key
    except (KeyError, ValueError, OSError):  # unknown, malformed, or a folder such as "Europe"
        from difflib import get_close_matches

        names = {name.casefold(): name for name in available_timezones()}
        close = get_close_matches(raw.casefold(), names, 1)
        hint = f"; did you mean {names[close[0]]}?" if close else ""
        raise InputError(f"there is no time zone {shown(raw)}{hint}") from None
