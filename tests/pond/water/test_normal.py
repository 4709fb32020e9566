"""What the weather alone takes, beside what the pond lost. Constructed: 3 mm a day in June over a
pond whose site factor is the first guess of 0.85, so 2.55 mm a day."""

from __future__ import annotations

from math import hypot, sqrt

import pytest

from pondtui.pond.water.normal import Normal, normal, surely_more
from pondtui.pond.water.recent import Recent
from tests.pond.box import POND, setup_of
from tests.pond.water.books import GUESS, budget_of

DRY = """
2026-06-10 00:00 | level | reading=50 mm
2026-06-20 00:00 | level | reading=90 mm
"""


def test_the_weather_takes_what_the_month_says_times_the_site_factor() -> None:
    found = budget_of(DRY, "2026-06-10", "2026-06-20")
    usual = normal(found)
    assert usual is not None
    assert usual.mm_per_day == pytest.approx(3 * GUESS)


def test_its_error_is_that_of_the_factor_and_the_noise_of_the_days() -> None:
    found = budget_of(DRY, "2026-06-10", "2026-06-20")
    usual = normal(found)
    assert usual is not None
    days = sum(c.length for c in found.cells[-8:])
    factor = 3 * found.losses.factor_half
    noise = 1.96 * 0.6 * GUESS / sqrt(days)  # 0.6 mm a day, each day by itself
    assert usual.error_mm_per_day == pytest.approx(hypot(factor, noise))


def test_days_of_unknown_weather_give_no_number() -> None:
    bare = setup_of(POND)  # no weather table and no monthly means
    assert normal(budget_of(DRY, "2026-06-10", "2026-06-20", setup=bare)) is None


def test_less_than_a_day_gives_no_number() -> None:
    two = "2026-06-10 08:00 | level | reading=50 mm\n2026-06-10 18:00 | level | reading=51 mm\n"
    assert normal(budget_of(two, "2026-06-10", "2026-06-10")) is None


def lost(loss: float | None, error: float | None) -> Recent:
    """A loss as the readings have it."""
    return Recent(loss, error, 8.0, 9)


def test_more_than_both_errors_together_is_surely_more() -> None:
    usual = Normal(2.5, 0.3)
    assert not surely_more(lost(2.99, 0.4), usual)  # 0.49 over, and 0.5 = hypot(0.3, 0.4)
    assert surely_more(lost(3.01, 0.4), usual)


def test_less_than_normal_is_never_more() -> None:
    assert not surely_more(lost(1.0, 0.1), Normal(2.5, 0.3))


@pytest.mark.parametrize(("loss", "error"), [(None, None), (5.0, None)])
def test_an_unknown_loss_is_never_called_more(loss: float | None, error: float | None) -> None:
    assert not surely_more(lost(loss, error), Normal(2.5, 0.3))
