"""Is it a leak? The bucket test, what a test can see, and how long a reserve lasts."""

from __future__ import annotations

import math

from pondtui.records import NamedTuple
from pondtui.science.ranges import not_negative, positive
from pondtui.science.trends import normal_quantile, t_quantile

SMALL_MM_DAY = 1.0  # a loss that lies surely below this is called none


class BucketTest(NamedTuple):
    """What a bucket test says, 95 % interval; below zero the bucket lost more than the pond."""

    leak_mm_day: float
    low_mm_day: float
    high_mm_day: float
    smallest_mm_day: float  # the smallest leak that this test can tell from none
    verdict: str  # leak, none found or inconclusive


def bucket_test(
    pond_drop_mm: float, bucket_drop_mm: float, days: float, reading_error_mm: float = 1.0
) -> BucketTest:
    """Leak L by a bucket of pond water standing in the pond.

    Source: common practice of bucket tests; interval from four independent readings, each with the
        reading error as its standard deviation. Glanville et al. (2001) Trans. ASAE 44:1609-1616
        found half of careful basin tests undecidable.
    Arguments: pond_drop_mm, bucket_drop_mm [mm], any sign; days [day] > 0; reading_error_mm e [mm]
        >= 0.
    Returns: L [mm/day] with its interval, and a verdict: leak when the interval lies above 0, none
        found when it holds 0 and ends below 1 mm/day, else inconclusive.
    Formula: L = (pond - bucket)/days, +- 1.96 x 2 e/days.
    Limits: no rain, no animals, bucket at the pond's temperature. ValueError outside the ranges.
    """
    positive(days, "the time of the test")
    not_negative(reading_error_mm, "the reading error")
    leak = (pond_drop_mm - bucket_drop_mm) / days
    if not math.isfinite(leak):
        raise ValueError("the drops must be plain numbers")
    reach = normal_quantile(0.975) * 2 * reading_error_mm / days
    low, high = leak - reach, leak + reach
    if low > 0:
        verdict = "leak"
    elif low <= 0 <= high < SMALL_MM_DAY:
        verdict = "none found"
    else:
        verdict = "inconclusive"
    return BucketTest(leak, low, high, reach, verdict)


def detectable_mm_day(daily_sd_mm: float, days: int) -> float:
    """Smallest steady loss d that a row of daily losses can tell from none.

    Source: Student's interval of a mean.
    Arguments: daily_sd_mm s [mm/day] >= 0, scatter of daily losses after evaporation is taken off;
        days n [-], 2 or more.
    Returns: d [mm/day].
    Formula: d = t(0.975, n - 1) s/sqrt(n).
    Limits: independent days; neighbouring levels share a reading and are not. ValueError outside
        the ranges.
    """
    not_negative(daily_sd_mm, "the scatter")
    if days < 2:
        raise ValueError(f"at least two days are needed, not {days}")
    return t_quantile(0.975, days - 1) * daily_sd_mm / math.sqrt(days)


def reserve_days(
    usable_l: float, area_m2: float, evaporation_mm_day: float, leak_l_day: float = 0.0
) -> float:
    """Time T that the usable water lasts without refilling.

    Source: volume balance.
    Arguments: usable_l V [L] >= 0, down to the lowest safe level; area_m2 A [m2] > 0;
        evaporation_mm_day E [mm/day] >= 0; leak_l_day Q [L/day] >= 0.
    Returns: T [day]; infinite when nothing is lost.
    Formula: T = V/(E A + Q).
    Limits: no rain, area and loss as they are. ValueError outside the ranges.
    """
    not_negative(usable_l, "the usable water")
    positive(area_m2, "the area")
    not_negative(evaporation_mm_day, "the evaporation")
    not_negative(leak_l_day, "the leak")
    loss = evaporation_mm_day * area_m2 + leak_l_day
    return usable_l / loss if loss > 0 else math.inf
