"""Names of worksheets, inputs and results are a promise: scripts rely on them."""

from __future__ import annotations

import pytest

from pondtui.worksheets.registry import find, sheets

# worksheet: its inputs | its results
PROMISED = {
    "barrel-volume": "shape diameter width breadth height length depth volume"
    " | volume_l fraction depth_mm",
    "fill-time": "volume flow | time_min",
    "flow-by-bucket": "volume time | flow_l_per_min",
    "barrel-girth": "girth wall height | diameter_mm volume_l",
    "dipstick": "wet dry stick | height_mm",
    "pond-survey": "outline row_1 row_2 row_3 row_4 row_5 row_6 | volume_l area_m2 areas",
    "side-slope": "inwards down | side_slope",
    "watched-release": "shape diameter width breadth area height length outlet depth_start"
    " depth_end time drop bore pipe_length | fittings time_s",
    "roof-area": "along across | area_m2",
    "hole-drain": "area diameter hole hole_area depth_start depth_end cd elapsed | time_s depth_mm",
    "level-out": "barrel_area pond_area difference_start difference_end hole_area cd | time_s",
    "hose-flow": "head bore length roughness fittings temp viscosity"
    " | flow_l_per_min velocity_m_per_s friction_factor reynolds",
    "drain-time": "shape diameter height length depth_start depth_end drop bore pipe_length"
    " roughness fittings temp viscosity"
    " | time_s first_flow_l_per_min last_flow_l_per_min volume_l",
    "friction-factor": "reynolds relative_roughness | darcy",
    "leak-hole": "hole head cd | flow_l_per_day",
    "air-gap": "bore near_wall rule | gap_mm",
    "water-weight": "volume | mass_kg",
    "conditioner-dose": "label_dose label_volume fill_level heel heel_clear tap_chlorine"
    " label_chlorine multiplier graduation | dose_ml measured_ml teaspoons",
    "dechlorinator-mass": "agent volume chlorine margin purity end_point stock excess"
    " | ratio mass_g stock_ml oxygen_demand_mg_per_l agent_per_oxygen",
    "chloramine-ammonia": "combined total free released pond"
    " | combined_mg_per_l ammonia_n_mg_per_l ammonia_nh3_mg_per_l pond_rise_n_mg_per_l",
    "untreated-release": "chlorine released pond"
    " | pond_mg_per_l times_chronic_limit dechlorinator_g",
    "chlorine-airing": "chlorine half_life time target | left_mg_per_l time_h",
    "carbon-contact": "bed flow contact | bed_l flow_l_per_min contact_min",
    "doser-rate": "label_dose label_volume flow stock_factor | dose_ml_per_min",
    "stuck-valve": "flow time price pond room chlorine | volume_l cost spilled_l pond_mg_per_l",
    "pond-volume": "shape length width depth diameter top_diameter bottom_diameter side_slope"
    " areas rule drop | volume_l area_m2 drop_volume_l",
    "level-volume": "area drop volume | volume_l drop_mm area_m2",
    "roof-catch": "area slope_length width pitch rain runoff first_flush | plan_area_m2 volume_l",
    "first-flush": "area depth volume pipe | volume_l depth_mm pipe_length_m",
    "evaporation": "tmax tmin latitude date day elevation rhmax rhmin rhmean tdew"
    " vapour_pressure dry_bulb wet_bulb wind wind_height sun radiation coast site_factor"
    " | reference_mm open_water_mm pond_mm penman_mm net_radiation_mj water_net_radiation_mj"
    " solar_mj wind_2m_m_per_s extraterrestrial_mj daylight_h vapour_pressure_kpa method",
    "hargreaves": "tmax tmin latitude date day | reference_mm",
    "pan-evaporation": "pan coefficient surround wind humidity fetch method"
    " | evaporation_mm coefficient",
    "bucket-test": "pond_drop bucket_drop time area reading_error"
    " | leak_mm_per_day leak_l_per_day low_l_per_day high_l_per_day verdict",
    "reserve-days": "usable area evaporation leak | days",
    "free-ammonia": "ammonia basis ph temp | fraction nh3_n_mg_per_l nh3_mg_per_l",
    "ammonia-limits": "ph temp mussels salmonids early_life"
    " | acute_n_mg_per_l chronic_n_mg_per_l four_day_n_mg_per_l",
    "oxygen-saturation": "temp pressure altitude sea_level_pressure oxygen"
    " | saturation_mg_per_l percent",
    "carbon-dioxide": "ph temp alkalinity | co2_mg_per_l",
    "hardness": "value to calcium magnesium | value caco3_mg_per_l",
    "nitrogen": "value from to | value_mg_per_l",
    "treatment-amount": "volume target active | mass_g volume_ml",
    "salt-for-nitrite": "nitrite basis chloride volume ratio | salt_g",
    "salt-for-percent": "volume target | salt_g",
    "bicarbonate": "rise volume | mass_g",
    "water-change": "pond tap fraction times target flow_through | after_mg_per_l changes",
    "build-up": "pond tap evaporated volume changed | after_mg_per_l factor",
    "mix": "volume_1 value_1 volume_2 value_2 | value",
    "largest-addition": "pond pond_temp added_temp limit | volume_l",
    "tempering-time": "change limit per | time_min",
    "trend": "file confidence | slope intercept slope_low slope_high intercept_low"
    " intercept_high slope_se intercept_se sen_slope sen_low sen_high",
}


@pytest.mark.parametrize("name", PROMISED)
def test_a_worksheet_keeps_its_names(name: str) -> None:
    inputs, results = PROMISED[name].split("|")
    sheet = find(name)
    # more may be offered, none may go
    assert set(inputs.split()) <= {field.name for field in sheet.inputs}
    assert set(results.split()) == {result.key for result in sheet.results}


def test_no_worksheet_is_without_a_promise() -> None:
    assert {sheet.name for sheet in sheets()} == set(PROMISED)
