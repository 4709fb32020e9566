"""The bucket test, pump on and pump off: what each says, and where to look next.

A bucket of pond water stands in the pond; both levels are marked, and what the pond lost more than
the bucket is no evaporation. Only this test, or pump on against pump off, may speak of a leak.
"""

from __future__ import annotations

from math import hypot

from pondtui.records import NamedTuple
from pondtui.science.leaks import BucketTest, bucket_test

USUAL_H = 72.0  # long enough to see 1.3 mm/day at 1 mm reading error
USUAL_ERROR_MM = 1.0
LEAK = "leak"

FALLS = "falls, spill edges and pipework: the water goes while the pump runs"
LINER = "the liner, down to the level at which the loss stops"
BOTH = f"{FALLS}; and {LINER}"
NOTHING = "nothing: what the pond loses is evaporation, wind and splash"
LONGER = "the same once more, for longer: the readings do not decide it"


class PumpTest(NamedTuple):
    """Both halves of the test, mm/day with 95 % intervals."""

    on: BucketTest
    off: BucketTest
    excess_mm_day: float  # lost more with the pump on
    low_mm_day: float
    high_mm_day: float
    look_at: str


def smallest_mm_day(hours: float, error_mm: float = USUAL_ERROR_MM) -> float:
    """The smallest leak that a test of so many hours can tell from none: said beforehand."""
    return bucket_test(0.0, 0.0, hours / 24, error_mm).smallest_mm_day


def compared(on: BucketTest, off: BucketTest) -> PumpTest:
    """Pump on against pump off: whether the pump's way loses water, and the pond without it."""
    excess = on.leak_mm_day - off.leak_mm_day
    reach = hypot(on.smallest_mm_day, off.smallest_mm_day)
    low, high = excess - reach, excess + reach
    return PumpTest(on, off, excess, low, high, _look_at(on, off, low > 0))


def _look_at(on: BucketTest, off: BucketTest, by_pump: bool) -> str:
    if off.verdict == LEAK:
        return BOTH if by_pump else LINER
    if by_pump:
        return FALLS
    return NOTHING if on.verdict == off.verdict == "none found" else LONGER
