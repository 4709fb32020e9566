"""The sample pond as it really is: what its keepers read is this, with the error of reading."""

from __future__ import annotations

from datetime import date
from random import Random

from pondtui.pond.setup.barrels import brim_l
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.pond.water.levels import area_m2_at, open_area_m2, reading_after
from tests.sample.weather import Weather, open_water_mm

SITE, STEADY_MM = 0.82, 1.1  # what the walls leave of evaporation; what is lost in any weather
SEEPS = 0.3  # of what stands above the liner's fold, a day


class Truth:
    """Level, temperatures and rain water, day by day."""

    def __init__(self, setup: Setup, rng: Random) -> None:
        self.setup, self.rng = setup, rng
        self.day = date.min
        self.reading_mm = 66.0
        self.temp_c = 8.5
        self.shed_l = 95.0
        self.over = False  # it ran out of the overflow today

    def nature(self, now: Weather) -> None:
        """What the weather of a day takes and gives."""
        pond, at = self.setup.pond, self.reading_mm
        spill, seep = (self.setup.marks_of(role)[0].reading_mm for role in ("spill", "seep"))
        lost_mm = open_water_mm(now, pond.latitude or 0.0, pond.elevation_m or 0.0) * SITE
        steady_mm = STEADY_MM + max(seep - at, 0.0) * SEEPS
        outside = (now.rain - lost_mm) * open_area_m2(self.setup, at, now.day)
        self.let_in(outside - steady_mm * area_m2_at(self.setup, at, now.day))
        self.over = self.reading_mm < spill
        self.reading_mm = max(self.reading_mm, spill)
        self.temp_c += 0.22 * ((now.tmin + now.tmax) / 2 + 1.5 - self.temp_c)
        for barrel in self.setup.barrels:
            if barrel.roof is not None and now.rain > barrel.roof.first_flush_mm:
                deep = (now.rain - barrel.roof.first_flush_mm) * barrel.roof.runoff
                self.shed_l = min(self.shed_l + deep * barrel.roof.area_m2, brim_l(barrel))

    def let_in(self, litres: float) -> None:
        """Water into the pond, or out of it."""
        self.reading_mm = reading_after(self.setup, self.reading_mm, litres, self.day)

    def gauge(self) -> int:
        """What is read: the error is about a millimetre, two at the most."""
        return round(self.reading_mm + self.rng.choice((-2, -1, -1, 0, 0, 0, 0, 1, 1, 2)))

    def barrel_temp(self, barrel: Barrel) -> str:
        """Tap water that stood for an hour, or rain water that stood for days."""
        mains = 11.0 + 0.35 * (self.temp_c - 9)
        usual = self.temp_c if barrel.source == "rain" else mains + 1
        return f"{usual + self.rng.uniform(-0.8, 0.8):.1f}"

    def tested(self) -> dict[str, str]:
        """What a kit shows of the pond's water: a sound one, with nitrate once a month."""
        pick = self.rng.choice
        fields = {
            "where": "pond",
            "temp": f"{self.temp_c - 0.6:.1f} degC",
            "ph": f"{pick((7.6, 7.6, 7.8, 7.8, 8.0))}",
            "ammonia": pick(("<0.05 mg/L as N", "<0.05 mg/L as N", "0.1 mg/L as N")),
            "nitrite": pick(("<0.02 mg/L as NO2", "<0.02 mg/L as NO2", "0.05 mg/L as NO2")),
            "alkalinity": f"{pick((5.5, 6, 6, 6.5))} dH",
        }
        if self.day.day <= 7:
            fields["nitrate"] = f"{pick((10, 15, 20))} mg/L as NO3"
        return fields
