"""Large digits for the amount to dose and for what is left of a wait; bars for shares."""

from __future__ import annotations

import math

from pondtui.views.canvas import Canvas, Span, printable

# Five lines a sign, "/" between lines; each # becomes two cells, so that it looks square.
_TALL = {
    "0": "###/# #/# #/# #/###",
    "1": " # /## / # / # /###",
    "2": "###/  #/###/#  /###",
    "3": "###/  #/###/  #/###",
    "4": "# #/# #/###/  #/  #",
    "5": "###/#  /###/  #/###",
    "6": "###/#  /###/# #/###",
    "7": "###/  #/  #/  #/  #",
    "8": "###/# #/###/# #/###",
    "9": "###/# #/###/  #/###",
    "-": "   /   /###/   /   ",
    ":": " /#/ /#/ ",
    ".": " / / / /#",
    " ": " / / / / ",
}
# Three lines a sign, where there is less room.
_LOW = {
    "0": "┏━┓/┃ ┃/┗━┛",
    "1": " ╻ / ┃ / ╹ ",
    "2": "╺━┓/┏━┛/┗━╸",
    "3": "╺━┓/╺━┫/╺━┛",
    "4": "╻ ╻/┗━┫/  ╹",
    "5": "┏━╸/┗━┓/╺━┛",
    "6": "┏━╸/┣━┓/┗━┛",
    "7": "╺━┓/  ┃/  ╹",
    "8": "┏━┓/┣━┫/┗━┛",
    "9": "┏━┓/┗━┫/╺━┛",
    "-": "   /╺━╸/   ",
    ":": "●/ /●",
    ".": " / /●",
    " ": " / / ",
}
_LOW_PLAIN = {
    "0": " _ /| |/|_|",
    "1": "   / | / | ",
    "2": " _ / _|/|_ ",
    "3": " _ / _|/ _|",
    "4": "   /|_|/  |",
    "5": " _ /|_ / _|",
    "6": " _ /|_ /|_|",
    "7": " _ /  |/  |",
    "8": " _ /|_|/|_|",
    "9": " _ /|_|/ _|",
    "-": "   / _ /   ",
    ":": " /o/o",
    ".": " / /o",
    " ": " / / ",
}
_PARTS = " ▏▎▍▌▋▊▉█"


def big_digits(text: str, ascii: bool = False, *, height: int = 5) -> list[str]:
    """A number in large signs, `height` lines (5 or 3) of one width.

    Digits, point, colon and minus are drawn large; whatever follows them ("mL") stands small at
    the foot. A decimal comma is drawn as a point would be.
    """
    tall = height >= 5
    glyphs = _TALL if tall else (_LOW_PLAIN if ascii else _LOW)
    wide = "##" if ascii else "██"
    head = text.replace(",", ".").replace("−", "-")
    large = head[: len(head) - len(head.lstrip("0123456789.:- "))].rstrip()
    small = printable(text[len(large) :].strip(), ascii=ascii)
    lines = [""] * (5 if tall else 3)
    for sign in large:
        for row, part in enumerate(glyphs[sign].split("/")):
            cells = part.replace(" ", "  ").replace("#", wide) if tall else part
            lines[row] += cells + ("  " if tall else " ")
    foot = len(lines) - 1
    gap = " " if small and large and not tall else ""
    return [
        line + gap + (small if row == foot else " " * len(small)) for row, line in enumerate(lines)
    ]


def progress(width: int, fraction: float, *, ascii: bool = False) -> list[Span]:
    """How much is done: a bar and its percentage, exactly `width` cells."""
    share = min(max(fraction, 0.0), 1.0) if math.isfinite(fraction) else 0.0
    # Rounded down, so that 100 % is said only when all is done.
    words = f" {math.floor(share * 100 + 1e-9):3d} %" if width >= 12 else ""
    bar = max(0, width - len(words) - 2)
    eighths = int(share * bar * 8 + 1e-9)
    whole, part = divmod(eighths, 8)
    done = "#" * whole if ascii else "█" * whole + (_PARTS[part] if part else "")
    rest = ("." if ascii else "·") * (bar - len(done))
    frame = "[]" if ascii else "││"
    spans = [Span(frame[0], "quiet"), Span(done, "surface"), Span(rest, "quiet")]
    spans += [Span(frame[1], "quiet"), Span(words, "text")]
    return [span for span in spans if span.text] if width >= 3 else [Span(" " * width, "text")]


def gauge_bar(
    width: int,
    value: float | None,
    *,
    low: float,
    high: float,
    sound: tuple[float, float],
    ascii: bool = False,
) -> tuple[Span, ...]:
    """Where a value lies on a scale with its sound range drawn heavy, exactly `width` cells.

    A value off the scale is an arrow at that end; None draws the scale alone.
    """
    canvas = Canvas(width, 1, ascii=ascii)
    last = width - 1
    reach = (high - low) or 1.0

    def column(at: float) -> int:
        return round(min(max((at - low) / reach, 0.0), 1.0) * last)

    canvas.put(0, 0, ("-" if ascii else "─") * width, "quiet")
    begin, end = column(sound[0]), column(sound[1])
    canvas.put(begin, 0, ("=" if ascii else "━") * (end - begin + 1), "good")
    if value is not None and math.isfinite(value):
        sign = "O" if ascii else "●"
        if value > high:
            sign = ">" if ascii else "▶"
        elif value < low:
            sign = "<" if ascii else "◀"
        canvas.put(column(value), 0, sign, "good" if sound[0] <= value <= sound[1] else "danger")
    return canvas.rows()[0] if width > 0 else ()
