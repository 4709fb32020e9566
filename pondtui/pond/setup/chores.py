"""The chores of a garden pond to choose from; the first five begin a new pond.

How often is common practice, no source, but for oxygen at dawn in hot weather (UF/IFAS FA27).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError

BEGIN = 5
_LEAF_FALL = ["10-01", "12-15"]
_WARM_HALF = ["04-01", "10-31"]
CHORES: tuple[dict[str, Any], ...] = (
    {"name": "look at fish, count heads", "every": "1 d"},
    {"name": "see that pump, fall and air run", "every": "1 d"},
    {
        "name": "feed",
        "water": [
            ["10 degC", "15 degC", "3 d"],
            ["15 degC", "20 degC", "1 d"],
            ["20 degC", "28 degC", "12 h"],
        ],
    },
    {"name": "test ammonia, nitrite, pH and KH", "every": "7 d"},
    {"name": "rinse filter sponge in pond water", "every": "7 d"},
    {"name": "read level and temperature", "every": "1 d"},
    {"name": "skim, empty basket in leaf fall", "every": "1 d", "window": _LEAF_FALL},
    {"name": "skim, empty basket", "weekdays": ["mon", "wed", "sat"]},
    {
        "name": "test daily after a change",
        "after": "new-fish, medicine, filter-cleaned",
        "every": "1 d",
        "lasts": "42 d",
    },
    {"name": "test nitrate and GH", "monthly": 1},
    {"name": "oxygen at dawn", "water": [["26 degC", "40 degC", "1 d"]]},
    {"name": "clean a part of the biological filter", "every": "90 d"},
    {"name": "thin the bay's plants, clear mud (spring)", "every": "30 d",
     "window": ["03-15", "04-15"]},
    {"name": "thin the bay's plants, clear mud (autumn)", "every": "30 d",
     "window": ["11-01", "12-01"]},
    {"name": "net on", "every": "90 d", "window": ["09-25", "10-15"]},
    {"name": "net off", "every": "90 d", "window": ["12-10", "12-31"]},
    {"name": "look after animals: nets, hiding places", "every": "7 d"},
    {"name": "keep a hole in the ice", "water": [["-1 degC", "4 degC", "1 d"]]},
    {"name": "test pump, cable and RCD or GFCI", "every": "60 d"},
    {"name": "rinse the barrel, look at lid, screen, tap, stand", "monthly": 1},
    {"name": "look at the vacuum breaker", "monthly": 1},
    {"name": "rain barrels: overflow, screen, level", "after": "rain", "window": _WARM_HALF},
    {"name": "stock and dates of reagents and conditioner", "monthly": 1},
    {"name": "look at everything after a power cut", "after": "power-cut"},
)  # fmt: skip


def chosen(typed: str) -> tuple[dict[str, Any], ...]:
    """The chores of numbers such as `1-5, 8`; none typed is the first five.

    Raises InputError for what is no number of the list.
    """
    if not typed.strip():
        return tuple(dict(chore) for chore in CHORES[:BEGIN])
    if typed.strip().casefold() in ("none", "0"):
        return ()
    numbers: list[int] = []
    for part in typed.replace(",", " ").split():
        first, dash, last = part.partition("-")
        if not first.isdigit() or (dash and not last.isdigit()):
            raise InputError(f"numbers of the list such as 1-5, 8, not {part}")
        numbers += range(int(first), int(last if dash else first) + 1)
    for number in numbers:
        if not 1 <= number <= len(CHORES):
            raise InputError(f"the list has chores 1 to {len(CHORES)}, not {number}")
    return tuple(dict(CHORES[number - 1]) for number in dict.fromkeys(numbers))


def lines() -> list[str]:
    """The list with its numbers."""
    return [
        f"{number:>3} {chore['name']} ({_how(chore)})" for number, chore in enumerate(CHORES, 1)
    ]


def _how(chore: Mapping[str, Any]) -> str:
    """How often, in short."""
    if "water" in chore:
        return "by the water's temperature"
    if "after" in chore:
        return f"after {chore['after']}"
    if "weekdays" in chore:
        return ", ".join(chore["weekdays"])
    how = (
        f"day {chore['monthly']} of the month" if "monthly" in chore else f"every {chore['every']}"
    )
    return f"{how}, {' to '.join(chore['window'])}" if "window" in chore else how
