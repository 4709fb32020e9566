"""The options that name days: `--from` and `--to`."""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import date

from pondtui.cli.words import Call
from pondtui.errors import UsageError

_DATE = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)


def day_of(call: Call, option: str) -> date | None:
    """The date of an option; None where it is absent. Raises UsageError."""
    text = call.get(option)
    if text is None:
        return None
    if _DATE.fullmatch(text):
        with suppress(ValueError):
            return date.fromisoformat(text)
    raise UsageError(f"--{option}: a date such as 2026-06-03, not {text or 'nothing'}")


def in_order(first: date, last: date) -> None:
    """Raises UsageError where the first day comes after the last."""
    if first > last:
        raise UsageError(f"the first day, {first}, comes after the last, {last}")
