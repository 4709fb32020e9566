"""What comes from outside can be shown: nothing hidden, nothing a terminal obeys."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.clean import visible


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("plain pond", "plain pond"),
        ("two\nlines", "two\nlines"),
        ("\x1b]0;title\x07", "␛]0;title␇"),
        ("a\x00b\tc\rd\x7f", "a␀b␉c␍d␡"),
        ("\x9b31m", "�31m"),
        ("left\u202eright", "left\ufffdright"),
        ("zero\u200bwidth\ufeff", "zero\ufffdwidth\ufffd"),
        ("sun\u2600\ufe0f", "sun\u2600\ufffd"),
        ("line\u2028sep\x85arated", "line\u2424sep\u2424arated"),
        ("\udcff", "�"),
        ("Élise, 18 °C, 池", "Élise, 18 °C, 池"),
    ],
)
def test_hidden_characters_become_visible_one_for_one(text: str, shown: str) -> None:
    assert visible(text) == shown
    assert len(shown) == len(text)


@given(st.text())
def test_nothing_that_a_terminal_obeys_is_left(text: str) -> None:
    for sign in visible(text):
        category = unicodedata.category(sign)
        bidi = unicodedata.bidirectional(sign) in ("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI")
        assert sign == "\n" or category not in ("Cc", "Cs", "Zl", "Zp")
        assert not bidi


@given(st.text())
def test_cleaning_twice_is_cleaning_once(text: str) -> None:
    assert visible(visible(text)) == visible(text)


@given(st.text())
def test_what_is_left_can_be_written_as_utf_8(text: str) -> None:
    assert visible(text).encode().decode() == visible(text)
