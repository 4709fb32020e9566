"""The drawings tell the truth: true heights, exact widths, labels apart, plain signs on request."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.views import labels
from pondtui.views.drawings import (
    WATERS,
    Rows,
    barrel,
    big_digits,
    gauge_bar,
    plain,
    pond_section,
    progress,
)
from tests.golden_files import Golden

MARKS = [
    ("overflow pipe", 20.0, "spill"),
    ("summer mark", 60.0, "target"),
    ("iris shelf", 110.0, "warn"),
    ("liner seam", 115.0, "seep"),
    ("pump intake", 240.0, "danger"),
]
ROLES = ("spill", "seep", "target", "top-up", "warn", "danger")
EIGHTHS = "▁▂▃▄▅▆▇█"

any_marks = st.lists(
    st.tuples(
        st.text(min_size=1, max_size=30),
        st.floats(-100, 500, allow_nan=False),
        st.sampled_from(ROLES),
    ),
    max_size=9,
)


def draw_pond(
    width: int,
    height: int,
    level: float | None = 62.0,
    marks: list[tuple[str, float, str]] | None = None,
    *,
    ascii: bool = False,
) -> Rows:
    return pond_section(
        width,
        height,
        level=level,
        marks=MARKS if marks is None else marks,
        higher_is_smaller=True,
        floor_reading=300,
        top_reading=0,
        ascii=ascii,
    )


def draw_barrel(
    width: int,
    height: int,
    shape: str = "upright",
    depth: float = 0.7,
    water: str = "treated",
    *,
    outlet: float = 0.1,
    ascii: bool = False,
) -> Rows:
    return barrel(
        width,
        height,
        shape=shape,
        depth_fraction=depth,
        outlet_fraction=outlet,
        full_fraction=0.95,
        water=water,
        ascii=ascii,
        amount="120 L",
        heel="18 L",
    )


def surface_height(rows: Rows, first: int, count: int) -> tuple[float, float]:
    """The heights between which the drawn surface ends, as parts of the whole, from below."""
    for row in range(count):
        for text, role in rows[first + row]:
            if role == "surface" and text.strip() and text[0] in EIGHTHS:
                top = count - 1 - row + (EIGHTHS.index(text[0]) + 1) / 8
                return (top - 1 / 8) / count, top / count
    raise AssertionError("no surface is drawn")


def basin_of(rows: Rows) -> tuple[int, int]:
    """First row and number of rows of the basin, seen from the earth beside it."""
    earth = [y for y, row in enumerate(rows) if any(span.role == "earth" for span in row)]
    return earth[0], earth[-1] - earth[0]


def inside_of(rows: Rows) -> tuple[int, int]:
    """First row and number of rows inside a barrel, seen from its lid and bottom."""
    lines = plain(rows)
    lid = next(y for y, line in enumerate(lines) if line.strip()[:1] in "╭┌" and "──" in line)
    bottom = max(y for y, line in enumerate(lines) if "╰──" in line or "└──" in line)
    return lid + 1, bottom - lid - 1


@given(level=st.floats(0.0, 300.0), height=st.integers(5, 40), width=st.integers(50, 120))
def test_the_ponds_water_stands_at_its_true_height(level: float, height: int, width: int) -> None:
    rows = draw_pond(width, height, level, [])
    low, high = surface_height(rows, *basin_of(rows))
    true = 1 - level / 300
    # One eighth always shows, so that a dry floor is still seen as a surface.
    assert low - 1e-6 <= true <= high + 1e-6


@given(
    level=st.floats(0.0, 300.0), height=st.integers(2, 40), width=st.integers(20, 120),
    down=st.booleans(), order=st.permutations(MARKS),
)  # fmt: skip
def test_what_is_higher_stands_higher_also_where_several_share_a_row(
    level: float, height: int, width: int, down: bool, order: list[tuple[str, float, str]]
) -> None:
    sign = 1 if down else -1
    drawn = pond_section(
        width,
        height,
        level=sign * level,
        marks=[(name, sign * at, role) for name, at, role in order],
        higher_is_smaller=down,
        floor_reading=sign * 300,
        top_reading=0,
        say=lambda _: "|",
    )
    heights = {name: at for name, at, _ in MARKS} | {"WATER": level}
    shown = [heights[name] for row in plain(drawn) for name in heights if name in row]
    assert shown == sorted(shown)
    assert level in shown


@given(reading=st.floats(0.0, 299.9), height=st.integers(5, 40))
def test_a_marks_line_lies_in_the_row_of_its_reading(reading: float, height: int) -> None:
    rows = draw_pond(70, height, None, [("shelf", reading, "warn")])
    first, count = basin_of(rows)
    [row] = [y for y, row in enumerate(rows) if any("╌╌╌" in s.text for s in row)]
    share = reading / 300 * count
    assert row - first == int(share)


@given(level=st.floats(0, 800))
def test_a_rule_standing_in_the_water_is_drawn_the_other_way_up(level: float) -> None:
    rows = pond_section(
        60,
        20,
        level=level,
        marks=[],
        higher_is_smaller=False,
        floor_reading=0,
        top_reading=800,
    )
    low, high = surface_height(rows, *basin_of(rows))
    assert low - 1e-6 <= level / 800 <= high + 1e-6


@given(
    depth=st.floats(0.001, 1.0),
    height=st.integers(8, 40),
    shape=st.sampled_from(["upright", "lying", "straight"]),
)
def test_the_barrels_water_stands_at_its_true_height(depth: float, height: int, shape: str) -> None:
    rows = draw_barrel(60, height, shape, depth)
    low, high = surface_height(rows, *inside_of(rows))
    assert low - 1e-6 <= depth <= high + 1e-6


@given(outlet=st.floats(0.01, 0.5), height=st.integers(12, 40))
def test_the_spout_stands_at_the_outlets_height_and_the_heel_below_it(
    outlet: float, height: int
) -> None:
    rows = draw_barrel(60, height, outlet=outlet)
    first, count = inside_of(rows)
    [spout] = [y for y, line in enumerate(plain(rows)) if "╔" in line]
    lower_edge = (count - (spout - first + 1)) / count
    # Half a row either way; a heel is always given a row of its own.
    assert abs(lower_edge - max(outlet, 1 / count)) <= 0.5 / count + 1e-6
    heel = [y for y, row in enumerate(rows) if any(span.role == "heel" for span in row)]
    assert heel == list(range(spout + 1, first + count))


@given(
    width=st.integers(0, 170),
    height=st.integers(0, 50),
    level=st.none() | st.floats(allow_nan=True),
    marks=any_marks,
    ascii=st.booleans(),
)
def test_every_row_of_a_pond_has_exactly_its_width(
    width: int,
    height: int,
    level: float | None,
    marks: list[tuple[str, float, str]],
    ascii: bool,
) -> None:
    lines = plain(draw_pond(width, height, level, marks, ascii=ascii))
    assert [len(line) for line in lines] == [width] * height


@given(
    width=st.integers(0, 170),
    height=st.integers(0, 50),
    shape=st.sampled_from(["upright", "lying", "straight"]),
    depth=st.floats(-0.5, 1.5),
    outlet=st.floats(0.0, 1.0),
    water=st.sampled_from(sorted(WATERS)),
    ascii=st.booleans(),
)
def test_every_row_of_a_barrel_has_exactly_its_width(
    width: int, height: int, shape: str, depth: float, outlet: float, water: str, ascii: bool
) -> None:
    lines = plain(draw_barrel(width, height, shape, depth, water, outlet=outlet, ascii=ascii))
    assert [len(line) for line in lines] == [width] * height


@given(
    rows=st.lists(st.integers(0, 19), max_size=20),
    weights=st.lists(st.integers(1, 9), min_size=20, max_size=20),
)
def test_labels_get_rows_of_their_own_and_keep_their_order(
    rows: list[int], weights: list[int]
) -> None:
    wanted = [labels.Label(r, "a", "1", "mark", w) for r, w in zip(rows, weights, strict=False)]
    placed = labels.place(wanted, 20)
    spots = [spot.row for spot in placed]
    assert spots == sorted(set(spots))
    assert all(0 <= row < 20 for row in spots)
    assert [spot.label.row for spot in placed] == sorted(rows)


def _rows_of(spot: labels.Placed) -> set[int]:
    low, high = sorted((spot.label.row, spot.row))
    return set(range(low, high + 1))


@given(rows=st.lists(st.integers(0, 11), max_size=12))
def test_two_leaders_never_cross_nor_share_a_column(rows: list[int]) -> None:
    placed = labels.place([labels.Label(r, "a", "1", "mark") for r in rows], 12)
    turning = [spot for spot in placed if spot.lane]
    for i, spot in enumerate(turning):
        for other in turning[i + 1 :]:
            if spot.label.row != other.label.row and _rows_of(spot) & _rows_of(other):
                assert spot.lane != other.lane
    for spot in placed:
        for other in placed:
            low, high = sorted((other.label.row, other.row))
            if other.lane and low < spot.label.row < high:
                assert 0 < spot.lane < other.lane  # it turns before it would meet the other


def test_every_label_is_whole_where_there_is_room() -> None:
    text = "\n".join(plain(draw_pond(90, 24)))
    for name, reading, _ in MARKS:
        assert name in text
        assert f"{reading:.0f} mm" in text
    assert "WATER 62 mm below the edge" in text


def test_marks_that_find_no_row_are_counted_and_the_dangerous_ones_stay() -> None:
    crowd = [(f"stone {n}", 10.0 * n, "target") for n in range(12)]
    text = "\n".join(plain(draw_pond(60, 6, marks=[*crowd, ("pump intake", 240.0, "danger")])))
    assert "!! pump intake" in text
    assert "WATER 62 mm" in text
    assert "+ 9 more" in text


@pytest.mark.parametrize("size", [(60, 20), (30, 10), (20, 5)])
def test_a_pond_without_a_reading_says_so_and_draws_no_water(size: tuple[int, int]) -> None:
    rows = draw_pond(*size, level=None)
    words = " ".join(plain(rows))
    assert all(word in words for word in ("no", "reading", "yet"))
    assert not {s.role for row in rows for s in row} & {"water", "surface"}


@pytest.mark.parametrize("water", sorted(WATERS))
@pytest.mark.parametrize("shape", ["upright", "lying", "straight"])
def test_what_is_in_the_barrel_is_said_in_words(water: str, shape: str) -> None:
    for width, height in ((44, 14), (16, 4)):
        assert WATERS[water][0].split()[0] in "\n".join(
            plain(draw_barrel(width, height, shape, 0.6, water))
        )


def test_words_too_long_for_one_row_under_a_barrel_take_two() -> None:
    shown = plain(draw_barrel(17, 12, depth=0.6, water="clear"))
    assert [line.strip() for line in shown[-3:]] == ["120 L tested", "clear", "heel 18 L stays"]


@given(
    width=st.integers(20, 90),
    height=st.integers(3, 30),
    marks=any_marks,
    depth=st.floats(0, 1),
    shape=st.sampled_from(["upright", "lying", "straight"]),
    water=st.sampled_from(sorted(WATERS)),
)
def test_the_plain_set_has_only_ascii(
    width: int,
    height: int,
    marks: list[tuple[str, float, str]],
    depth: float,
    shape: str,
    water: str,
) -> None:
    lines = plain(draw_pond(width, height, marks=marks, ascii=True))
    lines += plain(draw_barrel(width, height, shape, depth, water, ascii=True))
    lines += plain([progress(width, depth, ascii=True)])
    lines += plain([gauge_bar(width, depth * 3, low=0, high=2, sound=(0.5, 1), ascii=True)])
    assert all(" " <= sign <= "~" for line in lines for sign in line)


@given(width=st.integers(0, 120), fraction=st.floats(allow_nan=True), ascii=st.booleans())
def test_a_bar_has_exactly_its_width(width: int, fraction: float, ascii: bool) -> None:
    assert [len(line) for line in plain([progress(width, fraction, ascii=ascii)])] == [width]
    bar = gauge_bar(width, fraction, low=0, high=14, sound=(6.5, 8.5), ascii=ascii)
    assert sum(len(span.text) for span in bar) == width


def test_progress_says_100_percent_only_at_the_end() -> None:
    assert "99 %" in plain([progress(30, 0.9999)])[0]
    assert "100 %" in plain([progress(30, 1.0)])[0]


def test_a_value_off_the_scale_is_an_arrow_in_the_colour_of_danger() -> None:
    bar = gauge_bar(20, 15.0, low=0, high=14, sound=(6.5, 8.5))
    assert bar[-1].text == "▶"
    assert bar[-1].role == "danger"


@given(
    text=st.from_regex(r"\A-?[0-9]{1,4}([.:][0-9]{1,2})?( mL| g)?\Z"),
    ascii=st.booleans(),
    height=st.sampled_from([3, 5]),
)
def test_large_digits_have_lines_of_one_width_and_keep_the_unit(
    text: str, ascii: bool, height: int
) -> None:
    lines = big_digits(text, ascii, height=height)
    assert len(lines) == height
    assert len({len(line) for line in lines}) == 1
    assert lines[-1].endswith(text.split(" ")[1] if " " in text else "")
    assert not ascii or all(sign <= "~" for line in lines for sign in line)


@pytest.mark.parametrize("ascii", [False, True])
@pytest.mark.parametrize("height", [3, 5])
def test_no_two_large_digits_look_alike(ascii: bool, height: int) -> None:
    drawn = {tuple(big_digits(digit, ascii, height=height)) for digit in "0123456789-.:"}
    assert len(drawn) == 13


@pytest.mark.parametrize(("width", "height"), [(34, 9), (44, 12), (58, 14), (90, 26)])
def test_the_pond_looks_as_it_was_agreed(width: int, height: int, golden: Golden) -> None:
    golden(f"pond-{width}x{height}", plain(draw_pond(width, height)))


def test_the_pond_in_plain_signs_looks_as_it_was_agreed(golden: Golden) -> None:
    golden("pond-58x14-plain", plain(draw_pond(58, 14, 150, ascii=True)))
    golden("pond-58x14-unread", plain(draw_pond(58, 14, None)))


@pytest.mark.parametrize("shape", ["upright", "lying", "straight"])
@pytest.mark.parametrize("ascii", [False, True])
def test_the_barrel_looks_as_it_was_agreed(shape: str, ascii: bool, golden: Golden) -> None:
    water = {"upright": "untreated", "lying": "clear", "straight": "unknown"}[shape]
    name = f"barrel-{shape}" + ("-plain" if ascii else "")
    golden(name, plain(draw_barrel(48, 14, shape, water=water, ascii=ascii)))


def test_large_digits_look_as_they_were_agreed(golden: Golden) -> None:
    drawn = [
        line
        for height in (5, 3)
        for ascii in (False, True)
        for text in ("12.5 mL", "09:37", "-4680")
        for line in big_digits(text, ascii, height=height)
    ]
    golden("digits", drawn)
