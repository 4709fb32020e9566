"""Bucket tests, what a test can see, and reserves."""

from __future__ import annotations

import math
import random

import pytest

from pondtui.science import leaks


def test_a_bucket_test_subtracts_what_the_bucket_lost() -> None:
    # constructed: 12 mm against 7 mm in a day off 8 m2 is 40 L/day
    result = leaks.bucket_test(12, 7, 1)
    assert result.leak_mm_day * 8 == pytest.approx(40)
    assert result.verdict == "leak"


@pytest.mark.parametrize(("hours", "smallest"), [(24, 3.9), (72, 1.3)])
def test_the_smallest_leak_a_test_can_see_shrinks_with_time(hours: float, smallest: float) -> None:
    # four readings of 1 mm each: 1.96 x 2 mm over the days
    assert leaks.bucket_test(0, 0, hours / 24).smallest_mm_day == pytest.approx(smallest, abs=0.03)


def test_a_tight_pond_is_rarely_accused() -> None:
    chance = random.Random(3)
    accused = 0
    for _ in range(4000):
        readings = [chance.gauss(0, 1) for _ in range(4)]
        pond, bucket = 15 + readings[0] - readings[1], 15 + readings[2] - readings[3]
        accused += leaks.bucket_test(pond, bucket, 3).verdict == "leak"
    assert accused / 4000 == pytest.approx(0.025, abs=0.01)


@pytest.mark.parametrize(
    ("pond", "bucket", "days", "verdict"),
    [
        (12, 7, 1, "leak"),
        (10, 7, 1, "inconclusive"),
        (21, 21, 7, "none found"),
        (10, 30, 7, "inconclusive"),  # the bucket lost more: it was disturbed or drunk from
    ],
)
def test_the_verdict_follows_the_interval(
    pond: float, bucket: float, days: float, verdict: str
) -> None:
    assert leaks.bucket_test(pond, bucket, days).verdict == verdict


def test_a_week_of_readings_sees_a_large_leak_only() -> None:
    # Student's t(0.975, 6) 1.5/sqrt(7), constructed
    assert leaks.detectable_mm_day(1.5, 7) == pytest.approx(1.3873, abs=1e-3)


def test_a_reserve_lasts_its_loss() -> None:
    # constructed: 400 L over 4.5 mm x 8 m2 + 6 L
    assert leaks.reserve_days(400, 8, 4.5, 6) == pytest.approx(9.5238, abs=1e-3)
    assert leaks.reserve_days(400, 8, 0) == math.inf


def test_numbers_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="time of the test"):
        leaks.bucket_test(1, 1, 0)
    with pytest.raises(ValueError, match="plain numbers"):
        leaks.bucket_test(math.nan, 1, 1)
    with pytest.raises(ValueError, match="two days"):
        leaks.detectable_mm_day(1, 1)
    with pytest.raises(ValueError, match="area"):
        leaks.reserve_days(100, 0, 1)
