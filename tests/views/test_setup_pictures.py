"""The outlines of setting up are true to scale, or say that they are not."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.setup.asking import so_far
from pondtui.views.setup_pictures import Line, Outline, barrel_outline, pond_outline, to_scale
from pondtui.views.setup_so_far import picture

DAY = date(2026, 6, 14)

CELL = 2.0  # a sign of a terminal is about twice as high as it is wide


def drawn(outline: Outline, width: int = 78, height: int = 14) -> list[str]:
    rows = to_scale(width, height, outline, ascii=False)
    return ["".join(span.text for span in row) for row in rows]


def inside(line: str) -> int:
    return line.count("~")


@given(
    across=st.floats(300, 20_000), high=st.floats(200, 3_000), width=st.integers(40, 160),
    height=st.integers(5, 40),
)  # fmt: skip
def test_a_vessel_is_as_wide_for_its_height_as_in_truth_or_that_is_said(
    across: float, high: float, width: int, height: int
) -> None:
    lines = drawn(Outline(across, high, lambda _down: across, 0.0), width, height)
    wet = [line for line in lines if inside(line)]
    shown = inside(wet[0]) / (len(wet) * CELL)
    said = any("not to scale" in line for line in lines)
    assert said or abs(shown / (across / high) - 1) <= 0.1 + 1e-6


def test_a_square_vessel_is_twice_as_many_signs_wide_as_rows_high() -> None:
    lines = [line for line in drawn(Outline(1000, 1000, lambda _d: 1000, 0.0)) if inside(line)]
    assert inside(lines[0]) == 2 * len(lines)


def test_water_and_marks_stand_at_their_height() -> None:
    outline = Outline(1000, 1000, lambda _d: 1000, 500.0, (Line(750, "outlet", "text"),))
    lines = drawn(outline, height=21)[:20]
    assert [bool(inside(line)) for line in lines] == [False] * 10 + [True] * 10
    assert [n for n, line in enumerate(lines) if "outlet" in line] == [15]


def test_sloping_sides_come_in_by_their_slope_whatever_the_width() -> None:
    setup = so_far({"basin_shape": "battered", "basin_length": "4 m", "basin_width": "1.5 m",
                    "basin_depth": "1 m", "basin_side_slope": "0.5"})  # fmt: skip
    assert setup is not None
    outline = pond_outline(setup, DAY)
    assert outline is not None
    # 4 m - 2 x 0.5 x 1 m = 3 m at the bottom (constructed)
    assert outline.wide_at(1000) == pytest.approx(3000)
    assert outline.wide_at(500) == pytest.approx(3500)


def test_a_barrel_has_its_full_line_and_outlet_where_they_are() -> None:
    setup = so_far({"basin_shape": "box", "barrel_shape": "upright", "barrel_diameter": "60 cm",
                    "barrel_height": "100 cm", "barrel_full_line": "90 cm",
                    "barrel_outlet": "25 cm"})  # fmt: skip
    assert setup is not None
    outline = barrel_outline(setup, setup.barrels[0], high_known=True, full=True, outlet=True)
    lines = drawn(outline, height=21)[:20]
    assert next(n for n, line in enumerate(lines) if inside(line)) == 2  # 10 cm of 100 below
    assert next(n for n, line in enumerate(lines) if "outlet" in line) == 15
    assert inside(lines[5]) == 24  # 60 cm are 12 rows, so 24 signs


def test_a_size_that_is_not_told_yet_is_asked_for_in_the_drawing() -> None:
    rows, told = picture({"basin_shape": "box"}, "basin_length", (78, 12), DAY, ascii=True)
    text = "".join(span.text for row in rows for span in row)
    assert "how long?" in text
    assert "likely sizes" in told
