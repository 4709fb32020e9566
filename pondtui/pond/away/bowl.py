"""Litres and levels of the pond in a table, so that thousands of levels can be worked out quickly.

Levels are on the scale of `reading_up`: larger is higher, whichever way the gauge reads.
"""

from __future__ import annotations

from bisect import bisect_right
from datetime import date

from pondtui.pond.setup.model import Setup
from pondtui.pond.setup.shapes import bottom_mm
from pondtui.pond.water.levels import (
    area_m2_at,
    draindown_l,
    floating,
    litres_between,
    open_area_m2,
    reading_mm,
    reading_up,
)

_ROWS = 120
_ABOVE_MM = 100.0  # of the highest mark


class Bowl:
    """The basin that floats on one day. Raises InputError where none does."""

    def __init__(self, setup: Setup, day: date) -> None:
        basin = floating(setup, day)
        self._setup, self._day = setup, day
        self.bottom_up = reading_up(setup, reading_mm(setup, basin, bottom_mm(basin)))
        marks = [reading_up(setup, m.reading_mm) for m in setup.marks]
        top = max([reading_up(setup, basin.top_at_mm), *marks]) + _ABOVE_MM
        step = (top - self.bottom_up) / _ROWS
        self._ups = [self.bottom_up + n * step for n in range(_ROWS + 1)]
        low = reading_up(setup, self.bottom_up)
        self._litres = [litres_between(setup, low, reading_up(setup, up), day) for up in self._ups]
        spills = [reading_up(setup, m.reading_mm) for m in setup.marks_of("spill")]
        self.spill_up = min(spills, default=top)

    def after(self, up: float, litres: float) -> float:
        """The level after litres were added; negative: taken."""
        wanted = _between(self._ups, self._litres, up) + litres
        return _between(self._litres, self._ups, wanted)

    def litres(self, low_up: float, high_up: float) -> float:
        """Litres between two levels."""
        at = [_between(self._ups, self._litres, up) for up in (low_up, high_up)]
        return at[1] - at[0]

    def feeds(self, up: float, *, held: bool = True) -> float:
        """Surface that rain falls on and that evaporates, per surface of the floating basin; of
        that basin alone without the `held` ones."""
        reading = reading_up(self._setup, up)
        own = area_m2_at(self._setup, reading, self._day)
        if own <= 0:
            return 1.0
        if held:
            return open_area_m2(self._setup, reading, self._day) / own
        return 1.0 / floating(self._setup, self._day).water_share

    def ceiling_up(self) -> float:
        """Up to where a visit may fill: under the lowest edge that spills or seeps, the gauge's
        error and what runs back when the pump stops taken off; never above the target mark where
        that is the lower one."""
        setup = self._setup
        edges = [reading_up(setup, m.reading_mm) for m in setup.marks_of("spill", "seep")]
        edge = min(edges, default=self._ups[-1])
        safe = self.after(edge, -draindown_l(setup, self._day)) - setup.gauge.error_mm
        targets = [reading_up(setup, m.reading_mm) for m in setup.marks_of("target")]
        return min([safe, *targets])


def _between(xs: list[float], ys: list[float], x: float) -> float:
    """Linear between the rows of a rising table; its ends beyond them."""
    if x <= xs[0]:
        return ys[0]
    if x >= xs[-1]:
        return ys[-1]
    row = bisect_right(xs, x)
    share = (x - xs[row - 1]) / (xs[row] - xs[row - 1])
    return ys[row - 1] + share * (ys[row] - ys[row - 1])
