"""Canonical values printed for people in the pond's own units, so that they can be read back."""

from __future__ import annotations

import math

from pondtui.unit_words import CANONICAL, TABLE, ZERO

_METRIC = {"temperature": "°C", "temperature_change": "°C", "fraction": "%", "angle": "°"}
_IMPERIAL = {
    "area": "ft2",
    "temperature": "°F",
    "temperature_change": "°F",
    "speed": "mph",
    "rain": "in",
    "depth_rate": "in/day",
    "pressure": "inHg",
}


def show(
    value: float, dimension: str, system: str, *, digits: int | None = None, rule: bool = False
) -> str:
    """A canonical value in the units of "metric", "us" or "imperial".

    `digits` fixes the decimals; without it about three figures are kept. `rule` prints a length
    the way a rule is read: to the sixteenth of an inch.
    """
    metric = system == "metric"
    if not metric and dimension == "length" and rule:
        return _sixteenths(value)
    if dimension == "time":
        return _duration(value)
    word = _word(value, dimension, system)
    factor, zero = _scale(word, dimension)
    number = _figures(value / factor + zero, dimension, digits)
    return f"{number}°" if word == "°" else f"{number} {word}".strip()


def _word(value: float, dimension: str, system: str) -> str:
    """The unit that suits the size of the value."""
    size = abs(value)
    metric = system == "metric"
    gallon = "US gal" if system == "us" else "imp gal"
    if dimension == "length":
        if metric:
            return "mm" if size < 1000 else "m"
        return "in" if size < 914.4 else "ft"
    if dimension == "volume":
        ounce = gallon.replace("gal", "fl oz")
        if metric:
            return "mL" if size < 1 else "L" if size < 1e5 else "m3"
        if size < TABLE["volume"][ounce]:
            return "mL"
        return ounce if size < TABLE["volume"][gallon] else gallon
    if dimension == "mass":
        large = "kg" if metric else "lb"
        return "g" if size < (1000 if metric else 453.59237) else large
    if dimension == "flow":
        return ("L" if metric else gallon) + ("/min" if size >= 0.5 else "/day")
    if dimension == "area" and metric and size < 0.1:
        return "cm2" if size >= 1e-4 else "mm2"
    if dimension == "area" and not metric and 0 < size < 0.01:
        return "in2"
    if dimension == "concentration" and size >= 1e4:
        return "g/L"
    return (_METRIC if metric else _METRIC | _IMPERIAL).get(dimension, CANONICAL[dimension])


def _scale(word: str, dimension: str) -> tuple[float, float]:
    plain = {"°C": "degC", "°F": "degF", "°": "deg"}.get(word, word)
    zero = ZERO.get(plain, 0.0) if dimension == "temperature" else 0.0
    return TABLE[dimension][plain], zero


def _figures(number: float, dimension: str, digits: int | None) -> str:
    """The number with fixed decimals, or with three figures, whole digits never rounded off."""
    if digits is None:
        places = 2 - math.floor(math.log10(abs(number))) if number else 0
        digits = 1 if dimension in ("temperature", "temperature_change") else min(max(places, 0), 9)
        text = f"{number:.{digits}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
    else:
        text = f"{number:.{digits}f}"
    return text.removeprefix("-") if float(text) == 0 else text


def _sixteenths(value_mm: float) -> str:
    """`2 7/16 in`: the nearest mark of an inch rule."""
    sign = "-" if value_mm < 0 else ""
    whole, part = divmod(round(abs(value_mm) / 25.4 * 16), 16)
    if not part:
        return f"{sign if whole else ''}{whole} in"
    shared = math.gcd(part, 16)
    fraction = f"{part // shared}/{16 // shared}"
    return f"{sign}{whole} {fraction} in" if whole else f"{sign}{fraction} in"


def _duration(minutes: float) -> str:
    """`40 s`, `2 min 30 s`, `1 h 20 min`, `3 d 4 h`: the two units that matter."""
    sign = "-" if minutes < 0 else ""
    seconds = round(abs(minutes) * 60)
    if seconds >= 600:
        seconds = round(seconds / 60) * 60
    if seconds >= 2 * 86400:
        seconds = round(seconds / 3600) * 3600
    steps = (("d", 86400), ("h", 3600), ("min", 60), ("s", 1))
    parts = []
    for word, length in steps if seconds >= 2 * 86400 else steps[1:]:
        count, seconds = divmod(seconds, length)
        if count:
            parts.append(f"{count} {word}")
    return sign + " ".join(parts) if parts else "0 min"
