"""Words and drawings as what the toolkit shows: plain content, so that no text of a keeper is
taken for markup, painted by role."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import accumulate

from rich.cells import cell_len
from textual.content import Content, Span

from pondtui.tui.colours import ROLES
from pondtui.views.broken import HARD, broken, tied
from pondtui.views.canvas import Rows


def style(role: str, *, bold: bool = False) -> str:
    """The toolkit's style for a role."""
    text, ground = ROLES.get(role, ROLES["text"])
    painted = f"${text} on ${ground}" if ground else f"${text}"
    return f"bold {painted}" if bold else painted


def wrap(text: str, width: int, most: int | None = None) -> list[str]:
    """Lines in which every number stands beside its unit; at most so many."""
    return broken(text, width, most=most) or [""]


def unbroken(content: Content, width: int) -> Content:
    """The content with its lines broken already, where no number loses its unit.

    A space becomes the end of a line, so that all styles stay in their places.
    """
    if fits(content.plain, width):
        return content
    found, start, space = list(tied(content.plain)), 0, -1
    for place, letter in enumerate(found):
        if letter == "\n":
            start, space = place + 1, -1
        elif letter == " ":
            space = place
        elif place - start >= width > 0 and space > start:
            found[space] = "\n"
            start, space = space + 1, -1
    text = "".join(found).replace(HARD, " ")
    return content if text == content.plain else Content(text, spans=list(content.spans))


def fits(text: str, width: int) -> bool:
    """Whether no line of it has more signs than that."""
    return all(len(line) <= width for line in text.split("\n"))


def height(content: Content, width: int) -> int:
    """Lines that it takes, its numbers beside their units."""
    laid = unbroken(content, width)
    lines = laid.plain.split("\n")
    if all(cell_len(line) <= width for line in lines):
        return len(lines)
    return len(laid.wrap(width))  # a long word, or signs that are two cells wide


def changed_rows(before: Content, after: Content, width: int) -> list[int]:
    """The rows, from 0 on, in which a text differs from the one before it, where they are few. None
    where most do, where there are more or fewer rows, or where one is longer than the width."""
    old, new = unbroken(before, width), unbroken(after, width)
    was, lines = old.plain.split("\n"), new.plain.split("\n")
    other = sum(a != b for a, b in zip(was, lines, strict=False))
    if len(was) != len(lines) or 2 * other > len(lines):
        return []
    if any(cell_len(line) > width for line in (*was, *lines)):
        return []
    rows = zip(was, lines, _styles(old, was), _styles(new, lines), strict=True)
    return [y for y, (a, b, style, wanted) in enumerate(rows) if (a, style) != (b, wanted)]


def _styles(content: Content, lines: Sequence[str]) -> list[list[Span]]:
    """The styles of each row, by their columns."""
    starts = list(accumulate((len(line) + 1 for line in lines[:-1]), initial=0))
    found: list[list[Span]] = [[] for _ in lines]
    for start, end, style in content.spans:
        row = bisect_right(starts, start) - 1
        while row < len(lines) and starts[row] < end:
            first, last = max(start - starts[row], 0), min(end - starts[row], len(lines[row]))
            found[row].append(Span(first, last, style))
            row += 1
    return found


def words(text: str, role: str = "text", *, bold: bool = False) -> Content:
    """A text of anybody's, as it stands."""
    return Content.styled(text, style(role, bold=bold))


@lru_cache(maxsize=8)  # most drawings are those of the frame before
def drawing(rows: Rows) -> Content:
    """A drawing's rows."""
    lines = [Content.assemble(*((s.text, style(s.role)) for s in row)) for row in rows]
    return Content("\n").join(lines)


def hanging(head: str, text: str, role: str, width: int, *, most: int = 3) -> Content:
    """A head word and its text, wrapped so that further lines stand under the text.

    More than `most` lines end with a sign that something is left out.
    """
    indent = 10
    room = max(width - indent, 10)
    wrapped = wrap(text, room, most)
    body = f"\n{' ' * indent}".join(wrapped)
    return Content.assemble(
        (f"{head:<{indent - 1}} ", style(role, bold=True)),
        (body, style(role)),
    )


def columns(head: str, text: str, role: str, wide: int, width: int) -> Content:
    """A name in a column of its own and a text behind it, cut to one line; "quiet" is not bold."""
    name = head if len(head) <= wide else f"{head[: wide - 1]}…"
    line = Content.assemble(
        (f"{name:<{wide}} ", style("text", bold=role != "quiet")), (text, style(role))
    )
    return line.truncate(max(width, 1), ellipsis=True)


def wrapped(text: str, role: str, width: int) -> Content:
    """A sentence on as many lines as it needs; no unit is parted from its number."""
    return words("\n".join(wrap(text, max(width, 10))), role)


def bullet(text: str, role: str, width: int, *, bold: bool = False) -> Content:
    """A sentence behind a dash, wrapped so that further lines stand under its words."""
    wrapped = wrap(text, max(width - 2, 10))
    return Content.styled("- " + "\n  ".join(wrapped), style(role, bold=bold))


def joined(parts: Iterable[Content]) -> Content:
    """Contents, one a line."""
    return Content("\n").join(list(parts))
