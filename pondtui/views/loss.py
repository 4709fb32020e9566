"""The loss of some days as text for people and as JSON; its keys are a promise."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.pond.water.loss import (
    INCONCLUSIVE,
    MORE_READINGS,
    NONE_FOUND,
    STEADY_LOSS,
    Loss,
)
from pondtui.pond.water.loss_model import Interval
from pondtui.units import show
from pondtui.views.words import count

_WIDTH = 24
_MEANING = {
    STEADY_LOSS: "animals, splash, falls or a leak: a bucket test or a pump-off comparison tells",
    NONE_FOUND: "what the level loses follows the weather",
    INCONCLUSIVE: "these readings and this weather do not decide it",
    MORE_READINGS: "the interval is still too wide",
}


def as_json(loss: Loss, setup: Setup) -> dict[str, Any]:
    """The answer by its keys; null where the readings carry no number."""
    return {
        **_three("site_factor", "", loss.site_factor),
        **_three("steady", "mm_per_day", loss.steady),
        **_three("steady", "l_per_day", loss.steady_l),
        "confidence": loss.confidence,
        "verdict": loss.verdict,
        "more_readings": loss.more_readings,
        "changed_on": loss.changed_on.isoformat() if loss.changed_on else None,
        "allowance_mm_per_day": loss.allowance_mm,
        "runs": [
            {
                "from": _stamp(setup, run[0].start.instant),
                "to": _stamp(setup, run[-1].end.instant),
                "readings": len(run) + 1,
            }
            for run in loss.runs
        ],
        "left_out": [
            {
                "from": _stamp(setup, out.since),
                "to": _stamp(setup, out.until),
                "reason": out.reason,
            }
            for out in loss.left_out
        ],
        "around": _around(loss),
        "seeping": [
            {
                "mark": s.mark,
                "above_mm_per_day": s.above.value,
                "below_mm_per_day": s.below.value,
                "difference_low": s.difference.low,
                "difference_high": s.difference.high,
            }
            for s in loss.seeping
        ],
    }


def _three(name: str, unit: str, interval: Interval | None) -> dict[str, float | None]:
    """A value with its bounds: `steady_mm_per_day`, `steady_low_mm_per_day`, ..."""
    value, low, high = interval or (None, None, None)
    names = (f"{name}{part}_{unit}".rstrip("_") for part in ("", "_low", "_high"))
    return dict(zip(names, (value, low, high), strict=True))


def _around(loss: Loss) -> dict[str, float] | None:
    if loss.around is None:
        return None
    return {
        "before_mm_per_day": loss.around.before.value,
        "after_mm_per_day": loss.around.after.value,
        "difference_low": loss.around.difference.low,
        "difference_high": loss.around.difference.high,
    }


def lines(loss: Loss, setup: Setup, first: date, last: date, event: int | None = None) -> list[str]:
    """The answer for people, aligned."""
    readings = sum(len(run) + 1 for run in loss.runs)
    days = sum(fall.days for run in loss.runs for fall in run)
    told = f"{count(readings, 'reading')} in {count(len(loss.runs), 'unbroken run')}"
    found = [f"Loss from {first} to {last}: {told}, {days:.0f} days"]
    found += [f"  {name:<{_WIDTH}}{text}" for name, text in _rows(loss, setup, event)]
    if loss.left_out:
        found.append("left out")
        found += [f"  {_span(setup, out.since, out.until)}  {out.reason}" for out in loss.left_out]
    return found


def _rows(loss: Loss, setup: Setup, event: int | None) -> Iterator[tuple[str, str]]:
    if loss.site_factor:
        yield "follows the weather", f"site factor {_bounds(loss.site_factor)}"
    if loss.steady and loss.steady_l:
        yield "does not follow it", f"{_rate(setup, loss.steady)} a day"
        yield "", f"{_rate(setup, loss.steady_l, 'volume')} a day"
    more = f", {count(loss.more_readings, 'reading')} more" if loss.more_readings else ""
    yield "verdict", f"{loss.verdict}{more}: {_MEANING[loss.verdict]}"
    if loss.allowance_mm:
        allowed = _mm(setup, loss.allowance_mm)
        yield "allowed for weather", f"{allowed} a day either way, within the interval"
    if loss.changed_on:
        yield "changed", f"about {loss.changed_on}: look at the days before and after it alone"
    yield from _compared(loss, setup, event)
    if loss.plain_mm_per_day:
        slope = _mm(setup, loss.plain_mm_per_day)
        yield "plain check", f"{slope} a day (Theil-Sen, the site factor taken as it stands)"
    if loss.influence and loss.steady:
        without = loss.steady.value + loss.influence.shift_mm_per_day
        at = local_time(setup, loss.influence.level.instant)
        text = f"without that of {at:%Y-%m-%d %H:%M} it would be {_mm(setup, without)} a day"
        yield "the weightiest reading", text


def _compared(loss: Loss, setup: Setup, event: int | None) -> Iterator[tuple[str, str]]:
    if loss.around:
        yield "before", f"{_rate(setup, loss.around.before)} a day"
        yield "after", f"{_rate(setup, loss.around.after)} a day"
        yield "difference", f"{_rate(setup, loss.around.difference)} a day"
    elif event is not None:
        yield "before and after", "too few readings on one side of the event"
    for seeping in loss.seeping:
        yield f"above {seeping.mark}", f"{_rate(setup, seeping.above)} a day"
        yield f"below {seeping.mark}", f"{_rate(setup, seeping.below)} a day"
        yield "difference", f"{_rate(setup, seeping.difference)} a day"


def _bounds(interval: Interval) -> str:
    return f"{interval.value:.2f} ({interval.low:.2f} to {interval.high:.2f})"


def _rate(setup: Setup, interval: Interval, dimension: str = "length") -> str:
    value, low, high = (_amount(setup, v, dimension) for v in interval)
    return f"{value} ({low} to {high})"


def _mm(setup: Setup, value: float) -> str:
    return _amount(setup, value, "length")


def _amount(setup: Setup, value: float, dimension: str) -> str:
    metric = setup.pond.units == "metric"
    digits = {"length": 1, "volume": 0}[dimension] if metric else None
    if metric and dimension == "volume" and abs(value) < 1:
        return f"{value:.1f} L".replace("-0.0", "0.0")
    return show(value, dimension, setup.pond.units, digits=digits)


def _stamp(setup: Setup, instant: int) -> str:
    return local_time(setup, instant).isoformat()


def _span(setup: Setup, since: int, until: int) -> str:
    start, end = local_time(setup, since), local_time(setup, until)
    if since == until:
        return f"{start:%Y-%m-%d %H:%M}{'':>15}"
    return f"{start:%Y-%m-%d %H:%M} to {end:%m-%d %H:%M}"
