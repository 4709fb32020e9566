"""What must agree within one table of pond.toml: sizes for the shape, levels within the barrel.

Each check takes the table's values (by the model's field names, only what was written) and
`say`, which prints a canonical value in the pond's units, and yields (key, sentence, severity).
A value that could not be read is not there; what is said of its key is then left aside.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from itertools import pairwise
from typing import Any

from pondtui.pond.setup import barrels, cautions, shapes
from pondtui.pond.setup.days import never_comes
from pondtui.pond.setup.model import Barrel, Basin, Chore

COLDEST_C, WARMEST_C = -1.0, 45.0  # of water in a pond
Values = dict[str, Any]
Say = Callable[[float, str], str]
Remark = tuple[str, str, str]
BASIN_SIZES = {
    "box": ("length", "width", "depth"),
    "cylinder": ("diameter", "depth"),
    "ellipse": ("length", "width", "depth"),
    "bowl": ("length", "width", "depth"),
    "cone": ("top_diameter", "bottom_diameter", "depth"),
    "battered": ("length", "width", "depth", "side_slope"),
    "table": ("areas",),
}
BARREL_SIZES = {
    "upright": ("diameter", "height"),
    "lying": ("diameter", "length"),
    "straight": ("width", "breadth", "height"),
}


def _missing_sizes(values: Values, sizes: dict[str, tuple[str, ...]], what: str) -> Iterator[str]:
    shape = values.get("shape", "")
    for key in sizes.get(shape, ()):
        if key not in values and f"{key}_mm" not in values:
            needs = ", ".join(sizes[shape])
            yield f"{key}: {'an' if shape[0] in 'eu' else 'a'} {shape} {what} needs {needs}"


def check_basin(values: Values, say: Say) -> Iterator[Remark]:
    """Sizes for its shape; floating or held; no more running back than it is deep."""
    if values.get("floats") and values.get("held"):
        yield "held", "a basin either floats or is held at its spill edge, not both", "problem"
    if not values.get("floats") and not values.get("held"):
        yield "floats", "write floats = true or held = true", "problem"
    if "gate_level_mm" in values and not values.get("gate"):
        yield "gate_level", "it does nothing without gate = true", "remark"
    missing = list(_missing_sizes(values, BASIN_SIZES, "basin"))
    for sentence in missing:
        key, _, rest = sentence.partition(": ")
        yield key, rest, "problem"
    if missing or not {"name", "shape"} <= values.keys():
        return
    basin = Basin(**values)
    try:
        shapes.area_at_edge_m2(basin)
    except ValueError as error:
        yield ("areas" if basin.shape == "table" else "shape"), str(error), "problem"
        return
    if basin.draindown_mm > shapes.bottom_mm(basin):
        yield (
            "draindown",
            (
                f"{say(basin.draindown_mm, 'length')} is more than its depth of "
                f"{say(shapes.bottom_mm(basin), 'length')}"
            ),
            "problem",
        )
    for (upper, above), (lower, below) in pairwise(basin.areas):
        if below > above:
            yield (
                "areas",
                (
                    f"the area grows from {say(above, 'area')} at {say(upper, 'length')} to "
                    f"{say(below, 'area')} at {say(lower, 'length')}: is that so?"
                ),
                "remark",
            )


def check_barrel(values: Values, say: Say) -> Iterator[Remark]:
    """Sizes for its shape; outlet below full line below brim; what it held; what its roof is of."""
    if found := cautions.former_content(values.get("former_content", "")):
        yield "former_content", found[1], found[0]
    roof = values.get("roof")
    if roof and (found := cautions.roof_material(roof.material)):
        yield "roof.material", found[1], found[0]
    if values.get("delivery") != "carried" and values.get("drop_mm", 0.0) < 0:
        yield (
            "drop",
            (
                f"the outlet lies {say(-values['drop_mm'], 'length')} below the pond's level, so "
                'nothing runs by gravity: raise the barrel, or write delivery = "carried"'
            ),
            "problem",
        )
    if values.get("retired") and values["retired"] <= values.get("since", date.min):
        yield "retired", f"{values['retired']} is not after `from`, {values['since']}", "problem"
    missing = list(_missing_sizes(values, BARREL_SIZES, "barrel"))
    for sentence in missing:
        key, _, rest = sentence.partition(": ")
        yield key, rest, "problem"
    if not missing and {"name", "shape", "full_line_mm", "outlet_mm"} <= values.keys():
        yield from _barrel_levels(Barrel(**values), say)


def _barrel_levels(barrel: Barrel, say: Say) -> Iterator[Remark]:
    brim, full, outlet = barrels.brim_mm(barrel), barrel.full_line_mm, barrel.outlet_mm
    if full > brim:
        yield (
            "full_line",
            (f"{say(full, 'length')} lies above the brim at {say(brim, 'length')}"),
            "problem",
        )
        return
    held, heel = barrels.full_line_l(barrel), barrels.heel_l(barrel)
    if outlet >= full:
        yield (
            "outlet",
            (
                f"{say(outlet, 'length')} does not lie below the full line at "
                f"{say(full, 'length')}: all of its {say(held, 'volume')} would be heel, "
                "and nothing would run out"
            ),
            "problem",
        )
    elif barrel.leave_at_least_l >= held:
        yield (
            "leave_at_least",
            (
                f"{say(barrel.leave_at_least_l, 'volume')} is no less than the "
                f"{say(held, 'volume')} that it holds up to its full line: nothing would run out"
            ),
            "problem",
        )
    elif heel > held / 2:
        yield (
            "outlet",
            (
                f"the heel of {say(heel, 'volume')} is more than half of the {say(held, 'volume')} "
                "that it holds: is the outlet that high?"
            ),
            "remark",
        )


def check_source(values: Values, say: Say) -> Iterator[Remark]:
    """Free chlorine is part of the total; a strength has a day."""
    total, free = values.get("total_chlorine_mg_l"), values.get("free_chlorine_mg_l")
    if total is not None and free is not None and free > total:
        yield (
            "free_chlorine",
            (
                f"{say(free, 'concentration')} is more than the total chlorine of "
                f"{say(total, 'concentration')}, of which it is a part"
            ),
            "problem",
        )
    elif total and free is not None and values.get("chloramine") is False and free < total / 2:
        yield (
            "chloramine",
            (
                f"free chlorine is only {say(free, 'concentration')} of the total of "
                f"{say(total, 'concentration')}, which looks like chloramine: ask the utility"
            ),
            "remark",
        )
    if total is not None and "measured" not in values:
        yield "measured", "a strength without the day it was measured counts as stale", "remark"


def check_chore(values: Values, say: Say) -> Iterator[Remark]:
    """Exactly one way to fall due, on some day at least; feeding bands that do not overlap."""
    ways = {"every": "every_days", "weekdays": "weekdays", "monthly": "monthly", "after": "after",
            "water": "water"}  # fmt: skip
    given = [key for key, attr in ways.items() if values.get(attr)]
    if len(given) != 1 and sorted(given) != ["after", "every"]:
        yield (
            (given[1] if given else "every"),
            (f"one of {', '.join(ways)} says when it is due, not {' and '.join(given) or 'none'}"),
            "problem",
        )
    elif "lasts_days" in values and len(given) == 1:
        yield "lasts", "it does nothing without both `after` and `every`", "remark"
    if len(given) == 1 and never_comes(Chore(**{"name": "", **values})):
        yield "window", "no such day lies in it, so the chore never comes: widen it", "problem"
    bands = sorted(values.get("water", ()))
    for cold, warm, _ in bands:
        if warm <= COLDEST_C or cold >= WARMEST_C:
            said = f"no pond stands between {say(cold, 'temperature')} and "
            said += f"{say(warm, 'temperature')}, so the chore never comes by this row"
            yield "water", said, "problem"
    for (_, warm, _), (cold, _, _) in pairwise(bands):
        if cold < warm:
            yield (
                "water",
                (
                    f"two rows overlap: one ends at {say(warm, 'temperature')}, the next begins at "
                    f"{say(cold, 'temperature')}"
                ),
                "problem",
            )


def check_limits(values: Values, say: Say) -> Iterator[Remark]:
    """A day's change is no smaller than one release's."""
    once, daily = values.get("pond_change_c", 2.0), values.get("pond_change_per_day_c", 3.0)
    if once > daily:
        yield (
            "pond_change",
            (
                f"one release may change the pond by {say(once, 'temperature_change')}, but a "
                f"whole day by {say(daily, 'temperature_change')} only"
            ),
            "problem",
        )


def check_weather(values: Values, _say: Say) -> Iterator[Remark]:
    """Columns need a day."""
    columns = values.get("columns")
    if columns and "date" not in columns:
        yield "columns.date", 'say which column is the day, such as date = "Date"', "problem"
