"""The tables of pond.toml about water tests: the kit, and the keeper's own limits."""

from __future__ import annotations

from pondtui.pond.setup.fields import Field, Table
from pondtui.pond.setup.model import Kit


def _step(key: str, example: str, dimension: str = "concentration") -> Field:
    what = key.replace("_", " ")
    return Field(key, key, f"step:{dimension}", f"the first step of the {what} test above nothing, "
                 "in its own unit and basis: 0 on the kit means less than this",
                 f'"{example}"')  # fmt: skip


KIT = Table(
    "kit",
    "The test kit: what a bare number and a 0 on it mean.",
    (
        _step("ammonia", "0.05 mg/L as N"),
        _step("nitrite", "0.02 mg/L as NO2"),
        _step("nitrate", "5 mg/L as NO3"),
        _step("alkalinity", "1 dH", "hardness"),
        _step("hardness", "1 dH", "hardness"),
        _step("oxygen", "0.5 mg/L"),
        _step("chloride", "5 mg/L"),
        _step("chlorine_free", "0.02 mg/L"),
    ),
    Kit,
)


def _bounds(key: str, dimension: str, text: str, example: str, high: float) -> Field:
    return Field(key, key, f"bounds:{dimension}", text, example, low=0, high=high)


READINGS = Table(
    "readings",
    "Your own limits of what a reading means; what is left out keeps the program's.",
    (
        _bounds("ammonia_un_ionised", "concentration", "un-ionised ammonia as N: watch from, act "
                "from", '["0.02 mg/L", "0.05 mg/L"]', 10),
        _bounds("nitrite", "concentration", "as NO2: watch from, act from",
                '["0.1 mg/L", "1 mg/L"]', 100),
        _bounds("nitrate", "concentration", "as NO3: watch from, act above",
                '["50 mg/L", "100 mg/L"]', 1000),
        _bounds("ph", "number", "act below, watch below, watch above, act above",
                "[6.5, 7.0, 8.5, 9.0]", 14),
        _bounds("ph_change", "number", "in a day at the same hour: watch from, act from",
                "[0.3, 0.5]", 14),
        _bounds("alkalinity", "hardness", "act below, watch below",
                '["20 mg/L CaCO3", "75 mg/L CaCO3"]', 1000),
        _bounds("alkalinity_falling", "hardness", "while it falls: act below, watch below",
                '["50 mg/L CaCO3", "75 mg/L CaCO3"]', 1000),
        _bounds("oxygen", "concentration", "act below, watch below", '["4 mg/L", "5 mg/L"]', 20),
        _bounds("temp", "temperature", "watch above, act above", '["27 degC", "30 degC"]', 45),
        _bounds("temp_change", "temperature_change", "in a day at like hours: act from",
                '["3 degC"]', 30),
    ),
    dict,
)  # fmt: skip
