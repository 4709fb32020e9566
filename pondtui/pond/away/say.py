"""Amounts of the sheet in the sitter's units."""

from __future__ import annotations

from pondtui.pond.setup.model import Setup
from pondtui.units import convert, show


class Say:
    """How amounts are told on this sheet, and which unit a bare number of an answer has."""

    def __init__(self, setup: Setup) -> None:
        self.system = setup.pond.units
        self.metric = self.system == "metric"
        self.down = setup.gauge.reads == "down"
        self.gallon = {"us": "US gal", "imperial": "imp gal"}.get(self.system, "")

    @property
    def length_unit(self) -> str:
        """Unit of a gauge reading."""
        return "mm" if self.metric else "in"

    @property
    def volume_unit(self) -> str:
        """Unit of water."""
        return "L" if self.metric else self.gallon

    @property
    def temp_unit(self) -> str:
        """Unit of a temperature."""
        return "degC" if self.metric else "degF"

    def gauge(self, mm: float) -> str:
        """A gauge reading, as a rule says it."""
        return show(mm, "length", self.system, digits=0 if self.metric else None, rule=True)

    def litres(self, volume_l: float) -> str:
        """A volume of water: whole litres, or gallons, few of them to a half."""
        if self.metric:
            return show(volume_l, "volume", self.system, digits=0 if volume_l >= 1 else None)
        gallons = convert(volume_l, "L", self.gallon)
        gallons = round(gallons * 2) / 2 if gallons < 100 else round(gallons)
        return f"{gallons:g} {self.gallon}"

    def bottle(self, amount: float, unit: str) -> str:
        """What a bottle holds, of mL or g: about, and a fluid in the fluid ounces of its label."""
        if unit == "mL" and not self.metric:
            unit = f"{self.gallon.split()[0]} fl oz"
            amount = convert(amount, "mL", unit)
        return f"{amount:.0f} {unit}" if amount >= 100 else f"{amount:.3g} {unit}"

    def temp(self, temp_c: float) -> str:
        """A temperature, whole degrees."""
        return show(temp_c, "temperature", self.system, digits=0)

    def minutes(self, minutes: float) -> str:
        """A time, whole minutes."""
        return show(float(max(round(minutes), 1)), "time", self.system)

    def below(self, mm: float) -> str:
        """`70 mm or more`: the readings at and below a level."""
        return f"{self.gauge(mm)} or {'more' if self.down else 'less'}"
