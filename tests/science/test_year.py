"""A year of daily weather at Wageningen against two libraries of reference evaporation.

The weather is the file NL1.976 of the package pcse (station Haarweg, 1976). pcse itself is heavy
and is not imported: only its file is read. Without the package the tests are skipped.
"""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import Any

import pytest

from pondtui.science import evaporation, sun, vapour
from pondtui.science.evaporation import Day, Evaporation, of_day

np = pytest.importorskip("numpy")
pd = pytest.importorskip("pandas")
pyet = pytest.importorskip("pyet")
refet = pytest.importorskip("refet")

LATITUDE = 51 + 58 / 60
ELEVATION = 7.0


def weather() -> list[Day]:
    """The year's days, as the file gives them: kJ, degC, kPa, m/s at 2 m."""
    try:
        place = distribution("pcse").locate_file("pcse/tests/test_data/NL1.976")
    except PackageNotFoundError:
        pytest.skip("the package pcse, which carries the weather, is not installed")
    days = []
    for line in Path(str(place)).read_text(encoding="latin-1").splitlines():
        words = line.split()
        if len(words) == 9 and words[0] == "1":
            day, radiation, tmin, tmax, vapour_kpa, wind = (float(word) for word in words[2:8])
            days.append(
                Day(
                    tmax, tmin, LATITUDE, int(day), ELEVATION, vapour_kpa=vapour_kpa,
                    wind_m_s=wind, radiation_mj=radiation / 1000,
                )
            )  # fmt: skip
    return days


@pytest.fixture(scope="module")
def year() -> list[tuple[Day, Evaporation]]:
    days = weather()
    assert len(days) == 366
    return [(day, of_day(day)) for day in days]


def frame(year: list[tuple[Day, Evaporation]]) -> Any:
    index = pd.date_range("1976-01-01", periods=len(year), freq="D")
    columns = {
        "tmax": [day.tmax_c for day, _ in year],
        "tmin": [day.tmin_c for day, _ in year],
        "ea": [day.vapour_kpa for day, _ in year],
        "wind": [result.wind_2m_m_s for _, result in year],
        "rs": [day.radiation_mj for day, _ in year],
    }
    return pd.DataFrame(columns, index=index, dtype=float)


def odd(year: list[tuple[Day, Evaporation]]) -> list[bool]:
    """Days on which the libraries leave FAO-56: two of damp air, and the very dark ones.

    Under 0.3 of clear-sky radiation both count 0.3. Where the reading of the early morning is above
    saturation, pyet lets the air wet the grass; here the deficit is 0 then.
    """
    return [
        result.solar_mj < 0.3 * sun.clear_sky_mj(result.extraterrestrial_mj, ELEVATION)
        or result.vapour_kpa > vapour.mean_saturation_kpa(day.tmax_c, day.tmin_c)
        for day, result in year
    ]


def compare(
    name: str, ours: list[float], theirs: list[float], skip: list[bool]
) -> tuple[float, float]:
    """Largest difference without and with the odd days, printed."""
    apart = [abs(a - b) for a, b in zip(ours, theirs, strict=True)]
    bright = max(gap for gap, out in zip(apart, skip, strict=True) if not out)
    print(f"{name}: largest difference {bright:.1e} mm, on any day {max(apart):.4f} mm")
    return bright, max(apart)


def test_reference_evaporation_agrees_with_pyet(year: list[tuple[Day, Evaporation]]) -> None:
    data = frame(year)
    theirs = pyet.pm_fao56(
        (data.tmax + data.tmin) / 2,
        data.wind,
        rs=data.rs,
        tmax=data.tmax,
        tmin=data.tmin,
        ea=data.ea,
        elevation=ELEVATION,
        lat=np.radians(LATITUDE),
    )
    ours = [result.reference_mm for _, result in year]
    bright, every = compare("pyet pm_fao56", ours, list(theirs), odd(year))
    assert bright < 1e-6
    assert every < 0.3


def test_reference_evaporation_agrees_with_refet(year: list[tuple[Day, Evaporation]]) -> None:
    theirs = [
        float(
            refet.Daily(
                tmin=day.tmin_c,
                tmax=day.tmax_c,
                ea=day.vapour_kpa,
                rs=day.radiation_mj,
                uz=result.wind_2m_m_s,
                zw=2,
                elev=ELEVATION,
                lat=LATITUDE,
                doy=day.day_of_year,
                method="asce",
            ).eto()[0]
        )
        for day, result in year
    ]
    ours = [result.reference_mm for _, result in year]
    bright, every = compare("refet asce", ours, [max(0.0, mm) for mm in theirs], odd(year))
    assert bright < 0.005
    assert every < 0.3


def test_open_water_evaporation_agrees_with_pyet(year: list[tuple[Day, Evaporation]]) -> None:
    data = frame(year)
    theirs = pyet.penman(
        (data.tmax + data.tmin) / 2,
        data.wind,
        rs=data.rs,
        tmax=data.tmax,
        tmin=data.tmin,
        ea=data.ea,
        elevation=ELEVATION,
        lat=np.radians(LATITUDE),
        aw=1.313,
        bw=1.381,
        albedo=sun.WATER_ALBEDO,
    )
    ours = [result.penman_mm or 0.0 for _, result in year]
    bright, every = compare("pyet penman", ours, list(theirs), odd(year))
    # pyet lets the latent heat vary with temperature
    assert bright < 0.1
    assert every < 0.5


def test_a_year_by_temperature_alone_keeps_its_sum(year: list[tuple[Day, Evaporation]]) -> None:
    full = sum(result.reference_mm for _, result in year)
    bare = sum(
        of_day(Day(day.tmax_c, day.tmin_c, LATITUDE, day.day_of_year, ELEVATION)).reference_mm
        for day, _ in year
    )
    hargreaves = sum(
        evaporation.hargreaves_mm(day.tmax_c, day.tmin_c, result.extraterrestrial_mj)
        for day, result in year
    )
    print(f"year: {full:.0f} mm, by temperature {bare:.0f} mm, Hargreaves {hargreaves:.0f} mm")
    assert bare == pytest.approx(full, rel=0.15)
