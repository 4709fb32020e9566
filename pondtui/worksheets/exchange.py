"""Worksheets of changing water and topping up."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import exchange as ex
from pondtui.worksheets.registry import Input, Result, Worksheet

GROUP = "Water changes"


def _water_change(v: Mapping[str, Any]) -> dict[str, float | str]:
    pond, tap, fraction, flow = v["pond"], v["tap"], v["fraction"], v["flow_through"]
    times = v["times"]
    if "target" in v:
        if times != 1:
            raise InputError("give times or target, not both")
        times = ex.changes_needed(pond, tap, v["target"], fraction, flow_through=flow)
    after = ex.after_change_mg_l(pond, tap, fraction, times, flow_through=flow)
    return {"after_mg_per_l": after, "changes": times}


def _build_up(v: Mapping[str, Any]) -> dict[str, float | str]:
    if "changed" in v:
        factor = ex.settled_factor(v["evaporated"], v["changed"])
        return {"after_mg_per_l": v["tap"] * factor, "factor": factor}
    after = ex.top_up_mg_l(v["pond"], v["tap"], v["evaporated"], v["volume"])
    return {"after_mg_per_l": after, "factor": ex.top_up_factor(v["evaporated"], v["volume"])}


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="water-change",
        group=GROUP,
        title="Concentration after changing water",
        inputs=(
            Input("pond", "concentration", "concentration in the pond"),
            Input("tap", "concentration", "concentration in the new water"),
            Input("fraction", "fraction", "part of the pond's volume in one change"),
            Input("times", "number", "number of changes", "1", low=0, high=1e6),
            Input("target", "concentration", "concentration to reach", required=False),
            Input("flow_through", "yesno", "water runs in while the pond overflows", "no"),
        ),
        results=(
            Result("after_mg_per_l", "mg/L", "concentration after the changes"),
            Result("changes", "", "number of changes; whole ones are the next number up"),
        ),
        formula="tap + (pond - tap) x (1 - fraction)^changes; overflowing: x exp(-fraction)",
        source="mass balance; stirred tank",
        cautions=(
            "Changes multiply, they do not add: two halves leave a quarter.",
            "New water is treated and tempered first; none under ice, none in drought without "
            "need.",
        ),
        example={"pond": "80 mg/L", "tap": "10 mg/L", "fraction": "25 %", "times": "2"},
        compute=_water_change,
    ),
    Worksheet(
        name="build-up",
        group=GROUP,
        title="Salts that topping up leaves behind",
        inputs=(
            Input("pond", "concentration", "concentration in the pond at the start"),
            Input("tap", "concentration", "concentration in the water that tops it up"),
            Input("evaporated", "volume", "water evaporated and replaced"),
            Input("volume", "volume", "the full pond", low=0.001),
            Input("changed", "volume", "water changed in the same time", low=1e-6, required=False),
        ),
        results=(
            Result("after_mg_per_l", "mg/L", "concentration then; with changes, where it settles"),
            Result("factor", "", "times the tap water, for a pond that began as tap water"),
        ),
        formula="pond + tap x evaporated / volume; with changes tap x (evaporated + changed) / "
        "changed",
        source="mass balance; cycles of concentration in cooling practice",
        cautions=(
            "Only what stays dissolved counts so: lime falls out, nitrate is eaten by plants.",
            "Rain water brings almost no salts, and almost no alkalinity.",
        ),
        example={
            "pond": "120 mg/L",
            "tap": "120 mg/L",
            "evaporated": "1000 L",
            "volume": "4000 L",
        },
        compute=_build_up,
    ),
)
