"""Years of real weather beside those of the simulator: a station in Canterbury, New Zealand.

Daily radiation, temperatures and vapour pressure 2000-2015 are the example data of the package eto
(Apache-2.0). The package itself is not imported. No rain and no wind are in it; its place is taken
from the package's own tests, 43.6 degrees south, from memory.
"""

from __future__ import annotations

import csv
import io
import zipfile
from datetime import date
from functools import cache
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

import pytest

from pondtui.pond.away.weather_ahead import DayAhead
from pondtui.science.evaporation import Day, of_day
from tests.simulator import YEARS, weather_of

SOUTH_LATITUDE, SOUTH_ELEVATION = -43.6, 500.0
SOUTH_YEARS = tuple(range(2000, 2015))  # of 2015 the radiation lacks in part


@cache
def southern() -> dict[date, DayAhead]:
    """Open-water evaporation of every whole day; it never rains there."""
    try:
        place = distribution("eto").locate_file("eto/datasets/example_daily.csv.zip")
    except PackageNotFoundError:
        pytest.skip("the package eto, which carries the southern weather, is not installed")
    found = {}
    with zipfile.ZipFile(Path(str(place))) as packed:
        text = packed.read(packed.namelist()[0]).decode()
    for row in csv.DictReader(io.StringIO(text)):
        if not all(row[name] for name in ("R_s", "T_max", "T_min", "e_a")):
            continue
        day = date.fromisoformat(row["date"])
        tmax, tmin = float(row["T_max"]), float(row["T_min"])
        one = Day(max(tmax, tmin), min(tmax, tmin), SOUTH_LATITUDE, day.timetuple().tm_yday,
                  SOUTH_ELEVATION, vapour_kpa=float(row["e_a"]),
                  radiation_mj=float(row["R_s"]))  # fmt: skip
        found[day] = DayAhead(of_day(one).open_water_mm, 0.0)
    return found


@cache
def northern() -> dict[date, DayAhead]:
    """The simulator's own station, evaporation by the full station and rain."""
    return {
        day: DayAhead(one.full_mm, one.rain_mm)
        for year in YEARS
        for day, one in weather_of(year).items()
    }
