"""A dose as it is measured: rounded up to a mark and said in the keeper's own devices."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pondtui.pond.setup.model import Device
from pondtui.records import NamedTuple

# A device suits an amount when rounding up to its mark adds no more than this: common practice,
# no source. A coarser device would save measurings at the price of a needless overdose.
SUITED = 0.05
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


class _Way(NamedTuple):
    """One way to measure an amount: whole devices and a rest, in one device's marks."""

    device: Device
    measured: float
    full: int
    rest: float

    @property
    def measurings(self) -> int:
        return self.full + (self.rest > 0)


def in_devices(amount: float, devices: Sequence[Device], unit: str = "mL") -> tuple[float, str]:
    """(amount to measure, how): 24.3 with a 20 mL syringe is (24.5, "one full 20 mL syringe +
    4.5 mL").

    Rounded up to the mark, never down. Of the devices whose mark suits the amount the one that
    needs the fewest measurings is taken, among equals the finest; where none suits, the finest of
    all. Without devices the amount itself is given, and told rounded up to a tenth.
    """
    if amount <= 0:
        return 0.0, f"0 {unit}"
    if not devices:
        return amount, f"{_number(to_tenth(amount))} {unit}"
    ways = [_way(amount, device) for device in devices]
    suited = [way for way in ways if way.measured <= amount * (1 + SUITED)]
    if suited:
        best = min(suited, key=lambda way: (way.measurings, way.device.step, way.device.holds))
    else:
        best = min(ways, key=lambda way: (way.device.step, way.measurings))
    return best.measured, _told(best, unit)


def to_tenth(amount: float) -> float:
    """Rounded up to a tenth: what a dose is where no device with marks is described."""
    return _up(amount, 0.1)


def _way(amount: float, device: Device) -> _Way:
    measured = _up(amount, device.step)
    full = math.floor(measured / device.holds + 1e-9)
    # The rest is measured on its own, from zero: its marks count from the empty device.
    rest = _up(max(amount - full * device.holds, 0.0), device.step)
    if full and rest >= device.holds:
        full, rest = full + 1, 0.0
    return _Way(device, full * device.holds + rest, full, rest)


def _up(amount: float, step: float) -> float:
    """Rounded up to a multiple of the step; a rounding error is no reason for one more."""
    steps = math.ceil(amount / step - 1e-9)
    return float(f"{steps * step:.9g}")


def _told(way: _Way, unit: str) -> str:
    device = way.device
    name = f"{_number(device.holds)} {unit} {device.name}"
    if not way.full:
        return f"{_number(way.rest)} {unit} in the {name}"
    count = _COUNTS[way.full] if way.full < len(_COUNTS) else str(way.full)
    fulls = f"{count} full {name if way.full == 1 else _plural(name)}"
    return f"{fulls} + {_number(way.rest)} {unit}" if way.rest else fulls


def _plural(name: str) -> str:
    return name + ("es" if name.endswith(("s", "x", "ch", "sh")) else "s")


def _number(value: float) -> str:
    return f"{value:.6g}"
