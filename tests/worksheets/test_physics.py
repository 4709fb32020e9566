"""The worksheets on water, weather and heat, given as a keeper types them."""

from __future__ import annotations

import pytest

from pondtui.errors import InputError
from pondtui.worksheets import run as worksheets


def answer(name: str, typed: str, **files: str) -> dict[str, float | str]:
    """Results of a worksheet from `name=value; name=value`."""
    pairs = [part.split("=", 1) for part in typed.split("; ")]
    given = {key.strip(): text.strip() for key, text in pairs}
    return worksheets.run(name, given, gallon="us", read_file=files.get).results  # type: ignore[arg-type]  # a file named here is always there


def number(name: str, typed: str, key: str) -> float:
    value = answer(name, typed)[key]
    assert isinstance(value, float)
    return value


# --- barrels -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "key", "expected", "within"),
    [
        # FAO-56 (1998) Box 12 p. 84: Class A pan, 120.7 cm across, 20 cm of water; arithmetic
        (
            "shape=upright; diameter=120.7 cm; height=25 cm; depth=20 cm",
            "volume_l",
            228.8,
            0.1,
        ),
        # tank-dipping example of supplier pages: 48 x 96 in, 19.2 in deep, 280.9 US gal of 752
        (
            "shape=lying; diameter=48 in; length=96 in; depth=19.2 in",
            "volume_l",
            280.9 * 3.785411784,
            0.4,
        ),
        ("shape=lying; diameter=4 ft; length=8 ft; volume=280.9 US gal", "depth_mm", 487.7, 0.2),
        # Perry's Chemical Engineers' Handbook: a depth of 0.3 D is 25.232 %
        ("shape=lying; diameter=1 m; length=2 m; depth=30 cm", "fraction", 0.25232, 1e-5),
        # constructed: a quarter full stands at 29.8 %
        ("shape=lying; diameter=1 m; length=1 m; volume=196.35 L", "depth_mm", 298.0, 0.1),
        # constructed: 40 x 60 cm box
        (
            "shape=straight; width=40 cm; breadth=60 cm; height=50 cm; depth=25 cm",
            "fraction",
            0.5,
            0,
        ),
        ("shape=straight; area=0.24 m2; height=50 cm; volume=60 L", "depth_mm", 250, 1e-9),
    ],
)
def test_a_barrel_answers_volume_share_and_depth(
    typed: str, key: str, expected: float, within: float
) -> None:
    results = answer("barrel-volume", typed)
    assert set(results) == {"volume_l", "fraction", "depth_mm"}
    assert results[key] == pytest.approx(expected, abs=max(within, 1e-9))


def test_a_barrel_gives_the_same_answer_either_way() -> None:
    sizes = "shape=lying; diameter=580 mm; length=900 mm"
    first = answer("barrel-volume", f"{sizes}; depth=173 mm")
    again = answer("barrel-volume", f"{sizes}; volume={first['volume_l']:.9f} L")
    assert again == pytest.approx(first)


def test_a_fill_lasts_volume_over_flow() -> None:
    # constructed: 1000 L at 12 L/min
    assert number("fill-time", "volume=1000 L; flow=12 L/min", "time_min") == pytest.approx(
        83.33, abs=0.01
    )


def test_five_gallons_in_half_a_minute_are_ten_gallons_a_minute() -> None:
    # exact definitions: 5 US gal in 30 s
    flow = number("flow-by-bucket", "volume=5 US gal; time=30 s", "flow_l_per_min")
    assert flow == pytest.approx(37.854, abs=0.001)


# --- holes and hoses -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "key", "expected", "within"),
    [
        # Cengel & Cimbala, Fluid Mechanics, Example 5-2 (SI), printed 11.6 min from memory
        (
            "diameter=90 cm; hole=1.3 cm; depth_start=1.2 m; depth_end=0.6 m; cd=1",
            "time_s",
            694,
            1,
        ),
        # Choudhary & Prakash, Fluid Mechanics, Examples 6.17 and 6.19
        ("diameter=1.2 m; hole=5 cm; depth_start=3 m", "time_s", 750.8, 0.5),
        ("area=3.2 m2; hole_area=10 cm2; depth_start=5 m", "time_s", 5384.8, 1),
        # constructed: closed form
        (
            "area=0.2642 m2; hole_area=1 cm2; depth_start=0.9 m; elapsed=10 min",
            "depth_mm",
            418.5,
            1,
        ),
        ("area=0.26 m2; hole_area=1 cm2; depth_start=0.9 m; elapsed=10 h", "depth_mm", 0, 0),
    ],
)
def test_a_hole_drains_a_tank_as_the_textbook_says(
    typed: str, key: str, expected: float, within: float
) -> None:
    assert number("hole-drain", typed, key) == pytest.approx(expected, abs=within)


def test_a_barrel_levels_out_with_a_pond() -> None:
    # constructed: beside a very large pond the barrel runs as if free (2 A (√h0 - √h1)/(Cd a √2g))
    typed = "barrel_area=0.26 m2; pond_area=5 ha; difference_start=80 cm; difference_end=10 cm"
    free = number(
        "hole-drain", "area=0.26 m2; hole_area=3 cm2; depth_start=80 cm; depth_end=10 cm", "time_s"
    )
    joined = number("level-out", f"{typed}; hole_area=3 cm2", "time_s")
    assert joined == pytest.approx(free, rel=1e-4)


@pytest.mark.parametrize(("bore", "flow"), [("15.9 mm", 11.97), ("19 mm", 19.2), ("1 in", 41.03)])
def test_a_hose_runs_as_fast_as_the_solved_equation(bore: str, flow: float) -> None:
    # g H = v2/2 (K + f L/D), Churchill (1977), 1 m head, 10 m of hose, nu 1.139e-6, by scipy;
    # no published value
    typed = f"head=1 m; bore={bore}; length=10 m; viscosity=1.139 mm2/s"
    assert number("hose-flow", typed, "flow_l_per_min") == pytest.approx(flow, rel=1e-3)
    at_15 = f"head=39.37 in; bore={bore}; length=10 m; temp=59 degF"
    assert number("hose-flow", at_15, "flow_l_per_min") == pytest.approx(flow, rel=2e-3)


def test_a_hose_shows_the_numbers_behind_its_flow() -> None:
    results = answer(
        "hose-flow",
        "head=9.82 m; bore=5 cm; length=60 m; fittings=0; viscosity=1.1391 mm2/s; "
        "roughness=0.002 mm",
    )
    # Cengel & Cimbala Example 8-3 (SI), from memory: 6 L/s, f 0.0172
    assert results["flow_l_per_min"] == pytest.approx(360, rel=0.005)
    assert results["friction_factor"] == pytest.approx(0.0172, abs=2e-4)
    assert results["velocity_m_per_s"] == pytest.approx(3.06, abs=0.02)
    assert results["reynolds"] == pytest.approx(134_300, rel=0.01)


BARREL = (
    "shape=upright; diameter=58 cm; depth_start=85 cm; depth_end=5 cm; drop=30 cm; bore=19 mm; "
    "pipe_length=3 m; viscosity=1.139 mm2/s"
)


def test_a_barrel_drains_in_the_solved_time() -> None:
    # dh/dt = -Q(h + 0.30 m)/A solved with scipy: 468.2 s; no published value
    results = answer("drain-time", BARREL)
    assert results["time_s"] == pytest.approx(468.2, abs=0.5)
    assert results["volume_l"] == pytest.approx(211.4, abs=0.1)
    first, last = results["first_flow_l_per_min"], results["last_flow_l_per_min"]
    assert isinstance(first, float)
    assert isinstance(last, float)
    mean = 211.4 / 468.2 * 60
    assert last < mean < first


def test_a_lying_barrel_drains_what_lies_between_two_depths() -> None:
    typed = (
        "shape=lying; diameter=58 cm; length=90 cm; depth_start=50 cm; depth_end=5 cm; drop=30 cm; "
        "bore=19 mm; pipe_length=3 m"
    )
    high = number(
        "barrel-volume", "shape=lying; diameter=58 cm; length=90 cm; depth=50 cm", "volume_l"
    )
    low = number(
        "barrel-volume", "shape=lying; diameter=58 cm; length=90 cm; depth=5 cm", "volume_l"
    )
    assert number("drain-time", typed, "volume_l") == pytest.approx(high - low)


@pytest.mark.parametrize(
    ("typed", "expected", "within"),
    [
        # fluids, tests/test_friction.py (C. Bell)
        ("reynolds=100000; relative_roughness=0.0001", 0.018513866077471648, 1e-9),
        # Crane TP-410M Example 7.1
        ("reynolds=100600; relative_roughness=0", 0.0179, 3e-4),
        # Cengel & Cimbala Example 8-3 (SI), from memory
        ("reynolds=134127; relative_roughness=0.00004", 0.0172, 1e-4),
        # Hagen-Poiseuille
        ("reynolds=1000; relative_roughness=0.01", 0.064, 1e-12),
    ],
)
def test_a_pipe_has_its_published_friction(typed: str, expected: float, within: float) -> None:
    assert number("friction-factor", typed, "darcy") == pytest.approx(expected, abs=within)


def test_a_small_hole_loses_half_a_cubic_metre_a_day() -> None:
    # constructed: Q = Cd a sqrt(2 g h)
    assert number("leak-hole", "hole=2 mm; head=50 cm", "flow_l_per_day") == pytest.approx(
        510.1, abs=0.5
    )


# --- ponds ---------------------------------------------------------------------------------------

FT3 = 28.316846592


@pytest.mark.parametrize(
    ("typed", "key", "expected", "within"),
    [
        # Math Central, University of Regina, QQ.09.07: 44,256 ft3
        (
            "shape=battered; length=100 ft; width=70 ft; depth=12 ft; side_slope=2",
            "volume_l",
            44_256 * FT3,
            0.5 * FT3,
        ),
        # USDA NRCS Agriculture Handbook 590 (1997), from memory: 3,996 yd3
        (
            "shape=table; rule=prismoidal; areas=0 ft:15136 ft2, 6 ft:8704 ft2, 12 ft:4000 ft2",
            "volume_l",
            107_904 * FT3,
            FT3,
        ),
        # survey textbooks: 10 and 20 m2 over 10 m; 10, 18, 20 m2 over 10 m
        ("shape=table; rule=average; areas=0 m:10 m2, 10 m:20 m2", "volume_l", 150_000, 1e-6),
        (
            "shape=table; rule=prismoidal; areas=0 m:10 m2, 5 m:18 m2, 10 m:20 m2",
            "volume_l",
            170_000,
            1e-6,
        ),
        # pi h/3 (R2 + R r + r2), constructed
        (
            "shape=cone; top_diameter=3 m; bottom_diameter=2 m; depth=80 cm",
            "volume_l",
            3979.35,
            1,
        ),
        # Virginia Department of Wildlife Resources, "Determining Pond Size": 0.1607 acre
        ("shape=box; length=100 ft; width=70 ft; depth=4 ft", "area_m2", 650.3, 0.4),
        # solid geometry: half an ellipsoid, 2/3 pi a b c
        ("shape=bowl; length=4 m; width=3 m; depth=0.8 m", "volume_l", 5026.5, 0.1),
        ("shape=ellipse; length=4 m; width=3 m; depth=1 m", "volume_l", 9424.8, 0.1),
        ("shape=cylinder; diameter=2 m; depth=1 m; drop=10 cm", "drop_volume_l", 314.16, 0.01),
    ],
)
def test_a_pond_has_its_published_volume(
    typed: str, key: str, expected: float, within: float
) -> None:
    results = answer("pond-volume", typed)
    assert set(results) == {"volume_l", "area_m2", "drop_volume_l"}
    assert results[key] == pytest.approx(expected, abs=within)


def test_the_surface_of_a_pond_is_the_one_at_its_level() -> None:
    pond = "shape=battered; length=4 m; width=3 m; depth=0.8 m; side_slope=1.2"
    assert number("pond-volume", pond, "area_m2") == pytest.approx(12)
    assert number("pond-volume", f"{pond}; drop=10 cm", "area_m2") == pytest.approx(3.76 * 2.76)


@pytest.mark.parametrize(
    ("typed", "key", "expected", "within"),
    [
        # exact by definition
        ("volume=40 L; area=8 m2", "drop_mm", 5, 1e-9),
        ("volume=40 L; drop=5 mm", "area_m2", 8, 1e-9),
        # bucket-test page on a desert summer: 5/8 in off 450 ft2, 175 US gal
        ("drop=5/8 in; area=450 ft2", "volume_l", 175 * 3.785411784, 2),
    ],
)
def test_two_of_area_drop_and_volume_give_the_third(
    typed: str, key: str, expected: float, within: float
) -> None:
    results = answer("level-volume", typed)
    assert set(results) == {"volume_l", "drop_mm", "area_m2"}
    assert results[key] == pytest.approx(expected, abs=within)


# --- mixing --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "expected", "within"),
    [
        # energy balance, constructed
        ("volume_1=5000 L; value_1=22 degC; volume_2=1000 L; value_2=50 degF", 20, 1e-9),
        # mass balance, constructed
        ("volume_1=800 L; value_1=0.1 mg/L; volume_2=200 L; value_2=2 ppm", 0.48, 1e-9),
        # OpenStax Chemistry 2e Example 3.19, from memory: 5.00 M becomes 2.36 M
        ("volume_1=0.85 L; value_1=5 mg/L; volume_2=0.95 L; value_2=0 mg/L", 2.36, 0.005),
        # OpenStax College Physics 2e Example 14.3, from memory, as water equivalents: 59.1 degC
        ("volume_1=1046.5 L; value_1=20 degC; volume_2=450 L; value_2=150 degC", 59.1, 0.06),
    ],
)
def test_a_mixture_has_its_published_value(typed: str, expected: float, within: float) -> None:
    assert number("mix", typed, "value") == pytest.approx(expected, abs=within)


def test_the_largest_addition_counts_itself() -> None:
    # constructed: 5000/9, not 5000/10; a change of 1.8 degF is 1 degree
    typed = "pond=5000 L; pond_temp=20 degC; added_temp=10 degC; limit=1.8 degF"
    assert number("largest-addition", typed, "volume_l") == pytest.approx(555.56, abs=0.01)


def test_tempering_takes_the_published_rate() -> None:
    # LSU AgCenter: about 5 degF in half an hour
    assert number("tempering-time", "change=-10 degF; limit=5 degF; per=30 min", "time_min") == (
        pytest.approx(60)
    )


# --- rain ----------------------------------------------------------------------------------------

GALLON = 3.785411784


@pytest.mark.parametrize(
    ("typed", "key", "expected", "within"),
    [
        # Texas Manual on Rainwater Harvesting, 3rd ed. (2005) ch. 4: 0.62 gal/ft2/in in theory
        ("area=1000 ft2; rain=1 in; runoff=1", "volume_l", 620 * GALLON, 5 * GALLON),
        # exact: 144/231 US gal per ft2 and inch
        ("area=1 ft2; rain=1 in; runoff=100 %", "volume_l", 144 / 231 * GALLON, 1e-6),
        # Greywater Action FAQ: 2,000 ft2 at 90 %, an inch and a year of 25 in
        ("area=2000 ft2; rain=1 in; runoff=90 %", "volume_l", 1120 * GALLON, 5 * GALLON),
        ("area=2000 ft2; rain=25 in; runoff=0.9", "volume_l", 28_000 * GALLON, 60 * GALLON),
        # V = A (P - f) C, constructed
        ("area=20 m2; rain=10 mm; first_flush=0.5 mm", "volume_l", 161.5, 1e-9),
        ("slope_length=4 m; width=10 m; pitch=60 deg; rain=10 mm", "plan_area_m2", 20, 1e-9),
    ],
)
def test_a_roof_yields_the_published_water(
    typed: str, key: str, expected: float, within: float
) -> None:
    assert number("roof-catch", typed, key) == pytest.approx(expected, abs=within)


@pytest.mark.parametrize(("pipe", "feet"), [("6 in", 10.2), ("4 in", 23.0)])
def test_a_first_flush_fits_the_printed_standpipe(pipe: str, feet: float) -> None:
    # Texas Manual on Rainwater Harvesting (2005) ch. 2 pp. 7-8: 15 gal of 1,500 ft2
    results = answer("first-flush", f"area=1500 ft2; volume=15 gal; pipe={pipe}")
    assert results["pipe_length_m"] == pytest.approx(feet * 0.3048, abs=0.016)
    assert results["depth_mm"] == pytest.approx(0.4075, abs=1e-3)


def test_a_first_flush_goes_either_way() -> None:
    assert answer("first-flush", "area=20 m2; depth=0.5 mm") == pytest.approx(
        {"volume_l": 10, "depth_mm": 0.5}
    )


# --- evaporation ---------------------------------------------------------------------------------

UCCLE = (
    "tmax=21.5 degC; tmin=12.3 degC; latitude=50.8; elevation=100 m; rhmax=84 %; rhmin=63 %; "
    "wind=10 km/h; wind_height=10 m; sun=9.25 h"
)
LYON = "tmax=26.6 degC; tmin=14.8 degC; latitude=45.7166667 deg; elevation=200 m"
BANGKOK = (
    "tmax=34.8 degC; tmin=25.6 degC; latitude=13.7333 deg; elevation=2 m; date=2026-04-15; "
    "wind=2 m/s; sun=8.5 h; vapour_pressure=2.85 kPa"
)
ALICE = (
    "tmax=21 degC; tmin=2 degC; latitude=-23.7951 deg; date=1980-07-20; elevation=546 m; "
    "rhmax=71 %; rhmin=25 %; wind=0.5903 m/s; radiation=17.194 MJ/m2"
)


@pytest.mark.parametrize(
    ("typed", "key", "expected", "within"),
    [
        # FAO-56 (1998) Example 18 pp. 72-73: 3.9 mm, unrounded 3.88; wind p. 72, 2.78 m/s at 10 m
        (f"{UCCLE}; date=2026-07-06", "reference_mm", 3.88, 0.01),
        (f"{UCCLE}; day=187", "wind_2m_m_per_s", 2.078, 1e-3),
        (f"{UCCLE}; day=187", "solar_mj", 22.07, 0.02),
        (f"{UCCLE}; day=187", "net_radiation_mj", 13.28, 0.02),
        (f"{UCCLE}; day=187", "vapour_pressure_kpa", 1.409, 1e-3),
        # FAO-56 Example 17 pp. 70-71, ground heat left out: 0.04 mm above the printed 5.72
        (BANGKOK, "reference_mm", 5.76, 0.01),
        (BANGKOK, "extraterrestrial_mj", 38.06, 0.02),
        (BANGKOK, "daylight_h", 12.31, 0.01),
        # FAO-56 Example 20 pp. 77-78 and its note on 3 m/s
        (f"{LYON}; date=2026-07-15", "reference_mm", 4.56, 0.02),
        (f"{LYON}; date=2026-07-15; wind=3 m/s", "reference_mm", 4.8, 0.05),
        (f"{LYON}; day=196", "solar_mj", 22.3, 0.06),
        # FAO-56 Examples 8 and 9: 20 S, 3 September
        (
            "tmax=25 degC; tmin=15 degC; latitude=-20; day=246; elevation=0 m",
            "extraterrestrial_mj",
            32.2,
            0.05,
        ),
        # FAO-56 Example 4 p. 38: wet and dry bulb at 1200 m
        (
            "tmax=30 degC; tmin=15 degC; latitude=10; day=100; elevation=1200 m; "
            "dry_bulb=25.6 degC; wet_bulb=19.5 degC",
            "vapour_pressure_kpa",
            1.91,
            0.005,
        ),
        # FAO-56 Example 5 p. 39, Eq. 19
        (
            "tmax=25 degC; tmin=18 degC; latitude=10; day=100; elevation=0 m; rhmean=68 %",
            "vapour_pressure_kpa",
            1.78,
            0.005,
        ),
        # McMahon et al. (2013) HESS 17:1331-1363, supplement S19, 20 July 1980 (a leap year)
        (ALICE, "reference_mm", 2.0775, 0.002),
        (ALICE, "extraterrestrial_mj", 23.6182, 5e-4),
        (ALICE, "daylight_h", 10.7431, 5e-4),
        (ALICE, "water_net_radiation_mj", 8.6401, 1e-3),
        # example data of the eto package, 4 January 2000: a dark day
        (
            "tmax=14.4 degC; tmin=8.4 degC; latitude=-43.6; day=4; elevation=500 m; "
            "vapour_pressure=10.4 hPa; radiation=4.2 MJ/m2/day",
            "reference_mm",
            1.49,
            0.012,
        ),
        # Wageningen, 2 July 1976, 28130 kJ/m2; evaporation by library pyet 1.5.0
        (
            "tmax=32.1 degC; tmin=14.3 degC; latitude=51.96667; date=1976-07-02; elevation=7 m; "
            "vapour_pressure=1.15 kPa; wind=2.2 m/s; radiation=28130 kJ/m2/day",
            "reference_mm",
            6.907,
            0.01,
        ),
    ],
)
def test_a_days_weather_gives_the_published_values(
    typed: str, key: str, expected: float, within: float
) -> None:
    assert number("evaporation", typed, key) == pytest.approx(expected, abs=within)


def test_water_loses_more_than_grass_and_shelter_acts_on_the_pond_alone() -> None:
    open_pond = answer("evaporation", f"{UCCLE}; day=187")
    sheltered = answer("evaporation", f"{UCCLE}; day=187; site_factor=0.74")
    reference = number("evaporation", f"{UCCLE}; day=187", "reference_mm")
    assert open_pond["open_water_mm"] == pytest.approx(1.05 * reference)
    assert sheltered["reference_mm"] == reference
    assert sheltered["open_water_mm"] == open_pond["open_water_mm"]
    assert sheltered["pond_mm"] == pytest.approx(0.74 * 1.05 * reference)


def test_only_a_full_station_gets_the_upper_estimate() -> None:
    assert number("evaporation", f"{UCCLE}; day=187", "penman_mm") > 4
    assert "penman_mm" not in answer("evaporation", f"{LYON}; day=196")


def test_the_same_day_in_us_units_is_the_same_day() -> None:
    metric = answer("evaporation", f"{UCCLE}; day=187")
    typed = (
        "tmax=70.7 degF; tmin=54.14 degF; latitude=50.8 deg; elevation=328.084 ft; rhmax=84 %; "
        "rhmin=63 %; wind=6.213711922 mph; wind_height=32.8084 ft; sun=9 h 15 min; day=187"
    )
    results = answer("evaporation", typed)
    assert results.pop("method") == metric.pop("method")
    assert results == pytest.approx(metric, rel=1e-6)


def test_the_polar_night_gives_numbers() -> None:
    typed = "tmax=-20 degC; tmin=-30 degC; latitude=78; date=2026-12-21; elevation=0 m"
    results = answer("evaporation", typed)
    assert results["daylight_h"] == 0
    assert results["reference_mm"] == pytest.approx(0.2, abs=0.2)


def test_hargreaves_gives_the_published_values() -> None:
    # FAO-56 (1998) Eq. 52 on the heat wave of Wageningen, 1 and 3 July 1976, computed from it
    place = "latitude=51.96667 deg"
    first = number(
        "hargreaves", f"tmax=29.1 degC; tmin=16.3 degC; {place}; day=183", "reference_mm"
    )
    third = number(
        "hargreaves", f"tmax=34.4 degC; tmin=17.4 degC; {place}; date=1976-07-03", "reference_mm"
    )
    assert first == pytest.approx(5.62, abs=0.01)
    assert third == pytest.approx(6.96, abs=0.01)


@pytest.mark.parametrize(
    ("typed", "key", "expected", "within"),
    [
        # FAO-56 (1998) Example 21 p. 83: the week's mean 7.87 mm, 6.7 mm
        (
            "pan=7.8714 mm/day; surround=green; wind=1.9 m/s; humidity=73 %; fetch=1000 m; "
            "method=table",
            "evaporation_mm",
            6.7,
            0.05,
        ),
        # FAO-56 Example 22 p. 86
        (
            "pan=8 mm; surround=green; wind=1.9 m/s; humidity=73 %; fetch=1 km",
            "coefficient",
            0.83,
            0.005,
        ),
        (
            "pan=8 mm; surround=dry; wind=1.9 m/s; humidity=73 %; fetch=1000 m",
            "coefficient",
            0.61,
            0.005,
        ),
        ("pan=8 mm; coefficient=0.7", "evaporation_mm", 5.6, 1e-9),
    ],
)
def test_a_pan_gives_the_published_evaporation(
    typed: str, key: str, expected: float, within: float
) -> None:
    assert number("pan-evaporation", typed, key) == pytest.approx(expected, abs=within)


# --- leaks, reserves, lines ----------------------------------------------------------------------


def test_a_bucket_test_answers_with_an_interval_and_a_word() -> None:
    # constructed: 12 mm against 7 mm in a day off 8 m2 is 40 L/day, 1.96 x 2 mm either way
    results = answer("bucket-test", "pond_drop=12 mm; bucket_drop=7 mm; time=24 h; area=8 m2")
    assert results["leak_mm_per_day"] == pytest.approx(5)
    assert results["leak_l_per_day"] == pytest.approx(40)
    assert results["low_l_per_day"] == pytest.approx(40 - 31.36, abs=0.01)
    assert results["high_l_per_day"] == pytest.approx(40 + 31.36, abs=0.01)
    assert results["verdict"] == "leak"


def test_a_pond_that_fell_like_its_bucket_is_not_accused() -> None:
    # bucket-test page on a desert summer: 5/8 in a day is evaporation
    typed = "pond_drop=1 7/8 in; bucket_drop=1 7/8 in; time=3 d; area=450 ft2; reading_error=0.5 mm"
    assert answer("bucket-test", typed)["verdict"] == "none found"


def test_a_reserve_lasts_its_days() -> None:
    # constructed: 400 L over 4.5 mm x 8 m2 + 6 L
    typed = "usable=400 L; area=8 m2; evaporation=4.5 mm/day; leak=6 L/day"
    assert number("reserve-days", typed, "days") == pytest.approx(9.5238, abs=1e-3)


# NIST Statistical Reference Datasets, Norris: y, x
NORRIS = """
0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3
449.1 448.6 778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0
448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3
0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1 117.6 118.3
228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5
"""


def test_a_line_meets_the_certified_values() -> None:
    words = NORRIS.split()
    rows = [f"{x},{y}" for y, x in zip(words[::2], words[1::2], strict=True)]
    results = answer("trend", "file=ozone", ozone="\n".join(["\ufeffx,y", "# NIST", *rows, ""]))
    assert results["slope"] == pytest.approx(1.00211681802045, abs=1e-11)
    assert results["intercept"] == pytest.approx(-0.262323073774029, abs=1e-9)
    assert results["slope_se"] == pytest.approx(0.429796848199937e-3, abs=1e-11)
    assert results["intercept_se"] == pytest.approx(0.232818234301152, abs=1e-9)
    slope_se = 0.429796848199937e-3
    # Student's t(0.975, 34) = 2.0322, any table
    assert results["slope_high"] == pytest.approx(1.00211681802045 + 2.0322 * slope_se, abs=1e-7)


def test_a_file_from_another_machine_is_read_too() -> None:
    # Sen (1968) J. Am. Stat. Assoc. 63:1379-1389: slope 4
    text = "1,9\r\n2,15\r\n3,19\r\n4,20\r\n10,45\r\n12,55\r\n18,78\r\n"
    assert answer("trend", "file=sen", sen=text)["sen_slope"] == pytest.approx(4)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("x,y\n1,2\n2,three\n", "line 3"),
        ("x,y\n1,2,3\n", "line 2"),
        ("1,2\n2,1_000\n", "line 2"),
        ("1,2\n2,inf\n", "line 2"),
        ("x,y\n", "two different x"),
        ("1,2\n2,3\n", "three points"),
        ("1,2\n" * 20_001, "at most 20000 lines"),
    ],
)
def test_a_file_that_holds_no_line_is_refused_with_its_place(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        answer("trend", "file=bad", bad=text)


# --- safety --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        # ASME A112.1.2 and the UK water regulations, as widely printed
        ("bore=1 in; rule=us", 50.8),
        ("bore=10 mm; rule=us", 25.4),
        ("bore=9 mm; rule=uk", 20),
        ("bore=13 mm; rule=uk", 26),
        ("bore=13 mm; near_wall=yes; rule=uk", 39),
        ("bore=10 mm", 25.4),
    ],
)
def test_the_air_gap_follows_the_rule(typed: str, expected: float) -> None:
    assert number("air-gap", typed, "gap_mm") == pytest.approx(expected)


def test_water_weighs_a_kilogram_a_litre() -> None:
    mass = number("water-weight", "volume=55 US gal", "mass_kg")
    assert mass == pytest.approx(208.2, abs=0.1)


def test_a_stuck_valve_fills_spills_costs_and_poisons() -> None:
    # constructed: 720 L ran, 300 L stayed; what stayed mixes, the rest pushes the mixture out
    typed = "flow=12 L/min; time=1 h; price=4.20; pond=5000 L; room=300 L; chlorine=1 mg/L"
    results = answer("stuck-valve", typed)
    assert results["volume_l"] == pytest.approx(720)
    assert results["cost"] == pytest.approx(3.024)
    assert results["spilled_l"] == pytest.approx(420)
    assert results["pond_mg_per_l"] == pytest.approx(0.12853, abs=1e-4)


def test_a_stuck_valve_without_a_brim_only_mixes() -> None:
    results = answer("stuck-valve", "flow=10 L/min; time=100 min; pond=4000 L; chlorine=2 mg/L")
    assert results == pytest.approx({"volume_l": 1000, "pond_mg_per_l": 0.4})


# --- refusals ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "typed", "words"),
    [
        ("barrel-volume", "shape=lying; diameter=58 cm; length=90 cm", "depth or volume"),
        (
            "barrel-volume",
            "shape=lying; diameter=58 cm; length=90 cm; depth=1 cm; volume=1 L",
            "not more than one",
        ),
        ("barrel-volume", "shape=lying; diameter=58 cm; length=90 cm; depth=60 cm", "0 to 580 mm"),
        ("barrel-volume", "shape=lying; diameter=58 cm; length=90 cm; volume=1 m3", "0 to 237"),
        ("barrel-volume", "shape=upright; diameter=58 cm; depth=1 cm", "height or length"),
        (
            "barrel-volume",
            "shape=upright; diameter=58 cm; height=90 cm; depth=91 cm",
            "0 to 900 mm",
        ),
        ("barrel-volume", "shape=upright; height=90 cm; depth=10 cm", "diameter"),
        (
            "barrel-volume",
            "shape=straight; area=1 m2; width=1 m; breadth=1 m; height=90 cm; depth=1 cm",
            "not both",
        ),
        ("fill-time", "volume=100 L; flow=0 L/min", "flow"),
        ("flow-by-bucket", "volume=10 L; time=0 s", "time"),
        ("hole-drain", "area=1 m2; hole=1 cm; depth_start=1 m; depth_end=2 m", "0 to 1000 mm"),
        ("hole-drain", "area=1 m2; hole=1 cm; depth_start=1 m; cd=1.5", "between 0.01 and 1"),
        (
            "level-out",
            "barrel_area=1 m2; pond_area=9 m2; difference_start=1 m; difference_end=2 m; "
            "hole_area=1 cm2",
            "0 to 1000 mm",
        ),
        ("hose-flow", "head=0 m; bore=19 mm; length=10 m", "head"),
        ("hose-flow", "head=1 m; bore=19 mm; length=10 m; temp=150 degC", "between 0"),
        ("hose-flow", "head=1 m; bore=1 mm; length=10 m; roughness=1 mm", "0 to 0.05 mm"),
        ("drain-time", BARREL.replace("drop=30 cm", "drop=-10 cm"), "stay above 100 mm"),
        ("drain-time", BARREL.replace("depth_end=5 cm", "depth_end=95 cm"), "at least depth_end"),
        ("friction-factor", "reynolds=10_000; relative_roughness=0.2", "plain digits"),
        ("friction-factor", "reynolds=10000; relative_roughness=0.2", "between 0 and 0.05"),
        ("pond-volume", "shape=box; length=3 m; depth=1 m", "width"),
        ("pond-volume", "shape=table", "areas"),
        ("pond-volume", "shape=table; areas=0 m:10 m2", "two rows"),
        ("pond-volume", "shape=cone; top_diameter=3 m; depth=1 m", "bottom_diameter"),
        ("pond-volume", "shape=battered; length=3 m; width=2 m; depth=1 m", "side_slope"),
        (
            "pond-volume",
            "shape=battered; length=3 m; width=2 m; depth=1 m; side_slope=1.5",
            "meet 666.667 mm down",
        ),
        (
            "pond-volume",
            "shape=box; length=3 m; width=2 m; depth=1 m; drop=2 m",
            "0 to 1000 mm",
        ),
        ("level-volume", "area=8 m2", "two of area"),
        ("level-volume", "area=8 m2; drop=1 mm; volume=8 L", "two of area"),
        ("level-volume", "drop=0 mm; volume=8 L", "drop"),
        ("mix", "volume_1=1 L; value_1=9 degC; volume_2=1 L; value_2=9 mg/L", "two temperatures"),
        ("mix", "volume_1=0 L; value_1=9 degC; volume_2=0 L; value_2=9 degC", "together"),
        (
            "largest-addition",
            "pond=5000 L; pond_temp=20 degC; added_temp=19.5 degC; limit=1 degC",
            "any amount will do",
        ),
        ("tempering-time", "change=5 degC; limit=0 degC; per=30 min", "limit"),
        ("roof-catch", "rain=10 mm", "plan area"),
        ("roof-catch", "rain=10 mm; slope_length=4 m; width=5 m", "together"),
        ("roof-catch", "rain=10 mm; area=20 m2; width=5 m", "width is left"),
        ("roof-catch", "rain=10 mm; area=20 m2; runoff=120 %", "between 0 % and 100 %"),
        ("first-flush", "area=20 m2", "depth or volume"),
        ("first-flush", "area=20 m2; depth=1 mm; pipe=0 mm", "pipe"),
        ("evaporation", LYON, "date or day"),
        ("evaporation", f"{LYON}; date=2026-07-15; day=196", "not more than one"),
        ("evaporation", f"{LYON}; day=196.5", "whole number"),
        ("evaporation", f"{LYON}; day=196; sun=20 h", "hours of sunshine"),
        ("evaporation", f"{LYON}; day=196; dry_bulb=20 degC", "together"),
        ("evaporation", f"{LYON}; day=196; rhmin=40 %", "largest"),
        ("evaporation", f"{LYON}; day=196; rhmean=120 %", "between 0 % and 100 %"),
        (
            "evaporation",
            "tmax=10 degC; tmin=20 degC; latitude=50; day=1; elevation=0 m",
            "must not be below tmin",
        ),
        (
            "evaporation",
            "tmax=20 degC; tmin=10 degC; latitude=95; day=1; elevation=0 m",
            "between -90 deg and 90 deg",
        ),
        ("hargreaves", "tmax=10 degC; tmin=20 degC; latitude=50; day=1", "must not be below"),
        ("pan-evaporation", "pan=8 mm", "together"),
        ("pan-evaporation", "pan=8 mm; coefficient=0.8; wind=2 m/s", "wind is left over"),
        (
            "pan-evaporation",
            "pan=8 mm; surround=green; wind=12 m/s; humidity=50 %; fetch=10 m",
            "1 to 8 m/s",
        ),
        ("bucket-test", "pond_drop=9 mm; bucket_drop=7 mm; time=0 h; area=8 m2", "time"),
        ("reserve-days", "usable=400 L; area=8 m2; evaporation=0 mm/day", "nothing is lost"),
        ("air-gap", "bore=0 mm", "bore"),
        ("stuck-valve", "flow=12 L/min; time=1 h; chlorine=1 mg/L", "pond"),
        ("stuck-valve", "flow=12 L/min; time=1 h; chlorine=1 mg/L; pond=0 L", "pond"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(name: str, typed: str, words: str) -> None:
    with pytest.raises(InputError) as refusal:
        answer(name, typed)
    assert words in str(refusal.value)
    assert "\n" not in str(refusal.value)
