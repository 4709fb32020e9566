"""The closed table of unit words: spelling, dimension and factor, without importing Pint.

A test proves every factor equal to what Pint makes of units.txt. Words of one dimension stand
together because a word may mean different things: `degF` of a temperature has a 32, of a change
of temperature it has none; `mg/L` of a hardness is as CaCO3.
"""

from __future__ import annotations

from pondtui.errors import QuantityError
from pondtui.records import NamedTuple

_TIME = {"min": 1.0, "s": 1 / 60, "h": 60.0, "day": 1440.0, "week": 10080.0}
_LENGTH = {
    "mm": 1.0, "um": 1e-3, "cm": 10.0, "dm": 100.0, "m": 1e3, "km": 1e6,
    "in": 25.4, "ft": 304.8, "yd": 914.4, "mi": 1609344.0,
}  # fmt: skip
_VOLUME = {
    "L": 1.0, "mL": 1e-3, "cL": 0.01, "dL": 0.1,
    "m3": 1e3, "dm3": 1.0, "cm3": 1e-3, "mm3": 1e-6,
    "US gal": 3.785411784, "US qt": 3.785411784 / 4, "US pt": 3.785411784 / 8,
    "US cup": 3.785411784 / 16, "US fl oz": 3.785411784 / 128,
    "US tbsp": 3.785411784 / 256, "US tsp": 3.785411784 / 768,
    "imp gal": 4.54609, "imp qt": 4.54609 / 4, "imp pt": 4.54609 / 8, "imp fl oz": 4.54609 / 160,
    "tsp": 0.005, "tbsp": 0.015,
    "ft3": 28.316846592, "in3": 0.016387064, "yd3": 764.554857984, "acre ft": 1233481.83754752,
}  # fmt: skip
_PRESSURE = {
    "kPa": 1.0, "Pa": 1e-3, "hPa": 0.1, "mbar": 0.1, "bar": 100.0, "atm": 101.325,
    "psi": 6.894757293168, "mmHg": 0.133322387415, "inHg": 25.4 * 0.133322387415,
}  # fmt: skip
_CACO3, _CAO, _HCO3 = 100.0869, 56.0774, 61.0168  # g/mol, IUPAC standard atomic weights

TABLE: dict[str, dict[str, float]] = {
    "length": _LENGTH,
    "area": {
        "m2": 1.0, "mm2": 1e-6, "cm2": 1e-4, "ha": 1e4, "km2": 1e6,
        "in2": 0.00064516, "ft2": 0.09290304, "yd2": 0.83612736, "acre": 4046.8564224,
    },
    "volume": _VOLUME,
    "mass": {
        "g": 1.0, "ug": 1e-6, "mg": 1e-3, "kg": 1e3, "tonne": 1e6,
        "lb": 453.59237, "oz": 28.349523125, "grain": 0.06479891,
    },
    "time": _TIME,
    "flow": {
        f"{volume}/{time}": _VOLUME[volume] / _TIME[time]
        for volume in ("L", "mL", "m3", "US gal", "imp gal", "ft3")
        for time in ("min", "s", "h", "day", "week")
    },
    "temperature": {"degC": 1.0, "degF": 5 / 9, "K": 1.0},
    "temperature_change": {"degC": 1.0, "degF": 5 / 9, "K": 1.0},
    "concentration": {
        "mg/L": 1.0, "ug/L": 1e-3, "g/L": 1e3, "kg/L": 1e6, "ppm": 1.0, "ppb": 1e-3,
        "g/m3": 1.0, "mg/m3": 1e-3, "kg/m3": 1e3, "mg/mL": 1e3, "g/mL": 1e6,
    },
    "pressure": _PRESSURE,
    "speed": {
        "m/s": 1.0, "km/h": 1 / 3.6, "mph": 0.44704, "knot": 1852 / 3600,
        "cm/s": 0.01, "m/min": 1 / 60, "ft/s": 0.3048, "ft/min": 0.00508, "mi/h": 0.44704,
    },
    "hardness": {
        "mg/L CaCO3": 1.0, "mg/L HCO3": _CACO3 / 2 / _HCO3,
        "meq/L": _CACO3 / 2, "mmol/L": _CACO3,
        "dH": 10 / _CAO * _CACO3, "eH": 64.79891 / 4.54609, "fH": 10.0,
        "gpg": 64.79891 / 3.785411784,
    },
    "fraction": {"": 1.0, "%": 0.01},
    "angle": {"deg": 1.0, "rad": 57.29577951308232},
    "rain": {**_LENGTH, "L/m2": 1.0},
    "radiation": {
        "MJ/m2/day": 1.0, "MJ/m2": 1.0, "kJ/m2/day": 1e-3, "kJ/m2": 1e-3, "J/m2/day": 1e-6,
        "W/m2": 0.0864, "J/cm2/day": 0.01, "J/cm2": 0.01,
        "cal/cm2/day": 0.041868, "cal/cm2": 0.041868, "langley/day": 0.04184, "langley": 0.04184,
    },
    "viscosity": {"mm2/s": 1.0, "m2/s": 1e6, "cm2/s": 100.0, "cSt": 1.0, "ft2/s": 92903.04},
    "vapour_pressure": _PRESSURE,
    "depth_rate": {
        f"{length}/{time}": _LENGTH[length] / _TIME[time] * 1440
        for length in ("mm", "cm", "in")
        for time in ("day", "h", "week", "min")
    },
    "number": {"": 1.0},
}  # fmt: skip
CANONICAL: dict[str, str] = {dimension: next(iter(words)) for dimension, words in TABLE.items()}
ZERO = {"degF": 32.0, "K": 273.15}  # where the temperature 0 degC stands on the unit's own scale

BARE_GALLONS = {"gal": "gallons", "fl oz": "fluid ounces", "qt": "quarts", "pt": "pints"}
_GALLONS_PER = {"gpm": "gal/min", "gph": "gal/h", "gpd": "gal/day"}
_GALLON_NAMES = {"us": "US", "imperial": "imp"}
_SPELLINGS = {  # normal word: other spellings, all told apart without regard to case
    "L": "litre litres liter liters ltr", "mL": "ml. millilitre millilitres milliliter milliliters "
    "cc", "m3": "cum", "m": "metre metres meter meters", "mm": "millimetre millimetres millimeter "
    "millimeters", "cm": "centimetre centimetres centimeter centimeters", "km": "kilometre "
    "kilometres kilometer kilometers", "in": '" inch inches in.', "ft": "' foot feet ft.",
    "yd": "yard yards", "mi": "mile miles", "ha": "hectare hectares", "acre": "acres",
    "g": "gram grams gramme grammes", "kg": "kilogram kilograms kilo kilos", "mg": "milligram "
    "milligrams", "lb": "lbs pound pounds lb.", "oz": "ounce ounces oz.", "grain": "grains gr",
    "tonne": "tonnes", "s": "sec secs second seconds", "min": "mins minute minutes",
    "h": "hr hrs hour hours", "day": "d days", "week": "wk weeks", "%": "percent",
    "tsp": "teaspoon teaspoons", "tbsp": "tablespoon tablespoons",
    "ug": "mcg", "L/min": "lpm", "L/h": "lph", "km/h": "kph kmh", "knot": "knots kn kt",
    "degC": "c °c celsius", "degF": "f °f fahrenheit", "deg": "° degree degrees",
    "langley": "langleys ly", "dH": "°dh °d dkh dgh", "eH": "°eh °e", "fH": "°fh",
    "mbar": "millibar", "meq/L": "mval/l", "acre ft": "acre-ft acre-foot acre-feet",
    "cSt": "centistokes", "mg/L CaCO3": "ppm-caco3", "gal": "gal. gals gallon gallons",
    "fl oz": "floz", "qt": "quart quarts", "pt": "pint pints",
}  # fmt: skip
_PHRASES = {
    "cu ft": "ft3", "cubic feet": "ft3", "cubic foot": "ft3", "cu in": "in3", "cu m": "m3",
    "cubic metre": "m3", "cubic metres": "m3", "cubic meter": "m3", "cubic meters": "m3",
    "sq ft": "ft2", "square feet": "ft2", "square foot": "ft2", "sq in": "in2", "sq m": "m2",
    "square metre": "m2", "square metres": "m2", "square meter": "m2", "square meters": "m2",
    "ppm caco3": "mg/L CaCO3", "ppm hco3": "mg/L HCO3", "fluid ounce": "fl oz",
    "fluid ounces": "fl oz", "fl. oz": "fl oz", "fl. oz.": "fl oz", "deg c": "degC",
    "deg f": "degF", "° c": "degC", "° f": "degF", "acre foot": "acre ft", "acre feet": "acre ft",
}  # fmt: skip
# Words that begin with a plain m, so that a capital cannot turn a milli into a mega.
_PLAIN_M = ("m", "m2", "m3", "mi", "min", "mph", "m/s", "mi/h", "m/min", "meq/L", "m2/s")


class Unit(NamedTuple):
    """A unit word in a dimension."""

    word: str
    dimension: str
    factor: float  # canonical units in one
    zero: float = 0.0  # what the canonical 0 is called in this unit

    def canonical(self, number: float) -> float:
        """The number of this unit in the canonical one; 95 % is 0.95 to the last digit."""
        parts = round(1 / self.factor)
        if self.factor < 1 and abs(parts * self.factor - 1) < 1e-15:
            return (number - self.zero) / parts
        return (number - self.zero) * self.factor


def _folded() -> dict[str, str]:
    """Every spelling in lower case to the normal word."""
    words = {word.casefold(): word for table in TABLE.values() for word in table}
    words |= {other: word for word, others in _SPELLINGS.items() for other in others.split()}
    words |= _PHRASES | {word: word for word in BARE_GALLONS}
    for marks, normal in ((("us", "u.s."), "US"), (("imp", "imp.", "imperial", "uk"), "imp")):
        for mark in marks:
            words |= {f"{mark} {short}": f"{normal} {full}" for short, full in _GALLONS_PER.items()}
        names = [(spelled, word) for spelled, word in words.items()
                 if f"{normal} {word}" in _VOLUME]  # fmt: skip
        for mark in marks:
            for spelled, word in names:
                full = f"{normal} {word}"
                words |= {f"{mark} {spelled}": full, f"{mark}{spelled}": full}
                words |= {f"{spelled} {mark}": full, f"{spelled} ({mark})": full}
    return words


_FOLDED = _folded()
_NORMAL = frozenset(_FOLDED.values())


def normal(text: str, gallon: str | None = None) -> tuple[str, str]:
    """The normal spelling of a unit text and what had to be assumed; unknown words stay.

    Raises QuantityError for a bare gallon without `gallon` and for a capital that would turn a
    milli into a mega.
    """
    text = text.strip()
    if text.casefold() in _GALLONS_PER:  # US by NIST SP 811 where nothing else is known
        text = _GALLONS_PER[text.casefold()]
        gallon = gallon or "us"
    text = text.replace("^", "").replace(" per ", "/").replace(" as CaCO3", " CaCO3")
    text = text.replace(" as HCO3", " HCO3").replace(" / ", "/").replace(" * ", "*")
    if text in _NORMAL:
        parts = [text]
    elif text.casefold() in _FOLDED:
        parts = [_fold(text)]
    else:
        parts = [_fold(part) for part in text.replace("*", "/*").split("/")]
    assumed = ""
    for place, part in enumerate(parts):
        if part in BARE_GALLONS:
            if gallon is None:
                raise QuantityError(f"say US {part} or imp {part}")
            parts[place] = f"{_GALLON_NAMES[gallon]} {part}"
            system = "US" if gallon == "us" else "imperial"
            assumed = f"read as {system} {BARE_GALLONS[part]}"
    return "/".join(parts).replace("/*", "*"), assumed


def _fold(part: str) -> str:
    """The normal word of one part, a leading "*" kept. Raises QuantityError, see normal()."""
    star, part = ("*", part[1:]) if part.startswith("*") else ("", part)
    part = part.strip()
    word = _FOLDED.get(part.casefold(), part)
    capital_differs = part[:1] != word[:1] and part[:1].upper() == word[:1].upper() == "M"
    if capital_differs and word not in _PLAIN_M:
        raise QuantityError(f"small m and capital M differ: did you mean {word} by {part}?")
    return star + word


def find(word: str, dimension: str) -> Unit | None:
    """The unit of this normal word in this dimension."""
    factor = TABLE[dimension].get(word)
    if factor is None:
        return None
    return Unit(word, dimension, factor, ZERO.get(word, 0.0) if dimension == "temperature" else 0.0)


def nearest(text: str, dimension: str) -> str | None:
    """The unit word most like an unknown one, of this dimension if there is one."""
    from difflib import get_close_matches  # only a mistake needs it

    spelled = {name: word for name, word in _FOLDED.items() if len(name) > 1}
    own = [name for name, word in spelled.items() if word in TABLE[dimension]]
    for names in (own, list(spelled)):
        close = get_close_matches(text.casefold(), names, 1, 0.6)
        if close:
            return spelled[close[0]]
    return None
