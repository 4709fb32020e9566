"""The pond and its barrels as drawings, from the state."""

from __future__ import annotations

from pondtui.pond.refill.case import Case, local_time
from pondtui.pond.refill.running import live
from pondtui.pond.setup.barrels import brim_mm, depth_mm, heel_l
from pondtui.pond.setup.model import Setup
from pondtui.pond.setup.shapes import bottom_mm
from pondtui.pond.state.model import PondState
from pondtui.pond.water.levels import drop_mm, reading_mm
from pondtui.views.canvas import Rows
from pondtui.views.drawings import barrel, pond_section
from pondtui.views.words import litres, reading

_BELOW = 0.3  # how far the drawing goes on below what is marked, as a share of that


def pond_rows(
    setup: Setup, state: PondState, now: int, width: int, height: int, *, ascii: bool
) -> Rows:
    """The pond's section with its marks and the water; nothing where no basin floats.

    The depth below the lowest mark is cut off: the marks stand in the upper part of a pond, and
    they are what the drawing is for.
    """
    basin = setup.floating(local_time(setup, now).date())
    if basin is None:
        return ()
    level = state.level.reading_mm if state.level is not None else None
    said = [mark.reading_mm for mark in setup.marks] + ([] if level is None else [level])
    drops = [drop_mm(setup, basin, each) for each in said]
    top = min([0.0, *drops])
    lowest = max(drops, default=0.0)
    bottom = bottom_mm(basin)
    floor = min(lowest + max((lowest - top) * _BELOW, 20.0), bottom) if drops else bottom
    return pond_section(
        width,
        height,
        level=level,
        marks=[(mark.name, mark.reading_mm, mark.role) for mark in setup.marks],
        higher_is_smaller=setup.gauge.reads == "down",
        floor_reading=reading_mm(setup, basin, floor),
        top_reading=reading_mm(setup, basin, top),
        ascii=ascii,
        say=lambda value: reading(setup, value),
    )


def barrel_rows(case: Case, width: int, height: int, *, ascii: bool) -> Rows:
    """A barrel as it stands, also while water runs."""
    setup, config = case.setup, case.barrel
    water = live(setup, config, case.water, case.now)
    brim = brim_mm(config) or 1.0
    rain = water.water != "unknown" and not case.needs_agent
    return barrel(
        width,
        height,
        shape=config.shape,
        depth_fraction=depth_mm(config, water.held_l) / brim,
        outlet_fraction=config.outlet_mm / brim,
        full_fraction=config.full_line_mm / brim,
        water="rain" if rain else water.water,
        ascii=ascii,
        amount=litres(setup, water.held_l),
        heel=litres(setup, min(heel_l(config), water.held_l)),
    )
