"""Entries that can be told apart, and what must be true of a journal's bytes afterwards."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from zoneinfo import ZoneInfo

from pondtui.books.lines import make
from pondtui.pond.state.entry import Entry

ZONE = ZoneInfo("Europe/Brussels")
BEGIN = 1_780_300_800  # 2026-06-01 08:00 UTC
NAME = "2026-desk.txt"


def entry(number: int, said: str = "kept") -> Entry:
    """The entry of that number; no two have the same text; lengths vary."""
    fields = {"reading": f"{number % 211} mm", "pump": "on", "by": "MO"}
    note = f"{said} {number} " + "x" * (number * 7 % 60)
    return make("level", fields, note, BEGIN + number, ZONE, None)


def broken_promises(data: bytes, before: bytes, acknowledged: Iterable[bytes]) -> list[str]:
    """What is wrong with a journal's bytes: an earlier byte changed, a line lost or doubled."""
    wrong = [] if data.startswith(before) else ["bytes that stood there have changed"]
    count = Counter(data.split(b"\n"))
    wrong += [f"lost: {line!r}" for line in acknowledged if not count[line]]
    return wrong + [f"doubled: {line!r}" for line in acknowledged if count[line] > 1]
