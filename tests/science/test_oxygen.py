"""Oxygen in fresh water against printed tables and an independent fit of the same measurements."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.science import oxygen as ox

EN = "EN 25814 / ISO 5814 table at 101.325 kPa"
USGS = "USGS Office of Water Quality Technical Memorandum 2011.03"
KPA_PER_MMHG = 0.133322368

temps = st.floats(0, 40)


@pytest.mark.parametrize(
    ("temp_c", "mg_l", "tolerance", "source"),
    [
        (0, 14.6, 0.05, EN),
        (5, 12.8, 0.05, EN),
        (10, 11.3, 0.05, EN),
        (15, 10.08, 0.006, USGS),
        (16, 9.87, 0.006, EN),
        (20, 9.09, 0.006, EN),
        (25, 8.26, 0.006, EN),
        (30, 7.56, 0.006, EN),
    ],
)
def test_saturation_agrees_with_the_printed_tables(
    temp_c: float, mg_l: float, tolerance: float, source: str
) -> None:
    assert ox.saturation_mg_l(temp_c) == pytest.approx(mg_l, abs=tolerance), source


def test_thin_air_holds_less() -> None:
    # pressure table of a field instrument's handbook: 10 degC, 650 mmHg
    assert ox.saturation_mg_l(10, 650 * KPA_PER_MMHG) == pytest.approx(9.7, abs=0.1)
    # constructed: Benson & Krause (1984) at 0.8234 atm, the standard atmosphere at 1609 m
    assert ox.station_pressure_kpa(1609) / ox.STANDARD_KPA == pytest.approx(0.8234, abs=0.0002)
    assert ox.saturation_mg_l(20, ox.station_pressure_kpa(1609)) == pytest.approx(7.45, abs=0.02)


def test_percent_is_counted_from_saturation() -> None:
    assert ox.percent(7.0, 25) == pytest.approx(84.7, abs=0.2)  # constructed, Benson & Krause


def test_an_independent_fit_gives_the_same_saturation() -> None:
    gsw = pytest.importorskip("gsw", reason="the reference library gsw is not installed")
    for temp_c in range(0, 41):
        # Garcia & Gordon (1992) in umol/kg at salinity 0; kg to L by gsw's own density
        micromol_kg = float(gsw.O2sol_SP_pt(0.0, float(temp_c)))
        kg_l = float(gsw.rho_t_exact(0.0, float(temp_c), 0.0)) / 1000
        mg_l = micromol_kg * 31.998 / 1000 * kg_l
        assert ox.saturation_mg_l(temp_c) == pytest.approx(mg_l, rel=0.001)


@given(temp_c=st.floats(0, 39), pressure=st.floats(45, 114))
def test_warm_water_holds_less_and_more_pressure_holds_more(temp_c: float, pressure: float) -> None:
    here = ox.saturation_mg_l(temp_c, pressure)
    assert 0 < ox.saturation_mg_l(temp_c + 1, pressure) < here
    assert ox.saturation_mg_l(temp_c, pressure + 1) > here


@given(temp_c=temps, share=st.floats(0, 3))
def test_percent_and_saturation_are_inverse(temp_c: float, share: float) -> None:
    assert ox.percent(share * ox.saturation_mg_l(temp_c), temp_c) == pytest.approx(share * 100)


@given(altitude=st.floats(-500, 5900), sea=st.floats(95, 105))
def test_pressure_falls_with_height_and_follows_the_barometer(altitude: float, sea: float) -> None:
    here = ox.station_pressure_kpa(altitude, sea)
    assert ox.station_pressure_kpa(altitude + 100, sea) < here
    assert here / sea == pytest.approx(ox.station_pressure_kpa(altitude) / ox.STANDARD_KPA)
    assert ox.station_pressure_kpa(0, sea) == sea


@pytest.mark.parametrize(
    ("temp_c", "pressure", "word"),
    [(-0.1, 100, "temperature"), (40.1, 100, "temperature"), (20, 30, "pressure")],
)
def test_outside_the_range_the_sentence_names_it(temp_c: float, pressure: float, word: str) -> None:
    with pytest.raises(ValueError, match=rf"{word} must be .* to "):
        ox.saturation_mg_l(temp_c, pressure)


def test_no_pond_lies_above_the_highest_peaks() -> None:
    with pytest.raises(ValueError, match="altitude must be -500 to 6000 m"):
        ox.station_pressure_kpa(9000)
