"""Water tests as rows, lines and JSON: each value with its verdict, range, trend and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pondtui.pond.daily.judged import Judged
from pondtui.pond.daily.measured import value_words
from pondtui.pond.daily.readings import READINGS, sound
from pondtui.pond.daily.series import Series, Value
from pondtui.pond.daily.times import like_hours
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.records import NamedTuple
from pondtui.units import show
from pondtui.views.words import DAY_S, ago

SIGNS = {"ok": "ok", "watch": "WATCH", "act": "ACT", None: ""}
ROLES = {"ok": "good", "watch": "warn", "act": "danger", None: "text"}
TREND_S = 90 * DAY_S
MOST = 12  # values of a trend
SWINGING = ("ph", "oxygen", "temp")  # within a day, with the light
_BARS = "▁▂▃▄▅▆▇█"
_ASCII_BARS = "_.-=+*#@"
_FIELD = {"ammonia_un_ionised": "ammonia", "ammonia_limits": "ammonia"}
_DIMENSION = {"temp": "temperature", "alkalinity": "hardness"}
# unit of the JSON's values, where the table of readings does not say it
_UNITS = {
    "ammonia_limits": "mg/L as N", "carbon_dioxide": "mg/L", "hardness": "mg/L CaCO3",
    "chloride": "mg/L", "chlorine_free": "mg/L as Cl2",
}  # fmt: skip


class ReadingRow(NamedTuple):
    """One reading for a list."""

    name: str
    sign: str
    label: str
    value: str
    trend: str
    told: str
    role: str


def rows(
    setup: Setup, tests: Sequence[Judged], found: Series, now: int, *, ascii: bool = False
) -> tuple[ReadingRow, ...]:
    """The latest value of each reading with its trend; `found` are all the values."""
    return tuple(
        ReadingRow(
            row.name,
            SIGNS[row.verdict],
            row.label,
            value_words(setup, row),
            trend(of_like_hours(setup, row.name, found), now, ascii=ascii),
            told(setup, row, now),
            ROLES[row.verdict],
        )
        for row in tests
    )


def told(setup: Setup, row: Judged, now: int) -> str:
    """When it was measured, its sound range, and what stands beside it."""
    return "; ".join(w for w in (ago(row.instant, now), sound_words(setup, row), row.text) if w)


def sound_words(setup: Setup, row: Judged) -> str:
    """`sound: 7 to 8.5`, in the reading's own unit; "" where it has no range."""
    if row.name not in READINGS or row.name == "chlorine_total" or row.name.endswith("_change"):
        return ""
    low, high = sound(row.name, setup.readings)
    shown = [_shown(setup, row.name, limit) for limit in (low, high) if limit is not None]
    if low is not None and high is not None:
        return f"sound: {shown[0]} to {shown[1]}"
    return f"sound: {shown[0]} and more" if low is not None else f"sound: under {shown[0]}"


def _shown(setup: Setup, name: str, limit: float) -> str:
    if name in _DIMENSION:
        return show(limit, _DIMENSION[name], setup.pond.units)
    return f"{limit:g} {READINGS[name].unit}".strip()


def of_like_hours(setup: Setup, name: str, found: Series) -> list[Value]:
    """The values that may be set side by side: what swings with the light only at like hours."""
    values = found.get(_FIELD.get(name, name), [])
    if name not in SWINGING or not values:
        return values
    return [v for v in values if like_hours(setup, v.instant, values[-1].instant)]


def trend(values: Sequence[Value], now: int, *, ascii: bool = False) -> str:
    """The last values as bars, with a word for the latest step; "" for fewer than two."""
    recent = [v for v in values if now - v.instant <= TREND_S][-MOST:]
    if len(recent) < 2:
        return ""
    low, high = min(v.value for v in recent), max(v.value for v in recent)
    signs = _ASCII_BARS if ascii else _BARS
    span = high - low
    bars = "".join(
        signs[round((v.value - low) / span * (len(signs) - 1))] if span > 0 else signs[0]
        for v in recent
    )
    step = recent[-1].value - recent[-2].value
    word = "steady" if abs(step) <= 0.02 * max(abs(high), 1e-9) else "up" if step > 0 else "down"
    return f"{bars} {word}"


def lines(setup: Setup, tests: Sequence[Judged], found: Series, now: int, where: str) -> list[str]:
    """The tests of a place for people."""
    if not tests:
        return [f"no water test of {where} is written down: `pondtui add test where={where} ...`"]
    said = []
    shown = rows(setup, tests, found, now)
    wide = max(len(row.label) for row in shown)
    for row, test in zip(shown, tests, strict=True):
        gap = f"  {row.trend}" if row.trend else ""
        said.append(f"{row.sign:<6}{row.label:<{wide}}  {row.value}{gap}")
        said.append(f"{'':<6}{row.told}")
        if test.remedy:
            said.append(f"{'':<6}-> {test.remedy} [{test.source}]")
    return said


def as_json(setup: Setup, tests: Sequence[Judged], found: Series, where: str) -> dict[str, Any]:
    """The latest values judged, each with the values before it."""
    return {
        "where": where,
        "tests": [
            {
                "reading": row.name,
                "value": row.value,
                "unit": READINGS[row.name].unit if row.name in READINGS else _UNITS.get(row.name),
                "below_first_step": row.below,
                "low": row.low,
                "high": row.high,
                "written": row.written or None,
                "verdict": row.verdict,
                "text": row.text,
                "remedy": row.remedy or None,
                "source": row.source or None,
                "measured": _stamp(setup, row.instant),
                "values": [
                    {"at": _stamp(setup, v.instant), "value": v.value}
                    for v in found.get(_FIELD.get(row.name, row.name), [])
                ],
            }
            for row in tests
        ],
    }


def _stamp(setup: Setup, instant: int) -> str:
    return local_time(setup, instant).isoformat(" ")
