"""Doses in the keeper's own devices: rounded up to the mark, said in few words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.refill.doses import SUITED, in_devices
from pondtui.pond.setup.model import Device

SYRINGE = Device("syringe", 20, 0.5)
CAP = Device("cap", 5, 5)
GLASS = Device("measuring glass", 100, 10)


@pytest.mark.parametrize(
    ("amount", "devices", "measured", "told"),
    [
        (24.3, [SYRINGE], 24.5, "one full 20 mL syringe + 4.5 mL"),
        (4.9, [SYRINGE, CAP], 5.0, "5 mL in the 20 mL syringe"),
        (19.8, [SYRINGE], 20.0, "one full 20 mL syringe"),
        (40.0, [SYRINGE], 40.0, "two full 20 mL syringes"),
        (0.1, [SYRINGE, CAP], 0.5, "0.5 mL in the 20 mL syringe"),
        (25.0, [CAP, SYRINGE], 25.0, "one full 20 mL syringe + 5 mL"),
        (14.8, [CAP], 15.0, "three full 5 mL caps"),
        # The glass needs one measuring where the syringe needs ten.
        (199.0, [SYRINGE, GLASS], 200.0, "two full 100 mL measuring glasses"),
        # But it would turn 24.3 mL into 30.
        (24.3, [GLASS, SYRINGE], 24.5, "one full 20 mL syringe + 4.5 mL"),
        # None is fine enough: the finest of them.
        (0.1, [GLASS, CAP], 5.0, "one full 5 mL cap"),
        (250.0, [SYRINGE], 250.0, "12 full 20 mL syringes + 10 mL"),
        # The marks of a 25 mL glass in tens: full is a mark too.
        (23.0, [Device("glass", 25, 10)], 25.0, "one full 25 mL glass"),
        (0.0, [SYRINGE], 0.0, "0 mL"),
    ],
)
def test_a_dose_is_said_in_devices(
    amount: float, devices: list[Device], measured: float, told: str
) -> None:
    assert in_devices(amount, devices) == (measured, told)


def test_a_dry_product_is_measured_in_its_scoop() -> None:
    assert in_devices(7.2, [Device("scoop", 5, 1)], "g") == (8.0, "one full 5 g scoop + 3 g")


def test_without_devices_the_amount_itself_is_told_rounded_up() -> None:
    assert in_devices(13.41, [], "mL") == (13.41, "13.5 mL")


def test_a_rounding_error_is_no_reason_for_one_more_mark() -> None:
    assert in_devices(0.1 + 0.2, [Device("pipette", 1, 0.1)])[0] == pytest.approx(0.3)


devices = st.lists(
    st.builds(
        lambda step, marks: Device("cup", round(step * marks, 3), step),
        st.sampled_from([0.1, 0.5, 1.0, 2.5, 5.0]),
        st.integers(1, 100),
    ),
    min_size=1,
    max_size=4,
)


@given(st.floats(0.01, 2000), devices)
def test_a_dose_is_never_less_than_needed_nor_much_more_than_the_finest_mark(
    amount: float, devices: list[Device]
) -> None:
    measured, told = in_devices(amount, devices)
    finest = min(device.step for device in devices)
    assert measured >= amount * (1 - 1e-8)
    assert measured <= max(amount * (1 + SUITED), amount + finest) + 1e-6
    assert told
