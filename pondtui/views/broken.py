"""Texts broken into lines so that no number is parted from its unit or its sign."""

from __future__ import annotations

import re
import textwrap

HARD = "\u00a0"  # a blank at which no line is broken
_TIED = re.compile(
    r"(?<=[0-9]) (?=[^\W\d_]|[°%]|[0-9]+/[0-9])|(?<=\bUS) (?=gal|fl)|(?<=\bimp) (?=gal|fl)"
    r"|(?<=[0-9]) (?=±)|(?<=±) (?=[0-9])"
)


def tied(text: str) -> str:
    """The text with hard blanks in place of those that belong to a number."""
    return _TIED.sub(HARD, text)


def broken(
    text: str, width: int, *, first: str = "", indent: str = "", most: int | None = None
) -> list[str]:
    """The lines, none for an empty text; more than `most` end with a sign that something is left
    out."""
    found = textwrap.wrap(
        tied(text),
        width,
        initial_indent=first,
        subsequent_indent=indent,
        break_on_hyphens=False,
        max_lines=most,
        placeholder=" …",
    )
    return [line.replace(HARD, " ") for line in found]
