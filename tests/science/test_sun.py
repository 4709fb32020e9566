"""Radiation and day length against FAO-56, its annex tables and McMahon et al."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.science import sun

QUICK = settings(max_examples=100, deadline=None)
latitudes = st.floats(min_value=-90, max_value=90)
days = st.integers(min_value=1, max_value=366)
MIDDLE_OF_MONTHS = (15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349)


@pytest.mark.parametrize(
    ("latitude", "printed"),
    [
        # FAO-56 (1998) Annex 2 Table 2.6 p. 219; June and September print 0.1 above Eq. 21
        (40.0, (15.0, 20.4, 27.2, 34.7, 39.7, 41.9, 40.8, 36.7, 30.0, 22.5, 16.3, 13.6)),
        (50.0, (8.9, 14.4, 22.2, 31.5, 38.5, 41.7, 40.2, 34.4, 25.7, 16.9, 10.2, 7.5)),
    ],
)
def test_radiation_above_the_air_meets_the_annex(
    latitude: float, printed: tuple[float, ...]
) -> None:
    computed = [sun.extraterrestrial_mj(latitude, day) for day in MIDDLE_OF_MONTHS]
    assert computed == pytest.approx(list(printed), abs=0.15)


def test_day_length_meets_the_annex() -> None:
    # FAO-56 (1998) Annex 2 Table 2.7 p. 220, 50 N
    printed = [8.3, 9.8, 11.6, 13.5, 15.2, 16.1, 15.7, 14.3, 12.3, 10.4, 8.7, 7.9]
    computed = [sun.daylight_h(50, day) for day in MIDDLE_OF_MONTHS]
    assert computed == pytest.approx(printed, abs=0.06)


def test_the_southern_spring_has_the_printed_sun() -> None:
    # FAO-56 (1998) Examples 8 and 9 pp. 47-49: 20 S, 3 September; north would give 36.9
    assert sun.extraterrestrial_mj(-20, 246) == pytest.approx(32.2, abs=0.05)
    assert sun.daylight_h(-20, 246) == pytest.approx(11.7, abs=0.05)


def test_alice_springs_has_the_printed_sun() -> None:
    # McMahon et al. (2013) HESS 17:1331-1363, supplement S19.24 and S19.26, 20 July 1980
    assert sun.extraterrestrial_mj(-23.7951, 202) == pytest.approx(23.6182, abs=5e-4)
    assert sun.daylight_h(-23.7951, 202) == pytest.approx(10.7431, abs=5e-4)


def test_sunshine_gives_the_printed_radiation() -> None:
    # FAO-56 (1998) Example 10 p. 50, Rio de Janeiro, May
    assert sun.solar_from_sunshine_mj(25.1, 7.1, 10.9) == pytest.approx(14.5, abs=0.06)


def test_temperatures_give_the_printed_radiation() -> None:
    # FAO-56 (1998) Example 15 p. 61, Lyon, July
    above = sun.extraterrestrial_mj(45 + 43 / 60, 196)
    solar = sun.solar_from_temperature_mj(above, 26.6, 14.8, 200)
    assert solar == pytest.approx(22.3, abs=0.06)
    assert sun.solar_from_temperature_mj(above, 26.6, 14.8, 200, coast=True) > solar


def test_radiation_from_temperatures_never_beats_a_clear_sky() -> None:
    assert sun.solar_from_temperature_mj(40, 40, 5, 100) == sun.clear_sky_mj(40, 100)


def test_longwave_and_net_radiation_meet_the_printed_ones() -> None:
    # FAO-56 (1998) Examples 11 and 12 pp. 52-53, Rio de Janeiro
    longwave = sun.net_longwave_mj(25.1, 19.1, 2.1, 14.5, 18.8)
    assert longwave == pytest.approx(3.5, abs=0.05)
    net = sun.net_radiation_mj(14.5, longwave, sun.GRASS_ALBEDO)
    assert net == pytest.approx(7.6, abs=0.06)


def test_alice_springs_has_the_printed_net_radiation() -> None:
    # McMahon et al. (2013) supplement S19, net radiation: 6.061 MJ/m2 with the albedo of grass,
    # 8.6401 with that of water; Angstrom's a 0.23
    above = sun.extraterrestrial_mj(-23.7951, 202)
    solar = sun.solar_from_sunshine_mj(above, 10.7, sun.daylight_h(-23.7951, 202), a=0.23)
    clear = sun.clear_sky_mj(above, 546)
    saturation = [0.6108 * 2.718281828459045 ** (17.27 * t / (t + 237.3)) for t in (2.0, 21.0)]
    vapour_kpa = (saturation[0] * 0.71 + saturation[1] * 0.25) / 2
    longwave = sun.net_longwave_mj(21, 2, vapour_kpa, solar, clear, sun.WATER_ZERO_K)
    assert sun.net_radiation_mj(solar, longwave, 0.23) == pytest.approx(6.061, abs=5e-4)
    assert sun.net_radiation_mj(solar, longwave, 0.08) == pytest.approx(8.6401, abs=5e-4)


@QUICK
@given(latitude=latitudes, day=days)
def test_every_place_has_a_sun_of_some_kind(latitude: float, day: int) -> None:
    assert 0 <= sun.daylight_h(latitude, day) <= 24
    assert 0 <= sun.extraterrestrial_mj(latitude, day) < 50


@QUICK
@given(latitude=latitudes, day=days, hour=st.floats(min_value=0, max_value=24))
def test_the_suns_share_grows_through_the_day(latitude: float, day: int, hour: float) -> None:
    share = sun.share_by_hour(latitude, day, hour)
    assert 0 <= share <= 1
    assert sun.share_by_hour(latitude, day, 24) == pytest.approx(1)
    assert sun.share_by_hour(latitude, day, min(24, hour + 1)) >= share - 1e-12
    mirrored = sun.share_by_hour(latitude, day, 24 - hour)
    assert mirrored == pytest.approx(1 - share, abs=1e-6)


def test_a_night_loses_little() -> None:
    assert sun.share_by_hour(50, 172, 12) == pytest.approx(0.5)
    assert sun.share_by_hour(50, 172, 3) == 0
    assert sun.share_by_hour(80, 1, 6) == 0.25  # polar night: straight through


def test_the_polar_seasons_give_numbers() -> None:
    assert sun.daylight_h(80, 1) == 0
    assert sun.daylight_h(80, 172) == 24
    assert sun.extraterrestrial_mj(80, 1) == 0
    assert sun.solar_from_sunshine_mj(0, 0, 0) == 0
    assert sun.net_longwave_mj(-20, -30, 0.05, 0, 0) > 0


def test_more_than_a_clear_sky_counts_as_a_clear_sky() -> None:
    assert sun.net_longwave_mj(8, 2, 0.8, 15, 10) == sun.net_longwave_mj(8, 2, 0.8, 10, 10)
    assert sun.net_longwave_mj(8, 2, 0.8, 5, 10) < sun.net_longwave_mj(8, 2, 0.8, 10, 10)


def test_a_recorder_may_run_over_a_little_but_not_more() -> None:
    assert sun.solar_from_sunshine_mj(20, 10.2, 10) == sun.solar_from_sunshine_mj(20, 10, 10)
    with pytest.raises(ValueError, match=r"0 to 10\.5 h"):
        sun.solar_from_sunshine_mj(20, 12, 10)


def test_numbers_outside_the_world_are_refused() -> None:
    with pytest.raises(ValueError, match="latitude"):
        sun.extraterrestrial_mj(91, 1)
    with pytest.raises(ValueError, match="day of the year"):
        sun.daylight_h(50, 367)
    with pytest.raises(ValueError, match="tmax"):
        sun.solar_from_temperature_mj(20, 5, 10, 0)
    with pytest.raises(ValueError, match="elevation"):
        sun.clear_sky_mj(20, 9000)
