"""A sample pond as it really is: what its keepers read is this, with the error of reading."""

from __future__ import annotations

from collections import Counter
from datetime import date
from random import Random

from pondtui.pond.setup.barrels import brim_l
from pondtui.pond.setup.model import Barrel, Roof, Setup
from pondtui.pond.water.levels import (
    area_m2_at,
    is_higher,
    open_area_m2,
    reading_after,
    reading_up,
)
from pondtui.units import show
from tests.sample.tale import Tale
from tests.sample.weather import Weather, fahrenheit, open_water_mm

STEP_MM = {"metric": 1.0, "us": 25.4 / 16}  # the finest mark of the rule


class Truth:
    """Level, temperatures and rain water, day by day."""

    def __init__(self, setup: Setup, tale: Tale, rng: Random) -> None:
        self.setup, self.tale, self.rng = setup, tale, rng
        self.us = setup.pond.units == "us"
        self.day = date.min
        self.reading_mm = tale.nature.reading_mm
        self.temp_c = tale.nature.temp_c
        self.rain_l = tale.nature.rain_barrel_l
        self.over = False  # it ran out of the overflow today
        self.evaporated_mm = 0.0  # less the rain, as in a bucket that stands in the pond
        self.litres: Counter[str] = Counter()  # of each term of the water budget, since the start

    def nature(self, now: Weather) -> None:
        """What the weather of a day takes and gives."""
        pond, at, nature = self.setup.pond, self.reading_mm, self.tale.nature
        (spill,) = (mark.reading_mm for mark in self.setup.marks_of("spill"))
        lost_mm = open_water_mm(now, pond.latitude or 0.0, pond.elevation_m or 0.0) * nature.site
        steady_mm = nature.steady_on(self.day) + self._seeping_mm(at)
        wet, own = open_area_m2(self.setup, at, now.day), area_m2_at(self.setup, at, now.day)
        downpipe_l = _run_off(self.setup.downpipe, now.rain)
        terms = {"rain": now.rain * wet, "downpipe": downpipe_l,
                 "evaporation": lost_mm * wet, "steady": steady_mm * own}  # fmt: skip
        self.litres.update(terms)
        self.evaporated_mm += lost_mm - now.rain
        self.let_in(terms["rain"] + downpipe_l - terms["evaporation"] - terms["steady"])
        self.over = is_higher(self.setup, self.reading_mm, spill)
        if self.over:
            self.reading_mm = spill
        self.temp_c += 0.22 * ((now.tmin + now.tmax) / 2 + nature.warmer_c - self.temp_c)
        for barrel in self.setup.barrels:
            caught = _run_off(barrel.roof, now.rain)
            if caught:
                self.rain_l = min(self.rain_l + caught, brim_l(barrel))

    def _seeping_mm(self, at: float) -> float:
        above = (reading_up(self.setup, at) - reading_up(self.setup, mark.reading_mm)
                 for mark in self.setup.marks_of("seep"))  # fmt: skip
        return sum(max(each, 0.0) for each in above) * self.tale.nature.seeps

    def let_in(self, litres: float) -> None:
        """Water into the pond, or out of it."""
        self.reading_mm = reading_after(self.setup, self.reading_mm, litres, self.day)

    def gauge(self) -> float:
        """What is read, mm: the error is about one mark of the rule, two at the most."""
        step = STEP_MM[self.setup.pond.units]
        off = self.rng.choice((-2, -1, -1, 0, 0, 0, 0, 1, 1, 2))
        return round(self.reading_mm / step + off * (0.5 if self.us else 1.0)) * step

    def rule(self, mm: float) -> str:
        """A length as it is written down."""
        return show(mm, "length", "us", rule=True) if self.us else f"{mm:.0f} mm"

    def short(self, mm: float) -> float:
        """How far a reading lies under the mark to which the pond is filled, mm."""
        full = self.setup.marks_of("target")[0].reading_mm
        return reading_up(self.setup, full) - reading_up(self.setup, mm)

    def warmth(self, celsius: float, half: bool = False) -> str:
        """A temperature as it is written down."""
        if self.us:
            return f"{fahrenheit(celsius):.0f} degF"
        return f"{round(celsius * 2) / 2:g} degC" if half else f"{celsius:.1f} degC"

    def barrel_temp(self, barrel: Barrel) -> str:
        """Tap water that stood for an hour, or rain water that stood for days."""
        at_nine, more = self.tale.nature.mains_c
        mains = at_nine + more * (self.temp_c - 9)
        usual = self.temp_c if barrel.source == "rain" else mains + 1
        return self.warmth(usual + self.rng.uniform(-0.8, 0.8)).split()[0]

    def tested(self) -> dict[str, str]:
        """What a kit shows of the pond's water: a sound one, with nitrate once a month."""
        fields = {"where": "pond", "temp": self.warmth(self.temp_c - 0.6)}
        for name, words in self.tale.kit.items():
            word = self.rng.choice(words)
            if name != "nitrate" or self.day.day <= 7:
                fields[name] = word
        return fields


def _run_off(roof: Roof | None, rain_mm: float) -> float:
    """Litres that a roof gives on a day."""
    if roof is None or rain_mm <= roof.first_flush_mm:
        return 0.0
    return (rain_mm - roof.first_flush_mm) * roof.runoff * roof.area_m2
