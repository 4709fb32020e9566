"""Carbon dioxide, hardness and alkalinity against printed tables and an independent solver."""

from __future__ import annotations

import warnings
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.science import carbonate as ca

SRAC468 = "SRAC 468 (Hargreaves & Brunson 1996) Table 1"
PAGE = "water-chemistry conversion tables in common print"

units = st.sampled_from(sorted(ca.CACO3_MG_L))


@pytest.mark.parametrize(
    ("ph", "temp_c", "alkalinity", "co2", "tolerance", "source"),
    [
        (6.8, 25, 50, 15.65, 0.2, SRAC468 + ", worked example"),
        (7.0, 20, 100, 21.1, 0.4, SRAC468 + ", factor 0.211"),
        (7.4, 15, 120, 11.0, 0.25, SRAC468 + ", factor 0.092"),
    ],
)
def test_carbon_dioxide_agrees_with_the_extension_table(
    ph: float, temp_c: float, alkalinity: float, co2: float, tolerance: float, source: str
) -> None:
    assert ca.co2_mg_l(ph, temp_c, alkalinity) == pytest.approx(co2, abs=tolerance), source


def test_an_independent_solver_finds_the_same_carbon_dioxide() -> None:
    reason = "the reference library PyCO2SYS is not installed"
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # its own imports warn on new numpy
        solver = pytest.importorskip("PyCO2SYS", reason=reason)
        grid = list(product((6.0, 7.0, 7.5, 8.0, 9.0), (0.0, 10.0, 20.0, 40.0), (50.0, 250.0)))
        found = solver.sys(
            par1=[alkalinity / ca.MG_PER_MEQ * 1000 for _, _, alkalinity in grid],  # umol/kg
            par1_type=1,
            par2=[ph for ph, _, _ in grid],
            par2_type=3,
            temperature=[temp_c for _, temp_c, _ in grid],
            salinity=0.0,
            opt_k_carbonic=8,  # Millero (1979), pure water
            opt_pH_scale=3,
        )
    for place, micromol_kg in zip(grid, found["aqueous_CO2"], strict=True):
        # 1 %: its constants are other ones, and it counts by kg of water, not by litre
        mg_l = float(micromol_kg) * 44.009 / 1000
        assert ca.co2_mg_l(*place) == pytest.approx(mg_l, rel=0.01)


@given(ph=st.floats(5, 9.4), temp_c=st.floats(0, 40), alkalinity=st.floats(30, 400))
def test_a_ph_wrong_by_three_tenths_is_a_factor_of_two(
    ph: float, temp_c: float, alkalinity: float
) -> None:
    ratio = ca.co2_mg_l(ph, temp_c, alkalinity) / ca.co2_mg_l(ph + 0.3, temp_c, alkalinity)
    assert 1.9 < ratio < 3.0


@given(ph=st.floats(5, 9), temp_c=st.floats(0, 40), alkalinity=st.floats(20, 400))
def test_carbon_dioxide_grows_with_alkalinity(ph: float, temp_c: float, alkalinity: float) -> None:
    here = ca.co2_mg_l(ph, temp_c, alkalinity)
    assert 0 < here < ca.co2_mg_l(ph, temp_c, alkalinity + 1)


def test_water_without_alkalinity_cannot_hold_a_high_ph() -> None:
    with pytest.raises(ValueError, match="measure one again"):
        ca.co2_mg_l(10, 20, 1)


@pytest.mark.parametrize(
    ("ph", "temp_c", "alkalinity"),
    [(5, 0, 100), (5, 40, 100), (10, 0, 200), (10, 40, 400)],
)
def test_the_corners_of_the_range_are_taken(ph: float, temp_c: float, alkalinity: float) -> None:
    assert ca.co2_mg_l(ph, temp_c, alkalinity) > 0


@pytest.mark.parametrize(
    ("value", "start", "end", "expected", "tolerance", "source"),
    [
        (1, "dH", "meq/L", 0.357, 0.0005, PAGE + ": 10 mg/L CaO"),
        (1, "dH", "mg/L CaCO3", 17.8, 0.06, PAGE),
        (1, "eH", "mg/L CaCO3", 14.3, 0.06, PAGE),
        (1, "fH", "mg/L CaCO3", 10, 0.01, PAGE),
        (50, "mg/L CaCO3", "dH", 2.805, 0.005, "FAO aquaponics glossary"),
        (1, "meq/L", "mg/L CaCO3", 50.0, 0.1, PAGE + ", exact 50.04"),
        (1, "mmol/L", "dH", 5.61, 0.005, PAGE),
        (1, "gpg", "mg/L CaCO3", 17.1, 0.05, "one grain in a US gallon, definition"),
        (1, "meq/L", "mg/L HCO3", 61.0, 0.05, "IUPAC weights"),
    ],
)
def test_hardness_units_convert_as_printed(
    value: float, start: str, end: str, expected: float, tolerance: float, source: str
) -> None:
    found = ca.from_caco3_mg_l(ca.to_caco3_mg_l(value, start), end)
    assert found == pytest.approx(expected, abs=tolerance), source


@given(value=st.floats(0, 1e5), start=units, end=units)
def test_there_and_back_is_the_same_hardness(value: float, start: str, end: str) -> None:
    there = ca.from_caco3_mg_l(ca.to_caco3_mg_l(value, start), end)
    assert ca.from_caco3_mg_l(ca.to_caco3_mg_l(there, end), start) == pytest.approx(value)


def test_hardness_is_made_of_calcium_and_magnesium() -> None:
    # Standard Methods 2340 B, from memory: 2.497 Ca + 4.118 Mg
    assert ca.hardness_of_ions_mg_l(1, 0) == pytest.approx(2.497, abs=0.001)
    assert ca.hardness_of_ions_mg_l(0, 1) == pytest.approx(4.118, abs=0.001)
    assert ca.hardness_of_ions_mg_l(40, 12) == pytest.approx(40 * 2.497 + 12 * 4.118, abs=0.05)


def test_unknown_units_and_negative_values_are_refused() -> None:
    with pytest.raises(ValueError, match="use mg/L CaCO3"):
        ca.to_caco3_mg_l(1, "ounces")
    with pytest.raises(ValueError, match="hardness cannot be negative"):
        ca.from_caco3_mg_l(-1, "dH")
    with pytest.raises(ValueError, match="magnesium"):
        ca.hardness_of_ions_mg_l(1, -1)
