"""What in a program's output a terminal would obey."""

from __future__ import annotations

import re

_SEQUENCE = re.compile(
    r"\x1b(?:\[[0-?]*[ -/]*[@-~]|[PX^_\]].*?(?:\x07|\x1b\\)|[ -/]*[0-~])", re.DOTALL
)
_HIDDEN = re.compile(
    "[\x00-\x09\x0b\x0c\x0e-\x1f\x7f-\x9f\u00ad\u034f\u061c\u180b-\u180f\u200b-\u200f"
    "\u2028-\u202e\u2060-\u206f\ufe00-\ufe0f\ufeff\ufff9-\ufffb\ud800-\udfff\U000e0000-\U000e0fff]"
)
OURS = re.compile(
    r"\x1b\[(?:[0-9;]*[Hmu]|\?[0-9;]+(?:[hlu]|\$p)|[0-9]*[JKABCDG]|[<>=][0-9;]*[umq]|c|6n|14t|16t)"
    r"|\x1b\]22;[a-z]*\x07"
)
# Sequences of the toolkit itself: cursor, colours, modes, keyboard, and questions about them.


def obeyed(data: bytes) -> list[str]:
    """What a text would make a terminal do; the sequences of the toolkit itself do not count."""
    text = data.decode("utf-8", "surrogateescape")
    found = []
    for each in _SEQUENCE.findall(text):
        if "6666" in each or not OURS.fullmatch(each):
            found.append(repr(each))
    rest = _SEQUENCE.sub("", text)
    found += [repr(rest[max(m.start() - 20, 0) : m.end() + 9]) for m in _HIDDEN.finditer(rest)]
    found += [
        repr(rest[max(m.start() - 20, 0) : m.end() + 9])
        for m in re.finditer("[\ud800-\udfff]", rest)
    ]
    return found
