"""The one reader of quantities: published factors, closed vocabulary, refusals, round trips."""

from __future__ import annotations

import re
import subprocess
import sys
from contextlib import suppress

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pondtui import units
from pondtui.errors import QuantityError
from pondtui.unit_words import CANONICAL, TABLE, find
from pondtui.units import (
    NOUNS,
    convert,
    dimension_of,
    read,
    read_measured,
    read_number,
    read_rate,
    show,
)

# (value, from, to, expected, relative tolerance, source)
NIST = "NIST SP 811 (2008) App. B.8; NIST Handbook 44 App. C"
FAO = "FAO-56 (1998) Table 3 p. 45 and Annex 1 p. 212"
PUBLISHED = [
    (1, "US gal", "L", 3.785411784, 1e-12, NIST),
    (1, "imp gal", "L", 4.54609, 1e-12, NIST),
    (1, "US fl oz", "mL", 29.5735295625, 1e-12, NIST),
    (1, "imp fl oz", "mL", 28.4130625, 1e-12, NIST),
    (1, "US tbsp", "mL", 14.78676478125, 1e-12, NIST),
    (1, "US tsp", "mL", 4.92892159375, 1e-12, NIST),
    (1, "US cup", "mL", 236.5882365, 1e-12, NIST),
    (1, "ft3", "L", 28.316846592, 1e-12, NIST),
    (1, "yd3", "L", 764.554857984, 1e-12, NIST),
    (1, "acre ft", "m3", 1233.48183754752, 1e-12, NIST),
    (1, "acre", "m2", 4046.8564224, 1e-12, NIST),
    (1, "in", "mm", 25.4, 1e-15, NIST),
    (1, "lb", "g", 453.59237, 1e-12, NIST),
    (1, "grain", "mg", 64.79891, 1e-12, NIST),
    (1, "gpm", "L/s", 0.06309020, 1e-7, NIST),
    (1, "inHg", "kPa", 3.386389, 2e-7, NIST),
    (1, "mmHg", "Pa", 133.3224, 2e-7, NIST),
    (1, "psi", "kPa", 6.894757, 1e-7, NIST),
    (1, "mph", "m/s", 0.44704, 1e-12, NIST),
    (1, "langley", "J/cm2", 4.184, 1e-12, NIST),
    (1, "knot", "m/s", 0.5144, 1e-4, FAO),
    (10, "km/h", "m/s", 2.78, 1e-3, "FAO-56 (1998) Example 18 p. 72"),
    (1, "W/m2", "MJ/m2/day", 0.0864, 1e-12, FAO),
    (1, "cal/cm2/day", "MJ/m2/day", 0.041868, 1e-12, FAO),
    (1, "J/cm2/day", "MJ/m2/day", 0.01, 1e-12, FAO),
    (1, "tsp", "mL", 5.0, 1e-12, "21 CFR 101.9(b)(5)(viii)"),
    (1, "tbsp", "mL", 15.0, 1e-12, "21 CFR 101.9(b)(5)(viii)"),
    (1, "dH", "meq/L", 0.357, 2e-3, "water conversion table, 1 dH = 10 mg/L CaO"),
    (1, "dH", "mg/L CaCO3", 17.8, 4e-3, "water conversion table, 1 dH = 10 mg/L CaO"),
    (1, "eH", "mg/L CaCO3", 14.3, 4e-3, "water conversion table, English degree"),
    (1, "fH", "mg/L CaCO3", 10.0, 1e-9, "water conversion table, French degree"),
    (50, "mg/L CaCO3", "dH", 2.805, 2e-3, "FAO aquaponics glossary: 50 mg/L = 2.805 dH"),
    (1, "mmol/L", "dH", 5.61, 1e-3, "water conversion table, mmol/L of Ca and Mg"),
    (1, "gpg", "mg/L CaCO3", 17.118, 1e-4, "constructed: 64.79891 mg in 3.785411784 L"),
    (64, "degF", "degC", 17.7777777777, 1e-9, NIST),
    (288.15, "K", "degC", 15.0, 1e-12, NIST),
    (1, "ppm", "mg/L", 1.0, 1e-12, "constructed: water of 1 kg/L"),
    (2.72, "lb/acre ft", "ppm", 1.0, 2e-3, "extension table of 1 ppm: 2.72 lb/acre-ft"),
    (1233, "g/acre ft", "ppm", 1.0, 1e-3, "extension table of 1 ppm: 1,233 g/acre-ft"),
    (0.0283, "g/ft3", "ppm", 1.0, 2e-3, "extension table of 1 ppm: 0.0283 g/ft3"),
    (0.058419, "grain/US gal", "ppm", 1.0, 1e-4, "extension table of 1 ppm: grain/US gal"),
    (0.07016, "grain/imp gal", "ppm", 1.0, 1e-4, "extension table of 1 ppm: grain/imp gal"),
]
_CAPITAL = "dose: small m and capital M differ: did you mean MJ/m2 by mj/m2?"
# Words that mean a day's sum without saying "/day".
DAY_SUMS = {"MJ/m2", "kJ/m2", "J/cm2", "cal/cm2", "langley"}
EVERY_WORD = [(dimension, word) for dimension, words in TABLE.items() for word in words]


@pytest.mark.parametrize(("value", "start", "end", "expected", "rel", "source"), PUBLISHED)
def test_a_published_factor_holds(
    value: float, start: str, end: str, expected: float, rel: float, source: str
) -> None:
    assert convert(value, start, end) == pytest.approx(expected, rel=rel), source


@pytest.mark.parametrize(("dimension", "word"), EVERY_WORD)
def test_the_table_equals_pint_loaded_with_the_vocabulary(dimension: str, word: str) -> None:
    registry = units.registry()
    expression = units.pint_expression(word) + (" / day" if word in DAY_SUMS else "")
    canonical = units.pint_expression(CANONICAL[dimension])
    if dimension == "temperature_change":
        expression, canonical = f"delta_{expression}", f"delta_{canonical}"
        expression = expression.replace("delta_K", "K")
    unit = find(word, dimension)
    assert unit is not None
    for number in (1.0, 37.5):
        expected = registry.Quantity(number, expression).to(canonical).magnitude
        assert unit.canonical(number) == pytest.approx(expected, rel=1e-12)


def test_reading_words_of_the_table_does_not_import_pint() -> None:
    code = (
        "import sys; from pondtui.units import read, show; read('40 US gal', 'volume');"
        "show(12.0, 'length', 'us'); assert 'pint' not in sys.modules;"
        "read('3 lb/acre ft', 'concentration'); assert 'pint' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("150 L", "volume", 150),
        ("150l", "volume", 150),
        ("150 litres", "volume", 150),
        ("40 US gal", "volume", 151.41647136),
        ("40 us gallons", "volume", 151.41647136),
        ("40 gal (US)", "volume", 151.41647136),
        ("9 imp gal", "volume", 40.91481),
        ("9 UK gal", "volume", 40.91481),
        ("2 7/16 in", "length", 61.9125),
        ("7/16in", "length", 11.1125),
        ('7/16"', "length", 11.1125),
        ("2½ in", "length", 63.5),
        ("1 ft 3 in", "length", 381),
        ("1 ft 3 1/2 in", "length", 393.7),
        ("1'3\"", "length", 381),
        ("18.5 degC", "temperature", 18.5),
        ("18.5\u00a0°C", "temperature", 18.5),
        ("64 °F", "temperature", 160 / 9),
        ("-4 C", "temperature", -4),
        ("\u22124 °C", "temperature", -4),
        ("5 degF", "temperature_change", 25 / 9),
        ("11 mL", "volume", 0.011),
        ("2 tsp", "volume", 0.010),
        ("1 h 20 min", "time", 80),
        ("2 min 30 s", "time", 2.5),
        ("1 h and 20 min", "time", 80),
        ("90 min", "time", 90),
        ("3 d", "time", 4320),
        ("2 lb 4 oz", "mass", 1020.5828325),
        ("8 m²", "area", 8),
        ("2 m³", "volume", 2000),
        ("3 m^3", "volume", 2000 * 1.5),
        ("3 cu ft", "volume", 84.950539776),
        ("12 L/d", "flow", 12 / 1440),
        ("12 litres per minute", "flow", 12),
        ("5 US gal/h", "flow", 0.315450982),
        ("0.6 ppm", "concentration", 0.6),
        ("20 µg/L", "concentration", 0.02),
        ("3 g/m3", "concentration", 3),
        ("50 %", "fraction", 0.5),
        ("0.5", "fraction", 0.5),
        ("51", "angle", 51),
        ("-33.9", "angle", -33.9),
        ("33.9 S", "angle", -33.9),
        ("50.8 N", "angle", 50.8),
        ("22 MJ/m2", "radiation", 22),
        ("4.2 dKH", "hardness", 74.961567405),
        ("80 mg/L as CaCO3", "hardness", 80),
        ("12 L/m2", "rain", 12),
        ("6 mm", "depth_rate", 6),
        ("0.25 in/day", "depth_rate", 6.35),
        ("0", "length", 0),
        (".5 L", "volume", 0.5),
        ("+5 L", "volume", 5),
        ("1.5e-06 m", "length", 0.0015),
        ("1e-05", "number", 0.00001),
        ("12 gpm", "flow", 45.424941408),
        ("12 US gpm", "flow", 45.424941408),
        ("12 imp gpm", "flow", 54.55308),
    ],
)
def test_a_keeper_is_understood(text: str, dimension: str, value: float) -> None:
    assert read(text, dimension).value == pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "dimension", "sentence"),
    [
        ("3 kg", "volume", "dose: a volume such as 150 L, not 3 kg"),
        ("12,5 L", "volume", "dose: use a point: 12.5 L"),
        ("1,500 L", "volume", "dose: use a point: 1.500 L (or no comma: 1500 L)"),
        ("1,500,000 L", "volume", "dose: write the number without commas: 1500000 L"),
        ("11", "volume", "dose: say the unit, such as 150 L"),
        ("9 gal", "volume", "dose: say US gal or imp gal"),
        ("9 gal/day", "flow", "dose: say US gal or imp gal"),
        ("2 fl oz", "volume", "dose: say US fl oz or imp fl oz"),
        ("5 galz", "volume", "dose: there is no unit 'galz'; did you mean US gal?"),
        ("5 ML", "volume", "dose: small m and capital M differ: did you mean mL by ML?"),
        ("5 mj/m2", "radiation", _CAPITAL),
        ("-3 L", "volume", "dose: a volume is never negative: -3 L"),
        ("1e30 L", "volume", "dose: 1e30 L is beyond every pond"),
        ("5-7 in", "length", "dose: one amount, its fraction after a space (2 7/16), not 5-7 in"),
        ("1_000 L", "volume", "dose: write the number in plain digits, such as 1500: 1_000 L"),
        ("1 000 L", "volume", "dose: write the number in plain digits, such as 1500: 1 000 L"),
        ("99999999999 L", "volume", "dose: 99999999999 L is beyond every pond"),
        ("1/0 in", "length", "dose: 1/0 in holds no proper fraction"),
        ("2 17/16 in", "length", "dose: 2 17/16 in holds no proper fraction"),
        ("", "volume", "dose: a volume such as 150 L, not nothing"),
        ("3 kg", "number", "dose: a plain number such as 7.5, not 3 kg"),
        ("1 h 20", "time", "dose: a time such as 1 h 20 min, not 1 h 20"),
    ],
)
def test_a_refusal_says_the_way_out(text: str, dimension: str, sentence: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read(text, dimension, what="dose")
    assert str(caught.value) == sentence


@pytest.mark.parametrize("gallon", [None, "us", "imperial"])
@pytest.mark.parametrize("dimension", sorted(NOUNS))
def test_a_refusal_names_an_example_that_would_be_read_there(
    dimension: str, gallon: str | None
) -> None:
    with pytest.raises(QuantityError) as caught:
        read("heron", dimension, gallon=gallon)
    example = re.fullmatch(r".* such as (.*), not heron", str(caught.value))
    assert example is not None
    assert read(example[1], dimension, gallon=gallon).value > 0
    if gallon and dimension in ("length", "volume", "temperature"):
        assert read(example[1], dimension, gallon=gallon).unit in (
            "in",
            "US gal",
            "imp gal",
            "degF",
        )


def test_a_refusal_names_the_example_that_it_is_given() -> None:
    with pytest.raises(QuantityError, match="a volume such as 11 mL, not heron"):
        read("heron", "volume", gallon="us", example="11 mL")


@pytest.mark.parametrize(
    "text",
    ["nan L", "inf L", "infinity L", "1e400 L", "9**9**9 L", "١٢ L", "３ L", "5² L", "5.L",
     "5..2 L", "L", "5-10 L", "~5 L", "1/2/3 L", "5 L L", "5 L/", "0x10 L", "__import__('os') L",
     "5 pond", "5 kilolitre**9", "20 L 3 mL", "1.5.2 L", "5 L\n6 L"],
)  # fmt: skip
def test_what_is_no_quantity_is_refused(text: str) -> None:
    with pytest.raises(QuantityError):
        read(text, "volume")


@pytest.mark.parametrize("text", ["20 min 1 h", "1.5 h 20 min", "1 h 20 L", "1 h 20 h", "2 h, x"])
def test_a_compound_time_has_whole_parts_of_falling_units(text: str) -> None:
    with pytest.raises(QuantityError):
        read(text, "time")


def test_a_bare_gallon_says_which_gallon_it_was() -> None:
    american = read("9 gal", "volume", gallon="us")
    british = read("9 gal", "volume", gallon="imperial")
    assert american.value == pytest.approx(34.068706056)
    assert british.value == pytest.approx(40.91481)
    assert (american.unit, british.unit) == ("US gal", "imp gal")
    assert american.assumed == "read as US gallons"
    assert british.assumed == "read as imperial gallons"
    assert read("9 US gal", "volume", gallon="imperial").assumed == ""


def test_a_hardness_without_a_basis_says_how_it_was_read() -> None:
    assert read("80 ppm", "hardness").assumed == "read as mg/L CaCO3"
    assert read("80 mg/L CaCO3", "hardness").assumed == ""


def test_a_length_may_be_negative_only_where_that_means_something() -> None:
    assert read("-3 m", "length", signed=True).value == -3000
    with pytest.raises(QuantityError):
        read("-3 m", "length")


def test_a_test_value_keeps_its_first_step_and_its_basis() -> None:
    assert read_measured("<0.02 mg/L", "concentration") == (0.02, True, "")
    assert read_measured("< 0.5 mg/L as N", "concentration") == (0.5, True, "N")
    assert read_measured("0.5 mg/L as NO3", "concentration") == (0.5, False, "NO3")
    assert read_measured("0.5 mg/L NH4", "concentration") == (0.5, False, "NH4")
    assert units.split_basis("80 mg/L as CaCO3") == ("80 mg/L as CaCO3", "")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("8 mL per 100 L", (8.0, "mL", 100.0)),
        ("8 mL/100 L", (8.0, "mL", 100.0)),
        ("2 tsp per 10 US gal", (10.0, "mL", 37.85411784)),
        ("1 g per US gal", (1.0, "g", 3.785411784)),
    ],
)
def test_a_label_rate_is_read(text: str, expected: tuple[float, str, float]) -> None:
    amount, unit, litres = read_rate(text)
    assert (amount, litres) == pytest.approx((expected[0], expected[2]))
    assert unit == expected[1]


@pytest.mark.parametrize("text", ["8 mL", "8 mL per 0 L", "8 m per 100 L", "8 mL per 3 kg"])
def test_a_rate_that_is_none_is_refused(text: str) -> None:
    with pytest.raises(QuantityError, match=r"^rate: "):
        read_rate(text, what="rate")


def test_a_percent_and_a_millilitre_are_exact() -> None:
    assert read("95 %", "fraction").value == 0.95
    assert read("11 mL", "volume").value == 0.011


def test_a_plain_number_takes_no_unit() -> None:
    assert read_number("7.5") == 7.5
    with pytest.raises(QuantityError, match="ph: a plain number"):
        read_number("7.5 mg/L", "ph")


def test_the_dimension_of_a_word_is_the_plainest() -> None:
    words = ("mm", "degC", "kPa", "US gal/min", "g/m3", "lb/acre ft", "%", "dH")
    assert [dimension_of(word) for word in words] == [
        "length", "temperature", "pressure", "flow", "concentration", "concentration",
        "fraction", "hardness",
    ]  # fmt: skip
    with pytest.raises(QuantityError):
        dimension_of("furlong")


def test_units_of_different_dimensions_do_not_convert() -> None:
    with pytest.raises(QuantityError, match="kg cannot be turned into L"):
        convert(1, "kg", "L")


@pytest.mark.parametrize(
    ("value", "dimension", "system", "text"),
    [
        (62, "length", "metric", "62 mm"),
        (3200, "length", "metric", "3.2 m"),
        (62, "length", "us", "2.44 in"),
        (150, "volume", "metric", "150 L"),
        (1234.5, "volume", "metric", "1234 L"),
        (151.41647136, "volume", "us", "40 US gal"),
        (40.91481, "volume", "imperial", "9 imp gal"),
        (0.0135, "volume", "metric", "13.5 mL"),
        (0.0135, "volume", "us", "13.5 mL"),
        (0.0887205886875, "volume", "us", "3 US fl oz"),
        (0.00064516, "area", "us", "1 in2"),
        (0.929, "area", "us", "10 ft2"),
        (0, "area", "us", "0 ft2"),
        (18.5, "temperature", "metric", "18.5 °C"),
        (18.5, "temperature", "us", "65.3 °F"),
        (5, "temperature_change", "us", "9 °F"),
        (80, "time", "metric", "1 h 20 min"),
        (2.5, "time", "metric", "2 min 30 s"),
        (59.995, "time", "metric", "1 h"),
        (5000, "time", "metric", "3 d 11 h"),
        (0, "time", "metric", "0 min"),
        (11.4, "flow", "metric", "11.4 L/min"),
        (0.01, "flow", "metric", "14.4 L/day"),
        (0.011, "concentration", "us", "0.011 mg/L"),
        (0.4, "fraction", "us", "40 %"),
        (51, "angle", "us", "51°"),
        (80, "hardness", "metric", "80 mg/L CaCO3"),
        (-0.0001, "temperature", "metric", "0 °C"),
    ],
)
def test_a_value_is_printed_in_the_units_of_the_pond(
    value: float, dimension: str, system: str, text: str
) -> None:
    assert show(value, dimension, system) == text


@pytest.mark.parametrize(
    ("value_mm", "text"),
    [(61.9125, "2 7/16 in"), (11.1125, "7/16 in"), (76.2, "3 in"), (0, "0 in"), (-12.7, "-1/2 in"),
     (62.0, "2 7/16 in"), (25.3, "1 in")],
)  # fmt: skip
def test_a_rule_is_read_to_the_sixteenth_of_an_inch(value_mm: float, text: str) -> None:
    assert show(value_mm, "length", "us", rule=True) == text


def test_fixed_decimals_stay() -> None:
    assert show(62, "length", "metric", digits=1) == "62.0 mm"


PRINTED = ["length", "area", "volume", "mass", "flow", "temperature", "temperature_change",
           "concentration", "pressure", "speed", "hardness", "fraction", "angle", "rain",
           "radiation", "viscosity", "vapour_pressure", "depth_rate", "number"]  # fmt: skip


@given(
    st.sampled_from(PRINTED),
    st.sampled_from(["metric", "us", "imperial"]),
    st.floats(0.001, 99.0),
)
def test_what_is_shown_reads_back(dimension: str, system: str, value: float) -> None:
    again = read(show(value, dimension, system), dimension).value
    room = 0.06 if dimension.startswith("temperature") else 0.006 * value
    assert again == pytest.approx(value, abs=room)


@given(st.floats(0, 2e6))
def test_a_shown_time_reads_back(minutes: float) -> None:
    again = read(show(minutes, "time", "metric"), "time").value
    coarse = 0.51 / 60 if minutes < 10 else 0.51 if minutes < 2880 else 31
    assert again == pytest.approx(minutes, abs=coarse)


@given(st.integers(0, 3000))
def test_a_shown_rule_reads_back(sixteenths: int) -> None:
    value = sixteenths / 16 * 25.4
    again = read(show(value, "length", "us", rule=True), "length").value
    assert again == pytest.approx(value)


@given(st.sampled_from(EVERY_WORD), st.floats(0.01, 50.0), st.data())
def test_the_unit_of_an_input_never_changes_the_value(
    word: tuple[str, str], number: float, data: st.DataObject
) -> None:
    dimension, start = word
    end = data.draw(st.sampled_from(list(TABLE[dimension])))
    unit = find(start, dimension)
    assert unit is not None
    assume(abs((number - unit.zero) * unit.factor) < units.LARGEST[dimension])
    value = read(f"{number:.9f} {start}", dimension).value
    other = units.in_unit(value, dimension, end)
    assume(1e-4 < other < 1e12)
    again = read(f"{other:.20f} {end}", dimension).value
    assert again == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(st.text(max_size=40), st.sampled_from(list(TABLE)))
def test_any_text_is_read_or_refused(text: str, dimension: str) -> None:
    with suppress(QuantityError):
        assert abs(read(text, dimension).value) <= units.LARGEST[dimension]


@given(st.from_regex(r"[0-9]{1,3} ?[a-zA-Z°/*'\" 0-9²³%]{0,12}", fullmatch=True),
       st.sampled_from(list(TABLE)))  # fmt: skip
def test_near_quantities_are_read_or_refused(text: str, dimension: str) -> None:
    with suppress(QuantityError):
        assert abs(read(text, dimension, gallon="us").value) <= units.LARGEST[dimension]


def test_the_canonical_units_are_those_that_everything_is_stored_in() -> None:
    assert CANONICAL == {
        "length": "mm", "area": "m2", "volume": "L", "mass": "g", "time": "min",
        "flow": "L/min", "temperature": "degC", "temperature_change": "degC",
        "concentration": "mg/L", "pressure": "kPa", "speed": "m/s", "hardness": "mg/L CaCO3",
        "fraction": "", "angle": "deg", "rain": "mm", "radiation": "MJ/m2/day",
        "viscosity": "mm2/s", "vapour_pressure": "kPa", "depth_rate": "mm/day", "number": "",
    }  # fmt: skip
    assert all(TABLE[dimension][word] == 1 for dimension, word in CANONICAL.items())
