"""Worksheets on mixing two waters."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import mixing
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.sizes import volume

_BALANCE = "balance of heat or mass, as in OpenStax College Physics 2e Example 14.3"
_SHOCK = "Pond life takes slow changes better: from 1 °C take care, stop at 2 °C per release."


def _mix(values: Mapping[str, Any]) -> dict[str, float | str]:
    if values["value_1_dimension"] != values["value_2_dimension"]:
        raise InputError("value_1 and value_2: two temperatures or two concentrations")
    value = mixing.mixed(
        values["volume_1"], values["value_1"], values["volume_2"], values["value_2"]
    )
    return {"value": value}


def _largest_addition(values: Mapping[str, Any]) -> dict[str, float | str]:
    pond, added, limit = values["pond_temp"], values["added_temp"], values["limit"]
    most = mixing.largest_addition_l(values["pond"], pond, added, limit)
    if math.isinf(most):
        raise InputError(
            f"any amount will do: the water differs from the pond by {abs(added - pond):.3g} degC, "
            f"within the limit of {limit:.3g} degC"
        )
    return {"volume_l": most}


def _tempering_time(values: Mapping[str, Any]) -> dict[str, float | str]:
    time = mixing.tempering_time_min(values["change"], values["limit"], values["per"])
    return {"time_min": time}


def _temperature(name: str, text: str) -> Input:
    return Input(name, "temperature", text, low=-5, high=100)


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="mix",
        group="mixing",
        title="Temperature or strength of two waters mixed",
        inputs=(
            volume("volume_1", "first volume", required=True),
            Input("value_1", "temperature|concentration", "its temperature or concentration"),
            volume("volume_2", "second volume", required=True),
            Input("value_2", "temperature|concentration", "its temperature or concentration"),
        ),
        results=(Result("value", "degC or mg/L", "temperature or concentration of the mixture"),),
        formula="x = (V₁ x₁ + V₂ x₂) / (V₁ + V₂)",
        source=_BALANCE + "; OpenStax Chemistry 2e Example 3.19",
        cautions=("Near the inlet the water is not mixed yet.",),
        example={
            "volume_1": "5000 L",
            "value_1": "22 degC",
            "volume_2": "1000 L",
            "value_2": "10 degC",
        },
        compute=_mix,
    ),
    Worksheet(
        name="largest-addition",
        group="mixing",
        title="How much water of another temperature the pond takes",
        inputs=(
            volume("pond", "water in the pond", required=True),
            _temperature("pond_temp", "temperature of the pond"),
            _temperature("added_temp", "temperature of the water added"),
            Input("limit", "temperature_change", "largest change allowed", low=0, high=100),
        ),
        results=(Result("volume_l", "L", "largest volume that keeps to the limit"),),
        formula="V = P d / (|t_added − t_pond| − d)",
        source=_BALANCE,
        cautions=(_SHOCK,),
        example={
            "pond": "5000 L",
            "pond_temp": "22 degC",
            "added_temp": "12 degC",
            "limit": "1 degC",
        },
        compute=_largest_addition,
    ),
    Worksheet(
        name="tempering-time",
        group="mixing",
        title="Over what time a change of temperature is spread",
        inputs=(
            Input("change", "temperature_change", "change to be made", signed=True),
            Input("limit", "temperature_change", "change allowed at a time", low=0, high=100),
            Input("per", "time", "the time in which that much is allowed", low=0),
        ),
        results=(Result("time_min", "min", "shortest time for the change"),),
        formula="t = |change| / limit × per",
        source="stocking advice of LSU AgCenter: about 5 °F down or 7-8 °F up per half hour",
        cautions=(_SHOCK,),
        example={"change": "6 degC", "limit": "5 degF", "per": "30 min"},
        compute=_tempering_time,
    ),
)
