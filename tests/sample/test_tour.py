"""The pictures in the README are what the program shows today."""

from __future__ import annotations

import re

import pytest

from tests.sample.tour import BLOCKS, README


@pytest.mark.parametrize("name", BLOCKS)
def test_a_picture_of_the_tour_is_what_the_program_shows(name: str) -> None:
    """Where this fails after a wanted change: python -m tests.sample.tour"""
    text = README.read_text(encoding="utf-8")
    found = re.search(f"<!-- made: {name} -->\n(.*?)\n<!-- end: {name} -->", text, re.S)
    assert found
    assert found[1] == BLOCKS[name]()
