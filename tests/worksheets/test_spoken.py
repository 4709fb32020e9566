"""Examples are told in the pond's units, rounded, and work out as they are told."""

from __future__ import annotations

import math
import re

import pytest

from pondtui.errors import InputError
from pondtui.units import in_unit, read, show
from pondtui.views.sheets import example, hint, takes
from pondtui.worksheets.registry import Worksheet, find, sheets
from pondtui.worksheets.run import run
from pondtui.worksheets.spoken import canonical, spoken, system_of

SYSTEMS = ("metric", "us", "imperial")
ALL = list(sheets())


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("sheet", ALL, ids=lambda sheet: sheet.name)
def test_every_example_is_in_the_ponds_units_and_near_the_registered_one(
    sheet: Worksheet, system: str
) -> None:
    told = example(sheet, system)
    assert list(told) == list(sheet.example)
    for field in sheet.inputs:
        value = canonical(sheet.example.get(field.name, ""), field.kind)
        if value is None:
            continue
        own = canonical(told[field.name], field.kind)
        assert own is not None
        near = 0.3 if field.kind.startswith("temperature") else 0.05 * abs(value)
        assert math.isclose(own, value, rel_tol=0, abs_tol=near), (field.name, told[field.name])
        dimension = next(d for d in field.kind.split("|") if canonical(told[field.name], d))
        unit = read(told[field.name], dimension).unit
        same = show(value, dimension, system) == show(value, dimension, "metric")
        assert system_of([unit], None if system == "metric" else system) == system or same


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("sheet", ALL, ids=lambda sheet: sheet.name)
def test_every_example_as_told_leads_to_the_same_kinds_of_answer(
    sheet: Worksheet, system: str
) -> None:
    if any(field.kind == "file" for field in sheet.inputs):
        return
    told = run(sheet.name, example(sheet, system), gallon=None if system == "metric" else system)
    assert told.notes == ()  # no unit had to be guessed
    assert list(told.results) == list(run(sheet.name, sheet.example).results)


@pytest.mark.parametrize("sheet", ALL, ids=lambda sheet: sheet.name)
def test_without_a_pond_the_example_is_the_registered_one(sheet: Worksheet) -> None:
    assert example(sheet, None) == dict(sheet.example)


@pytest.mark.parametrize(
    ("text", "kind", "system", "told"),
    [  # factors: NIST SP 811 (2008), appendix B; imperial gallon: 4.54609 L
        ("200 L", "volume", "us", "53 US gal"),  # 52.83
        ("200 L", "volume", "imperial", "44 imp gal"),  # 43.99
        ("4000 L", "volume", "us", "1060 US gal"),  # 1056.7
        ("5 mL", "volume", "us", "5 mL"),  # a syringe has no other marks
        ("0 L", "volume", "us", "0 US gal"),
        ("580 mm", "length", "us", "23 in"),  # 22.83
        ("71 mm", "length", "imperial", "2 3/4 in"),  # 2.795
        ("3 mm", "length", "us", "0.12 in"),  # 0.118, and 1/8 is too far off
        ("0.0015 mm", "length", "us", "0.000059 in"),
        ("9 m", "length", "us", "30 ft"),  # 29.53
        ("12.3 degC", "temperature", "us", "54 °F"),  # 54.14
        ("6 degC", "temperature_change", "us", "11 °F"),  # 10.8
        ("2.8 cm2", "area", "us", "0.43 in2"),  # 0.434
        ("8 m2", "area", "imperial", "86 ft2"),  # 86.11
        ("22 degC", "temperature|concentration", "us", "72 °F"),
        ("2 mg/L", "temperature|concentration", "us", "2 mg/L"),
        ("1.9 m/s", "speed", "us", "4.3 mph"),  # 4.25
        ("40 cm: 2.6 m x 1.5 m", "text", "us", "16 in: 8.5 ft x 59 in"),
        ("15 US gal", "volume", "metric", "57 L"),  # 56.8
        ("15 US gal", "volume", "us", "15 US gal"),
        ("15 US gal", "volume", "imperial", "12 imp gal"),  # 12.49
        ("1500 ft2", "area", "metric", "140 m2"),  # 139.4
        ("182 cm", "length", "metric", "182 cm"),
        ("dH", "text", "us", "dH"),
        ("30 min", "time", "us", "30 min"),
        ("lying", "choice", "us", "lying"),
    ],
)
def test_a_value_is_told_in_the_units_of_the_keeper(
    text: str, kind: str, system: str, told: str
) -> None:
    assert spoken(text, kind, system) == told


def test_a_default_that_is_rounded_says_so_and_one_that_is_exact_does_not() -> None:
    sheet = find("evaporation")
    height = next(field for field in sheet.inputs if field.name == "wind_height")
    assert hint(sheet, height, None) == "2 m when left out"
    assert hint(sheet, height, "us") == "about 6.6 ft when left out"
    limits = "between 7.87402 in and 656.168 ft"  # 200 mm and 200 m
    assert (
        takes(height, "us") == f"a length such as 2 1/2 in; {limits}; {hint(sheet, height, 'us')}"
    )
    hose = find("hose-flow")
    temp = next(field for field in hose.inputs if field.name == "temp")
    assert hint(hose, temp, "us") == "59 °F when left out"
    assert in_unit(15.0, "temperature", "degF") == pytest.approx(59.0)
    gap = find("air-gap")
    rule = next(field for field in gap.inputs if field.name == "rule")
    assert hint(gap, rule, "imperial") == "uk when left out"
    assert example(gap, "imperial")["rule"] == "uk"


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("sheet", ALL, ids=lambda sheet: sheet.name)
def test_what_an_input_takes_is_told_without_an_exponent(sheet: Worksheet, system: str) -> None:
    for field in sheet.inputs:
        told = takes(field, system)
        assert not re.search(r"[0-9]e[+-]?[0-9]", told), told


def test_what_is_missing_is_asked_for_in_the_units_of_the_pond() -> None:
    with pytest.raises(InputError, match=r"flow \(a flow such as 2.9 US gal/min\)"):
        run("fill-time", {"volume": "50 US gal"}, gallon="us")
