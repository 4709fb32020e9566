"""The sheet on a screen: laid out for the columns there are, with all that stands on paper."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from itertools import pairwise

import pytest

from pondtui.pond.away.model import Drawing, Sheet
from pondtui.views.care import text
from tests.golden_files import Golden
from tests.pond.away.ponds import sheet

UNITS = "US gal|US fl oz|imp gal|imp fl oz|mm|in|ft|mL|L|mg/L|°C|°F|min|h|%"


@cache
def of(units: str) -> Sheet:
    """A sheet with all that it can hold."""
    return sheet(sitter="Sam", units=units, private=True)


@cache
def laid(units: str, width: int) -> list[str]:
    """The sheet for so many columns."""
    return text.lines(of(units), width)


@cache
def undrawn(units: str) -> Sheet:
    """The same without its drawings, which have a size of their own; each of their numbers stands
    in words beneath it."""
    told = of(units)
    parts = tuple(
        part._replace(blocks=tuple(b for b in part.blocks if not isinstance(b, Drawing)))
        for part in told.parts
    )
    return told._replace(parts=parts)


@cache
def numbers_on_paper(units: str) -> Counter[str]:
    """What `numbers` finds on paper."""
    return numbers(text.lines(undrawn(units)))


def numbers(lines: list[str]) -> Counter[str]:
    """How often each number stands there with its unit, however the lines are broken."""
    flat = " ".join(" ".join(lines).split())
    return Counter(re.findall(rf"[0-9][0-9./:-]*(?: [0-9]+/[0-9]+)?(?: (?:{UNITS})\b)?", flat))


@pytest.mark.parametrize("units", ["metric", "us", "imperial"])
@pytest.mark.parametrize("width", range(40, 121))
def test_no_line_is_wider_than_the_screen_and_no_number_is_missing(units: str, width: int) -> None:
    assert max(map(len, laid(units, width))) <= min(width, text.WIDTH)
    assert numbers(text.lines(undrawn(units), width)) == numbers_on_paper(units)


@pytest.mark.parametrize("units", ["metric", "us", "imperial"])
@pytest.mark.parametrize("width", range(37, 76))
def test_no_line_ends_between_a_number_and_its_unit(units: str, width: int) -> None:
    lines = [line.strip() for line in laid(units, width)]
    for line, following in pairwise(lines):
        parted = re.search(r"(?<![\w.:-])[0-9][0-9./]*$", line)
        assert not (parted and re.match(rf"(?:{UNITS})\b|[0-9]+/[0-9]", following)), line


@pytest.mark.parametrize("width", range(37, 76))
def test_a_telephone_number_stays_in_one_line(width: int) -> None:
    assert any("+32 2 555 01 23" in line for line in laid("metric", width))


@pytest.mark.parametrize("units", ["metric", "us", "imperial"])
def test_paper_is_as_before_at_any_width_that_holds_it(units: str) -> None:
    assert text.lines(of(units), 200) == text.lines(of(units), text.WIDTH) == text.lines(of(units))


@pytest.mark.parametrize("width", [1, 10, 24])
def test_the_narrowest_screens_get_a_sheet_all_the_same(width: int) -> None:
    lines = text.lines(of("us"), width)
    assert max(map(len, lines)) <= text.LEAST


@pytest.mark.parametrize("width", [37, 57])
def test_the_narrow_sheet_reads_as_it_was_looked_at(golden: Golden, width: int) -> None:
    golden(f"care-sheet-{width}", text.lines(of("us"), width))
