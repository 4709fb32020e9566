"""The bucket test with the pump on and off: constructed drops."""

from __future__ import annotations

import pytest

from pondtui.pond.water import bucket
from pondtui.science.leaks import BucketTest, bucket_test


def test_the_smallest_leak_is_said_beforehand() -> None:
    # four readings of 1 mm each: 1.96 x 2 mm over the days
    assert bucket.smallest_mm_day(24) == pytest.approx(3.92, abs=0.005)
    assert bucket.smallest_mm_day(72) == pytest.approx(1.31, abs=0.005)
    assert bucket.smallest_mm_day(72, 2.0) == pytest.approx(2 * bucket.smallest_mm_day(72))


def half(pond_mm: float, error_mm: float = 0.3) -> BucketTest:
    """72 h in which the bucket lost 12 mm."""
    return bucket_test(pond_mm, 12.0, 3.0, error_mm)


@pytest.mark.parametrize(
    ("on", "off", "look_at"),
    [
        (half(24.0), half(12.2), bucket.FALLS),
        (half(24.0), half(24.0), bucket.LINER),
        (half(36.0), half(24.0), bucket.BOTH),
        (half(12.2), half(12.0), bucket.NOTHING),
        (half(15.0, 2.0), half(13.0, 2.0), bucket.LONGER),
        (half(12.0), half(24.0), bucket.LINER),
    ],
)
def test_pump_on_against_pump_off_says_where_to_look(
    on: BucketTest, off: BucketTest, look_at: str
) -> None:
    assert bucket.compared(on, off).look_at == look_at


def test_the_excess_of_the_pump_has_the_interval_of_a_difference() -> None:
    test = bucket.compared(half(24.0), half(12.0))
    assert test.excess_mm_day == pytest.approx(4.0)
    assert test.high_mm_day - test.low_mm_day == pytest.approx(2 * 2**0.5 * 1.96 * 0.2, rel=1e-4)
    assert test.low_mm_day > 0


def test_a_loss_that_the_pump_only_seems_to_make_is_not_laid_on_it() -> None:
    # 1 mm more with the pump on, at 1 mm reading error
    assert "falls" not in bucket.compared(half(13.0, 1.0), half(12.0, 1.0)).look_at
