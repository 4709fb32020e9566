"""A page of the manual, and how its text is laid out in any width.

Text is plain with five marks: `# heading`; `- item`; four blanks before what stands as it is;
`left :: right` for a row of two columns; `> caution`. Two blanks in front go on with the line
above. All else is folded as paragraphs.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from textwrap import wrap

from pondtui.records import NamedTuple

WIDE = 80
_LEFT = 24  # a longer left side takes a line of its own
_ROW = " :: "


class Page(NamedTuple):
    """One page; a name of two words such as `pond-toml barrel` is a part of the first."""

    name: str
    title: str
    text: str

    @property
    def topic(self) -> str:
        """The topic that the page belongs to."""
        return self.name.split()[0]


class Laid(NamedTuple):
    """One line as it stands on the screen; `role`: head, text, code or caution."""

    role: str
    text: str


def laid_out(text: str, width: int = WIDE) -> list[Laid]:
    """The lines of a page's text, none wider than `width` where it has 20 columns at least."""
    lines: list[Laid] = []
    width = max(width, 20)
    for what, group in groupby(_whole(text), _mark):
        found = list(group)
        if what == "row":
            lines += (Laid("text", line) for line in _rows(found, width))
        elif what == "text":
            lines += (Laid("text", line) for line in _folded(" ".join(found), "", width))
        else:
            for line in found:
                lines += _single(what, line, width)
    return lines


def as_text(text: str, width: int = WIDE) -> list[str]:
    """The page's lines without their roles; a heading stands out by its capitals."""
    return [line.text.upper() if line.role == "head" else line.text
            for line in laid_out(text, width)]  # fmt: skip


def row(left: str, right: str) -> str:
    """A row of two columns, as text of a page."""
    return f"{left}{_ROW}{right}"


def _whole(text: str) -> list[str]:
    """The lines, with those that go on (two blanks in front) joined to the one they belong to."""
    lines: list[str] = []
    for line in text.strip("\n").split("\n"):
        if lines and line[:2] == "  " and line[2:3] not in ("", " "):
            lines[-1] += f" {line.strip()}"
        else:
            lines.append(line)
    return lines


def _mark(line: str) -> str:
    if not line.strip():
        return "blank"
    if line.startswith("    "):
        return "code"
    marks = {"# ": "head", "- ": "item", "> ": "caution"}
    return marks.get(line[:2]) or ("row" if _ROW in line else "text")


def _single(what: str, line: str, width: int) -> Iterator[Laid]:
    if what == "blank":
        yield Laid("text", "")
    elif what == "head":
        yield from (Laid("head", part) for part in _folded(line[2:], "", width))
    elif what == "item":
        yield from (Laid("text", part) for part in _folded(line, "  ", width))
    elif what == "caution":
        yield from (Laid("caution", part) for part in _folded(f"! {line[2:]}", "  ", width))
    elif len(line) <= width:
        yield Laid("code", line)
    else:
        folded = wrap(line.strip(), width - 6, break_long_words=True, break_on_hyphens=False)
        yield from (Laid("code", ("    " if n == 0 else "      ") + part)
                    for n, part in enumerate(folded))  # fmt: skip


def _folded(text: str, indent: str, width: int) -> list[str]:
    return wrap(text, width, subsequent_indent=indent, break_on_hyphens=False) or [""]


def _rows(rows: list[str], width: int) -> Iterator[str]:
    pairs = [line.partition(_ROW)[::2] for line in rows]
    most = min(_LEFT, max(width // 3, 8))
    left_width = max((len(left) for left, _ in pairs if len(left) <= most), default=4)
    for left, right in pairs:
        parts = wrap(right, width - left_width - 4, break_on_hyphens=False) or [""]
        if len(left) > left_width:
            yield from (f"  {part}" for part in wrap(left, width - 2, break_on_hyphens=False))
            left = ""
        for part in parts:
            yield f"  {left:{left_width}}  {part}".rstrip()
            left = ""
