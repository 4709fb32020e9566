"""Rain from a roof against the rainwater manuals."""

from __future__ import annotations

import pytest

from pondtui.science import rain

GALLON = 3.785411784
SQUARE_FOOT = 0.09290304


@pytest.mark.parametrize(
    ("feet2", "inches", "runoff", "gallons", "within"),
    [
        # exact: 144/231 US gal per ft2 and inch
        (1, 1, 1, 144 / 231, 1e-9),
        # Texas Manual on Rainwater Harvesting, 3rd ed. (2005) ch. 4: 0.62 gal/ft2/in in theory
        (1000, 1, 1, 620, 5),
        # Greywater Action FAQ: 2,000 ft2 at 90 %, an inch and a year of 25 in
        (2000, 1, 0.9, 1120, 5),
        (2000, 25, 0.9, 28_000, 60),
    ],
)
def test_a_roof_yields_the_printed_gallons(
    feet2: float, inches: float, runoff: float, gallons: float, within: float
) -> None:
    litres = rain.roof_catch_l(feet2 * SQUARE_FOOT, inches * 25.4, runoff)
    assert litres / GALLON == pytest.approx(gallons, abs=within)


def test_the_runoff_share_is_applied_after_the_first_flush() -> None:
    # V = A (P - f) C, constructed; the other order would give 160.0
    assert rain.roof_catch_l(20, 10, 0.85, 0.5) == pytest.approx(161.5)


def test_rain_below_the_first_flush_yields_nothing() -> None:
    assert rain.roof_catch_l(20, 0.4, 0.85, 0.5) == 0


@pytest.mark.parametrize(("inches", "feet"), [(6, 10.2), (4, 23.0)])
def test_a_standpipe_for_fifteen_gallons_has_the_printed_length(inches: float, feet: float) -> None:
    # Texas Manual on Rainwater Harvesting (2005) ch. 2 pp. 7-8
    metres = rain.standpipe_length_m(15 * GALLON, inches * 25.4)
    assert metres / 0.3048 == pytest.approx(feet, abs=0.05)


def test_a_steep_roof_sees_less_rain() -> None:
    # plane trigonometry: cos 60 deg is a half
    assert rain.plan_area_m2(4000, 5000, 0) == pytest.approx(20)
    assert rain.plan_area_m2(4000, 5000, 60) == pytest.approx(10)


def test_numbers_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="runoff share"):
        rain.roof_catch_l(20, 10, 1.2)
    with pytest.raises(ValueError, match="0 to 85 deg"):
        rain.plan_area_m2(4000, 5000, 90)
    with pytest.raises(ValueError, match="pipe"):
        rain.standpipe_length_m(10, 0)
