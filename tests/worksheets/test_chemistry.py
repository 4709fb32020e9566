"""The worksheets of water chemistry, from what a keeper types to published figures."""

from __future__ import annotations

from typing import NamedTuple

import pytest

from pondtui.errors import InputError
from pondtui.science.carbonate import CACO3_MG_L
from pondtui.units import convert
from pondtui.worksheets.registry import find
from pondtui.worksheets.run import run

OURS = (
    "conditioner-dose",
    "dechlorinator-mass",
    "chloramine-ammonia",
    "untreated-release",
    "chlorine-airing",
    "carbon-contact",
    "doser-rate",
    "free-ammonia",
    "ammonia-limits",
    "oxygen-saturation",
    "carbon-dioxide",
    "hardness",
    "nitrogen",
    "treatment-amount",
    "salt-for-nitrite",
    "salt-for-percent",
    "bicarbonate",
    "water-change",
    "build-up",
)


class Case(NamedTuple):
    """One published figure and how a keeper would ask for it."""

    sheet: str
    typed: str  # inputs, parted by semicolons
    key: str
    expected: float
    tolerance: float
    source: str


def typed(text: str) -> dict[str, str]:
    pairs = (part.split("=", 1) for part in text.split(";") if part.strip())
    return {key.strip(): value.strip() for key, value in pairs}


def answer(sheet: str, text: str) -> dict[str, float | str]:
    return run(sheet, typed(text)).results


WEIGHTS = "stoichiometry, IUPAC weights"
FIELD_GUIDE = "AWWA Field Guide (2006) Table 7-2"
C651 = "ANSI/AWWA C651 (1999-2014), from memory"
DOSES = [
    Case(
        "conditioner-dose",
        "label_dose=5 mL; label_volume=10 US gal; fill_level=50 US gal",
        "dose_ml", 25.0, 0.01, "constructed label",
    ),
    Case(
        "conditioner-dose",
        "label_dose=5 mL; label_volume=40 L; fill_level=200 L; heel=60 L; heel_clear=yes;"
        " multiplier=2",
        "dose_ml", 35.0, 0.01, "constructed label, double for chloramine",
    ),
    Case(
        "conditioner-dose",
        "label_dose=1 US tsp; label_volume=10 US gal; fill_level=50 US gal",
        "dose_ml", 24.64, 0.01, "constructed; UCUM US teaspoon 4.9289 mL",
    ),
    Case(
        "conditioner-dose",
        "label_dose=5 mL; label_volume=10 US gal; fill_level=50 US gal",
        "teaspoons", 5.0, 0.001, "21 CFR 101.9(b)(5)(viii): a teaspoon is 5 mL",
    ),
    Case(
        "conditioner-dose",
        "label_dose=5 mL; label_volume=40 L; fill_level=150 L; tap_chlorine=3 mg/L;"
        " label_chlorine=2 mg/L; graduation=5 mL",
        "measured_ml", 30.0, 1e-9, "constructed: 28.125 mL, marks of 5 mL",
    ),
    Case(
        "dechlorinator-mass",
        "agent=thiosulfate-pentahydrate; volume=1000 L; chlorine=1 mg/L; margin=0 %",
        "mass_g", 7.0, 0.02, "laboratory note TE213 (2017): 7.0 mg for every mg",
    ),
    Case(
        "dechlorinator-mass",
        "agent=thiosulfate-anhydrous; volume=1000 L; chlorine=1 mg/L; end_point=sulfur",
        "ratio", 2.23, 0.01, WEIGHTS,
    ),
    Case(
        "dechlorinator-mass",
        "agent=thiosulfate-pentahydrate; volume=1 L; chlorine=1 mg/L; end_point=sulfate",
        "ratio", 0.875, 0.003, WEIGHTS,
    ),
    Case(
        "dechlorinator-mass",
        "agent=thiosulfate-pentahydrate; volume=1 L; chlorine=1 mg/L; end_point=sulfur",
        "ratio", 3.5, 0.01, WEIGHTS,
    ),
    Case(
        "dechlorinator-mass",
        "agent=bisulfite; volume=1 m3; chlorine=1 mg/L; margin=10 %",
        "mass_g", 1.61, 0.01, FIELD_GUIDE,
    ),
    Case(
        "dechlorinator-mass",
        "agent=sulfite; volume=1 m3; chlorine=1 mg/L; margin=10 %",
        "mass_g", 1.96, 0.01, FIELD_GUIDE,
    ),
    Case(
        "dechlorinator-mass",
        "agent=ascorbic-acid; volume=1 m3; chlorine=1 mg/L",
        "ratio", 2.5, 0.05, FIELD_GUIDE,
    ),
    Case(
        "dechlorinator-mass",
        "agent=sodium-ascorbate; volume=1 m3; chlorine=1 ppm",
        "ratio", 2.8, 0.05, FIELD_GUIDE,
    ),
    Case(
        "dechlorinator-mass",
        "agent=ascorbic-acid; volume=100 US gal; chlorine=1 mg/L; margin=0 %",
        "mass_g", 1.0, 0.07, "USDA Forest Service Tech Tip 0523-1301 (2005)",
    ),
    Case(
        "dechlorinator-mass",
        "agent=ascorbic-acid; volume=100000 US gal; chlorine=1 mg/L; margin=0 %",
        "mass_g", 2.1 * 453.592, 0.05 * 453.592, C651,
    ),
    Case(
        "dechlorinator-mass",
        "agent=thiosulfate-pentahydrate; volume=50 US gal; chlorine=2.5 mg/L; margin=0 %",
        "mass_g", 3.31, 0.01, "constructed, IUPAC weights",
    ),
    Case(
        "dechlorinator-mass",
        "agent=thiosulfate-pentahydrate; volume=50 US gal; chlorine=2.5 mg/L; stock=100 g/L",
        "stock_ml", 36.4, 0.1, "constructed, IUPAC weights",
    ),
    Case(
        "dechlorinator-mass",
        "agent=sulfite; volume=1 L; chlorine=1 mg/L",
        "agent_per_oxygen", 7.88, 0.01, "boiler-water practice",
    ),
    Case(
        "dechlorinator-mass",
        "agent=metabisulfite; volume=1 L; chlorine=1 mg/L",
        "agent_per_oxygen", 5.94, 0.01, WEIGHTS,
    ),
    Case(
        "dechlorinator-mass",
        "agent=thiosulfate-anhydrous; volume=1 L; chlorine=1 mg/L",
        "agent_per_oxygen", 2.47, 0.01, WEIGHTS,
    ),
    Case(
        "dechlorinator-mass",
        "agent=sulfite; volume=1 L; chlorine=1 mg/L; excess=20 mg/L",
        "oxygen_demand_mg_per_l", 2.54, 0.01, "constructed, IUPAC weights",
    ),
    Case(
        "dechlorinator-mass",
        "agent=sulfite; volume=1 L; chlorine=2 mg/L",
        "oxygen_demand_mg_per_l", 0.2 * 1.7777 / 7.878, 1e-4, "constructed: the margin is left",
    ),
]  # fmt: skip
CHLORINE = [
    Case(
        "chloramine-ammonia", "combined=1 mg/L", "ammonia_n_mg_per_l", 0.198, 0.001, WEIGHTS
    ),
    Case(
        "chloramine-ammonia", "total=2.5 mg/L; free=0.5 mg/L",
        "ammonia_nh3_mg_per_l", 2 * 0.2402, 0.001, WEIGHTS,
    ),
    Case(
        "chloramine-ammonia", "combined=2 mg/L; released=400 L; pond=3600 L",
        "pond_rise_n_mg_per_l", 0.0395, 0.0001, "constructed: a tenth of the final water",
    ),
    Case(
        "untreated-release", "chlorine=0.5 mg/L; released=100 L; pond=900 L",
        "pond_mg_per_l", 0.05, 0.0001, "a tenth untreated tap water, hobby page",
    ),
    Case(
        "untreated-release", "chlorine=0.5 mg/L; released=100 L; pond=900 L",
        "times_chronic_limit", 4.545, 0.01, "EPA 440/5-84-030 (1984) 0.011 mg/L, from memory",
    ),
    Case(
        "untreated-release", "chlorine=2 mg/L; released=400 L; pond=3600 L",
        "dechlorinator_g", 6.16, 0.01, "constructed: 0.8 g x 7.0 x 1.1",
    ),
    Case(
        "chlorine-airing", "chlorine=3.56 mg/L; half_life=8 h; time=12 h",
        "left_mg_per_l", 1.26, 0.01, "worked example of a mailing list (1999)",
    ),
    Case(
        "chlorine-airing", "chlorine=2 mg/L; half_life=12 h; target=0.011 mg/L",
        "time_h", 90, 0.1, "constructed",
    ),
    Case(
        "carbon-contact", "flow=12 gpm; contact=5 min",
        "bed_l", 8.02 * 28.3168, 0.3, "carbon tank sheet, V = Q x EBCT / 7.48",
    ),
    Case(
        "carbon-contact", "flow=12 US gal/min; contact=10 min",
        "bed_l", 16.04 * 28.3168, 0.6, "the same, 10 min for chloramine (AAMI)",
    ),
    Case(
        "carbon-contact", "bed=500 US gal; flow=700 US gal/min",
        "contact_min", 0.71, 0.005, "worked example 500 gal / 700 gpm",
    ),
    Case("carbon-contact", "bed=1 L; contact=2 min", "flow_l_per_min", 0.5, 0.001, "definition"),
    Case("carbon-contact", "bed=1 L; flow=15 L/min", "contact_min", 4 / 60, 1e-6, "definition"),
    Case(
        "carbon-contact", "flow=10 US gal/min; contact=10 min",
        "bed_l", 13.37 * 28.3168, 0.3, "definition",
    ),
    Case(
        "doser-rate", "label_dose=5 mL; label_volume=10 US gal; flow=2 US gal/min",
        "dose_ml_per_min", 1.0, 1e-9, "constructed",
    ),
    Case(
        "doser-rate", "label_dose=5 mL; label_volume=40 L; flow=8 L/min; stock_factor=10",
        "dose_ml_per_min", 10.0, 1e-9, "constructed: one part in ten",
    ),
]  # fmt: skip
FA16 = "UF/IFAS FA16, un-ionised fraction table"
A23 = "Clinical Guide to Fish Medicine Table A2.3 (T + 273.2, so 0.5 % is allowed)"
EPA = "EPA 822-R-13-001 (2013)"
NITROGEN = [
    *(
        Case(
            "free-ammonia", f"ammonia=1 mg/L; basis=N; ph={ph}; temp={temp}",
            "fraction", fraction, tolerance, source,
        )
        for ph, temp, fraction, tolerance, source in [
            (7.0, "20 degC", 0.0039, 0.00011, FA16),
            (7.6, "16 degC", 0.0116, 0.00011, FA16),
            (7.8, "6 degC", 0.0084, 0.00011, FA16),
            (8.0, "24 degC", 0.0502, 0.00011, FA16),
            (8.2, "86 degF", 0.1129, 0.00011, FA16),
            (8.4, "50 degF", 0.0445, 0.00011, FA16),
            (8.6, "28 degC", 0.2178, 0.00011, FA16),
            (8.5, "10 degC", 0.0556, 0.0003, A23),
            (8.5, "18 degC", 0.0978, 0.0005, A23),
            (9.0, "15 degC", 0.215, 0.0011, A23),
            (8.0, "0 degC", 0.0082, 0.0001, A23),
        ]
    ),
    Case(
        "free-ammonia", "ammonia=1.0 mg/L as N; ph=8; temp=24 degC",
        "nh3_n_mg_per_l", 0.0502, 0.0002, "FA16, worked example",
    ),
    Case(
        "free-ammonia", "ammonia=1.2878 mg/L; basis=NH4; ph=8; temp=24 degC",
        "nh3_n_mg_per_l", 0.0502, 0.0002, "constructed: the same on the ion's basis",
    ),
    Case(
        "free-ammonia", "ammonia=0.329 mg/L; basis=N; ph=8.5; temp=25 degC",
        "nh3_n_mg_per_l", 0.05, 0.0004, "constructed, FA16 turned round",
    ),
    Case("ammonia-limits", "ph=7; temp=20 degC", "acute_n_mg_per_l", 17, 0.5, EPA),
    Case("ammonia-limits", "ph=7; temp=20 degC", "chronic_n_mg_per_l", 1.9, 0.05, EPA),
    Case("ammonia-limits", "ph=7; temp=68 degF", "four_day_n_mg_per_l", 4.8, 0.1, EPA),
    Case(
        "ammonia-limits", "ph=8; temp=25 degC",
        "acute_n_mg_per_l", 2.6, 0.05, EPA + " Table 5a, from memory",
    ),
    Case(
        "ammonia-limits", "ph=8; temp=25 degC",
        "chronic_n_mg_per_l", 0.56, 0.005, EPA + " Table 6, from memory",
    ),
    Case(
        "ammonia-limits", "ph=7; temp=20 degC; mussels=no",
        "chronic_n_mg_per_l", 6.5, 0.05, EPA + " Appendix N",
    ),
    *(
        Case("nitrogen", f"value={v}; from={a}; to={b}", "value_mg_per_l", want, off, source)
        for v, a, b, want, off, source in [
            ("1 mg/L", "N", "NO3", 4.4268, 0.001, "printed factor"),
            ("1 mg/L", "NO3", "N", 0.2259, 0.0001, "printed factor"),
            ("1 mg/L", "N", "NH3", 1.2159, 0.0005, WEIGHTS),
            ("1 ppm", "N", "NH4", 1.2878, 0.0005, WEIGHTS),
            ("50 mg/L", "NO3", "N", 11.3, 0.05, "WHO nitrate guideline, from memory"),
            ("10 mg/L", "N", "NO3", 44.3, 0.1, "US limit for nitrate-N, from memory"),
        ]
    ),
]  # fmt: skip
EN = "EN 25814 / ISO 5814"
SRAC468 = "SRAC 468 (1996) Table 1"
OXYGEN_AND_CARBONATE = [
    *(
        Case("oxygen-saturation", f"temp={temp}", "saturation_mg_per_l", want, off, source)
        for temp, want, off, source in [
            ("0 degC", 14.6, 0.05, EN),
            ("5 degC", 12.8, 0.05, EN),
            ("50 degF", 11.3, 0.05, EN),
            ("16 degC", 9.87, 0.006, EN),
            ("20 degC", 9.09, 0.006, EN),
            ("25 degC", 8.26, 0.006, EN),
            ("30 degC", 7.56, 0.006, EN),
            ("15 degC", 10.08, 0.006, "USGS OWQ Tech. Memo 2011.03"),
            ("10 degC; pressure=650 mmHg", 9.7, 0.1, "a field instrument's handbook"),
            ("20 degC; altitude=1609 m", 7.45, 0.02, "constructed, Benson & Krause (1984)"),
            ("20 degC; altitude=5279 ft", 7.45, 0.02, "constructed, Benson & Krause (1984)"),
            (
                "20 degC; altitude=1609 m; sea_level_pressure=29.92 inHg",
                7.45, 0.02, "constructed: the standard atmosphere named",
            ),
        ]
    ),
    Case(
        "oxygen-saturation", "temp=25 degC; oxygen=7 mg/L",
        "percent", 84.7, 0.2, "constructed, Benson & Krause (1984)",
    ),
    Case(
        "carbon-dioxide", "ph=6.8; temp=25 degC; alkalinity=50 mg/L CaCO3",
        "co2_mg_per_l", 15.65, 0.2, SRAC468 + ", worked example",
    ),
    Case(
        "carbon-dioxide", "ph=7; temp=20 degC; alkalinity=100 mg/L",
        "co2_mg_per_l", 21.1, 0.4, SRAC468,
    ),
    Case(
        "carbon-dioxide", "ph=7.4; temp=59 degF; alkalinity=120 mg/L CaCO3",
        "co2_mg_per_l", 11.0, 0.25, SRAC468,
    ),
    *(
        Case("hardness", f"value={value}; to={end}", "value", want, off, source)
        for value, end, want, off, source in [
            ("1 dH", "meq/L", 0.357, 0.0005, "printed table: 10 mg/L CaO"),
            ("50 mg/L CaCO3", "dH", 2.805, 0.005, "FAO aquaponics glossary"),
            ("1 meq/L", "mg/L CaCO3", 50.0, 0.1, "printed table, exact 50.04"),
            ("1 mmol/L", "dH", 5.61, 0.005, "printed table"),
            ("1 eH", "mg/L CaCO3", 14.3, 0.06, "printed table"),
            ("1 °fH", "mg/L CaCO3", 10, 0.01, "printed table"),
        ]
    ),
    Case(
        "hardness", "calcium=40 mg/L; magnesium=12 mg/L; to=mg/L CaCO3",
        "value", 149.3, 0.1, "Standard Methods 2340 B, from memory: 2.497 Ca + 4.118 Mg",
    ),
]  # fmt: skip
SRAC410 = "SRAC 410 (1991) conversion table"
LB_G, GRAIN_G = 453.59237, 0.06479891
AMOUNTS = [
    *(
        Case("treatment-amount", f"volume={volume}; target=1 ppm", "mass_g", want, off, SRAC410)
        for volume, want, off in [
            ("1 acre ft", 2.72 * LB_G, 0.005 * LB_G),
            ("1 acre ft", 1233, 1),
            ("1 ft3", 0.0283, 0.00005),
            ("1 US gal", 0.0038, 0.00002),
            ("1000000 US gal", 8.345 * LB_G, 0.002 * LB_G),
            ("1 US gal", 0.058419 * GRAIN_G, 0.000005 * GRAIN_G),
        ]
    ),
    Case(
        "treatment-amount", "volume=4000 L; target=2 ppm; active=50 %",
        "volume_ml", 16, 1e-9, "constructed",
    ),
    Case(
        "salt-for-nitrite",
        "nitrite=10 mg/L; basis=NO2; chloride=0 mg/L; volume=1000 US gal",
        "salt_g", 624, 1, "SRAC 462 insurance level, 100 mg/L chloride; IUPAC weights",
    ),
    Case(
        "salt-for-nitrite",
        "nitrite=3.0446 mg/L as N; chloride=0 mg/L; volume=1000 US gal",
        "salt_g", 624, 1, "constructed: the same nitrite on the nitrogen basis",
    ),
    Case(
        "salt-for-percent", "volume=100 US gal; target=0.12 %",
        "salt_g", LB_G, 0.01 * LB_G, "trade and club pages: 1 lb in 100 gal is 0.12 %",
    ),
    Case(
        "bicarbonate", "rise=30 mg/L CaCO3; volume=4000 L",
        "mass_g", 201.4, 0.2, "constructed, IUPAC weights",
    ),
    Case(
        "bicarbonate", "rise=1 dH; volume=1000 L",
        "mass_g", 29.96, 0.03, "constructed, IUPAC weights",
    ),
    Case(
        "water-change", "pond=80 mg/L; tap=10 mg/L; fraction=25 %",
        "after_mg_per_l", 62.5, 1e-9, "constructed",
    ),
    Case(
        "water-change", "pond=80 mg/L; tap=0 mg/L; fraction=50 %; times=2",
        "after_mg_per_l", 20, 1e-9, "constructed: two halves leave a quarter",
    ),
    Case(
        "water-change", "pond=80 mg/L; tap=0 mg/L; fraction=50 %; target=10 mg/L",
        "changes", 3, 1e-9, "constructed: three halves",
    ),
    Case(
        "water-change", "pond=100 mg/L; tap=0 mg/L; fraction=200 %; flow_through=yes",
        "after_mg_per_l", 13.53, 0.01, "constructed: exp(-2)",
    ),
    Case(
        "build-up", "pond=120 mg/L; tap=120 mg/L; evaporated=1000 L; volume=1000 L",
        "factor", 2.0, 0.001, "cooling practice: two cycles",
    ),
    Case(
        "build-up", "pond=50 mg/L; tap=120 mg/L; evaporated=1000 L; volume=4000 L",
        "after_mg_per_l", 80, 1e-9, "constructed",
    ),
    Case(
        "build-up",
        "pond=100 mg/L; tap=100 mg/L; evaporated=1620 L; volume=5000 L; changed=1620 L",
        "factor", 2.0, 0.001, "cooling tower example: evaporation 1620, blowdown 1620",
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    "case", [*DOSES, *CHLORINE, *NITROGEN, *OXYGEN_AND_CARBONATE, *AMOUNTS], ids=lambda c: c.typed
)
def test_what_a_keeper_types_gives_the_published_figure(case: Case) -> None:
    found = answer(case.sheet, case.typed)[case.key]
    assert found == pytest.approx(case.expected, abs=case.tolerance), case.source


@pytest.mark.parametrize("name", OURS)
def test_the_worked_example_answers_only_keys_that_are_registered(name: str) -> None:
    sheet = find(name)
    results = run(name, sheet.example).results
    assert results
    assert set(results) <= {result.key for result in sheet.results}
    assert all(isinstance(value, float | int) for value in results.values())


@pytest.mark.parametrize(
    ("sheet", "text", "words"),
    [
        ("free-ammonia", "ammonia=1 mg/L; basis=NO3; ph=7; temp=20 degC", "N, NH3, NH4"),
        ("free-ammonia", "ammonia=1 mg/L; basis=TAN; ph=7; temp=20 degC", "N, NH3, NH4"),
        ("free-ammonia", "ammonia=1 mg/L; ph=7; temp=20 degC", "basis .*N, NH3, NH4"),
        ("nitrogen", "value=1 mg/L; from=nitrate; to=N", "N, NH3, NH4, NO2, NO3"),
        ("nitrogen", "value=1 mg/L as NO3; from=N; to=N", "as NO3, but from is N"),
        (
            "salt-for-nitrite",
            "nitrite=1 mg/L; basis=NO3; chloride=0 mg/L; volume=1 L",
            "one of N, NO2",
        ),
        ("hardness", "value=5 dH; to=ounces", "one of mg/L CaCO3, mg/L HCO3"),
        ("dechlorinator-mass", "agent=soap; volume=1 L; chlorine=1 mg/L", "ascorbic-acid"),
    ],
)
def test_wrong_words_are_refused_with_the_list(sheet: str, text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        answer(sheet, text)


@pytest.mark.parametrize(
    ("sheet", "text", "words"),
    [
        (
            "conditioner-dose",
            "label_dose=5 mL; label_volume=40 L; fill_level=50 L; heel=60 L; heel_clear=yes",
            "heel .* cannot be more than the fill",
        ),
        (
            "conditioner-dose",
            "label_dose=5 mL; label_volume=40 L; fill_level=50 L; tap_chlorine=3 mg/L",
            "label_chlorine is needed",
        ),
        (
            "conditioner-dose",
            "label_dose=5 mL; label_volume=40 L; fill_level=50 L; tap_chlorine=8 mg/L;"
            " label_chlorine=1 mg/L",
            "this product cannot do it",
        ),
        ("conditioner-dose", "label_dose=5 mL; label_volume=10 gal; fill_level=50 L", "US gal"),
        ("chloramine-ammonia", "total=1 mg/L", "total and free"),
        ("chloramine-ammonia", "total=1 mg/L; free=2 mg/L", "cannot be more than total"),
        ("chloramine-ammonia", "combined=1 mg/L; released=5 L", "go together"),
        ("chlorine-airing", "chlorine=1 mg/L; half_life=5 h", "time or target"),
        ("carbon-contact", "bed=1 L", "two of bed, flow and contact"),
        ("carbon-contact", "bed=1 L; flow=1 L/min; contact=1 min", "two of"),
        ("free-ammonia", "ammonia=1 mg/L; basis=N; ph=12; temp=20 degC", "between 4 and 11"),
        ("free-ammonia", "ammonia=1 mg/L; basis=N; ph=7; temp=50 degC", "between 0 degC and 40"),
        ("ammonia-limits", "ph=4; temp=20 degC", "between 5 and 10"),
        ("oxygen-saturation", "temp=20 degC; sea_level_pressure=1013 hPa", "needs altitude"),
        ("oxygen-saturation", "temp=20 degC; altitude=5 m; pressure=100 kPa", "leave altitude"),
        ("carbon-dioxide", "ph=10; temp=20 degC; alkalinity=1 mg/L", "measure one again"),
        ("hardness", "value=5 dH; calcium=1 mg/L; magnesium=1 mg/L", "not both"),
        ("salt-for-percent", "volume=100 L; target=0.3", "at most 10 %|between 0 .* and 10"),
        ("water-change", "pond=8 mg/L; tap=1 mg/L; fraction=150 %", "cannot be over 100 %"),
        (
            "water-change",
            "pond=8 mg/L; tap=1 mg/L; fraction=10 %; target=0.5 mg/L",
            "between the two",
        ),
        (
            "water-change",
            "pond=8 mg/L; tap=1 mg/L; fraction=10 %; target=5 mg/L; times=3",
            "not both",
        ),
        ("build-up", "pond=8 mg/L; tap=1 mg/L; evaporated=5 L; volume=0 L", "at least"),
    ],
)
def test_values_that_do_not_go_together_are_refused_in_one_sentence(
    sheet: str, text: str, words: str
) -> None:
    with pytest.raises(InputError, match=words) as refused:
        answer(sheet, text)
    assert "\n" not in str(refused.value)


def test_the_label_may_name_more_than_three_doses_itself() -> None:
    text = "label_dose=5 mL; label_volume=40 L; fill_level=40 L; multiplier=5"
    assert answer("conditioner-dose", text)["dose_ml"] == pytest.approx(25)


def test_a_weak_tap_reading_never_lowers_the_dose() -> None:
    text = "label_dose=5 mL; label_volume=40 L; fill_level=40 L; label_chlorine=2 mg/L"
    full = answer("conditioner-dose", text)["dose_ml"]
    assert answer("conditioner-dose", text + "; tap_chlorine=0.1 mg/L")["dose_ml"] == full


def test_hardness_words_mean_the_same_here_and_in_the_unit_table() -> None:
    for unit, caco3_mg_l in CACO3_MG_L.items():
        assert convert(1, unit, "mg/L CaCO3") == pytest.approx(caco3_mg_l, rel=1e-4)


def test_the_unit_of_an_input_never_changes_the_answer() -> None:
    metric = "agent=sulfite; volume=3785.411784 L; chlorine=2 mg/L"
    us = "agent=sulfite; volume=1000 US gal; chlorine=0.002 g/L"
    assert answer("dechlorinator-mass", us) == pytest.approx(answer("dechlorinator-mass", metric))
