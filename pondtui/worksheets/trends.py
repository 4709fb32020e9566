"""Worksheets on leaks, reserves and lines through readings."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import leaks, trends
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.sizes import above_zero, area, volume

_MOST_LINES = 20_000


def _bucket_test(values: Mapping[str, Any]) -> dict[str, float | str]:
    above_zero(values, "time")
    days = values["time"] / 1440
    test = leaks.bucket_test(
        values["pond_drop"], values["bucket_drop"], days, values["reading_error"]
    )
    surface = values["area"]
    return {
        "leak_mm_per_day": test.leak_mm_day,
        "leak_l_per_day": test.leak_mm_day * surface,
        "low_l_per_day": test.low_mm_day * surface,
        "high_l_per_day": test.high_mm_day * surface,
        "verdict": test.verdict,
    }


def _reserve_days(values: Mapping[str, Any]) -> dict[str, float | str]:
    leak_l_day = 1440 * values.get("leak", 0.0)
    days = leaks.reserve_days(values["usable"], values["area"], values["evaporation"], leak_l_day)
    if math.isinf(days):
        raise InputError("evaporation, leak: nothing is lost, so the water lasts for ever")
    return {"days": days}


def _points(text: str) -> tuple[list[float], list[float]]:
    """x and y of a CSV text; a first line of words is a heading. Raises InputError."""
    rows: list[tuple[float, float]] = []
    lines = text.removeprefix("\ufeff").split("\n")
    if len(lines) > _MOST_LINES:
        raise InputError(f"file: at most {_MOST_LINES} lines, not {len(lines)}")
    first = True
    for number, line in enumerate(lines, 1):
        if not line.strip() or line.startswith("#"):
            continue
        pair = _pair([cell.strip(' \t\r"') for cell in line.split(",")])
        if pair is None and not first:
            said = line.strip()[:60]
            raise InputError(f"file: line {number}: two numbers such as 3.5,7.25, not {said}")
        if pair is not None:
            rows.append(pair)
        first = False
    return [x for x, _ in rows], [y for _, y in rows]


def _pair(cells: list[str]) -> tuple[float, float] | None:
    """The two numbers of a line, or None."""
    if len(cells) != 2 or not all(cell.isascii() and "_" not in cell for cell in cells):
        return None
    try:
        x, y = float(cells[0]), float(cells[1])
    except ValueError:
        return None
    return (x, y) if math.isfinite(x) and math.isfinite(y) else None


def _trend(values: Mapping[str, Any]) -> dict[str, float | str]:
    x, y = _points(values["file"])
    line = trends.least_squares(x, y, values["confidence"])
    median = trends.theil_sen(x, y, values["confidence"])
    return {
        "slope": line.slope,
        "intercept": line.intercept,
        "slope_low": line.slope_low,
        "slope_high": line.slope_high,
        "intercept_low": line.intercept_low,
        "intercept_high": line.intercept_high,
        "slope_se": line.slope_se,
        "intercept_se": line.intercept_se,
        "sen_slope": median.slope,
        "sen_low": median.low,
        "sen_high": median.high,
    }


def _drop(name: str, text: str) -> Input:
    return Input(name, "length", text, None, -10_000, 10_000, signed=True)


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="bucket-test",
        group="leak",
        title="Leak or evaporation: pond against bucket",
        inputs=(
            _drop("pond_drop", "fall of the pond"),
            _drop("bucket_drop", "fall in the bucket standing in the pond"),
            Input("time", "time", "length of the test; three days see four times less", low=0),
            area("area", "surface of the pond", required=True),
            Input("reading_error", "length", "usual error of one reading", "1 mm", 0, 100),
        ),
        results=(
            Result("leak_mm_per_day", "mm/day", "loss that the bucket did not have"),
            Result("leak_l_per_day", "L/day", "the same as water"),
            Result("low_l_per_day", "L/day", "lower end of its 95 % interval"),
            Result("high_l_per_day", "L/day", "upper end of its 95 % interval"),
            Result("verdict", "", "leak, none found or inconclusive"),
        ),
        formula="leak = (pond − bucket) / days, ± 1.96 × 2 × error / days",
        source="bucket test, common practice; Glanville et al. (2001) Trans. ASAE 44:1609-1616",
        cautions=(
            "With 1 mm of reading error the smallest leak it sees is 3.9 mm/day in 24 h and "
            "1.3 mm/day in 72 h.",
            "Net the bucket against animals, no rain; pump first on, then off.",
        ),
        example={"pond_drop": "21 mm", "bucket_drop": "12 mm", "time": "72 h", "area": "8 m2"},
        compute=_bucket_test,
    ),
    Worksheet(
        name="reserve-days",
        group="leak",
        title="How long the water lasts without refilling",
        inputs=(
            volume("usable", "water down to the lowest safe level", required=True),
            area("area", "surface of the pond", required=True),
            Input("evaporation", "depth_rate", "evaporation of a day", low=0, high=100),
            Input("leak", "flow", "leak", low=0, high=1e6, required=False),
        ),
        results=(Result("days", "day", "days until the lowest safe level"),),
        formula="days = usable / (evaporation × area + leak)",
        source="volume balance",
        cautions=("Take the evaporation of a hot week, not of a mean day.",),
        example={
            "usable": "400 L",
            "area": "8 m2",
            "evaporation": "4.5 mm/day",
            "leak": "6 L/day",
        },
        compute=_reserve_days,
    ),
    Worksheet(
        name="trend",
        group="readings",
        title="A line through readings, with its interval",
        inputs=(
            Input("file", "file", "CSV with x and y, one pair a line, a heading allowed"),
            Input("confidence", "fraction", "confidence of the intervals", "95 %", 0.5, 0.999),
        ),
        results=(
            Result("slope", "", "y per x, least squares"),
            Result("intercept", "", "y where x is 0"),
            Result("slope_low", "", "lower end of the slope"),
            Result("slope_high", "", "upper end of the slope"),
            Result("intercept_low", "", "lower end of the intercept"),
            Result("intercept_high", "", "upper end of the intercept"),
            Result("slope_se", "", "standard error of the slope"),
            Result("intercept_se", "", "standard error of the intercept"),
            Result("sen_slope", "", "median of all slopes"),
            Result("sen_low", "", "lower end of the median slope"),
            Result("sen_high", "", "upper end of the median slope"),
        ),
        formula="slope = Sxy/Sxx, interval by Student's t; median of the slopes of all pairs",
        source="ordinary least squares; Sen (1968) J. Am. Stat. Assoc. 63:1379-1389",
        cautions=(
            "Levels between refills share their errors with their neighbours: the interval of a "
            "leak from such readings is too narrow here.",
        ),
        example={"file": "readings.csv", "confidence": "95 %"},
        compute=_trend,
    ),
)
