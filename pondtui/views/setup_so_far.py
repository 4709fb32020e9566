"""The drawing beside a question of setting up: the pond or the barrel as far as it is told."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from pondtui.pond.setup.asking import so_far
from pondtui.pond.setup.model import Setup
from pondtui.views.canvas import Rows
from pondtui.views.setup_pictures import (
    barrel_figures,
    barrel_outline,
    level_figures,
    pond_figures,
    pond_outline,
    to_scale,
)

NOT_ALL = "drawn with likely sizes until yours are known"
_AFTER = ("chores", "folder", "level")  # asked when both pond and barrel are told


def picture(
    answers: Mapping[str, str], at: str, size: tuple[int, int], day: date, *, ascii: bool
) -> tuple[Rows, str]:
    """The drawing that belongs to the question `at`, and what the vessel holds."""
    width, height = size
    setup = so_far(answers) if "basin_shape" in answers else None
    if setup is None:
        return (), ""
    if not answers.get("conditioner_label_volume"):
        setup = setup._replace(conditioners=())
    if "barrel_shape" in answers and at not in _AFTER and setup.barrels:
        return _barrel(setup, answers, (width, height), day, ascii)
    whole = "basin_depth" in answers or "basin_areas" in answers
    across = whole or "basin_length" in answers or "basin_diameter" in answers
    level = answers.get("level", "") if at == "level" else ""
    pond = pond_outline(setup, day, across_known=across, depth_known=whole, level=level)
    if pond is None:
        return (), ""
    told = pond_figures(setup, day) if whole else NOT_ALL
    if level:
        told = level_figures(setup, level, day) or told
    return to_scale(width, height, pond, ascii=ascii), told


def _barrel(
    setup: Setup, answers: Mapping[str, str], size: tuple[int, int], day: date, ascii: bool
) -> tuple[Rows, str]:
    barrel = setup.barrels[0]
    known = answers.get("barrel_outlet", "") != ""
    high = "barrel_diameter" if barrel.shape == "lying" else "barrel_height"
    outline = barrel_outline(setup, barrel, high_known=high in answers,
                             full="barrel_full_line" in answers, outlet=known)  # fmt: skip
    told = barrel_figures(setup, barrel, day) if known else NOT_ALL
    return to_scale(*size, outline, ascii=ascii), told
