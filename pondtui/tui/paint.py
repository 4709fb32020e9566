"""Words and drawings as what the toolkit shows: plain content, so that no text of a keeper is
taken for markup, painted by role."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.cells import cell_len
from textual.content import Content

from pondtui.tui.colours import ROLES
from pondtui.views.broken import HARD, broken, tied
from pondtui.views.canvas import Span


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


def words(text: str, role: str = "text", *, bold: bool = False) -> Content:
    """A text of anybody's, as it stands."""
    return Content.styled(text, style(role, bold=bold))


def drawing(rows: Iterable[Sequence[Span]]) -> Content:
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
