"""A message taken apart into numbered answers, whatever mail and telephone programs did to it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence

from pondtui.clean import visible
from pondtui.pond.away.model import Task
from pondtui.records import NamedTuple

_PLAIN = str.maketrans({
    "‘": "'", "’": "'", "‚": "'", "‛": "'", "′": "'", "“": '"', "”": '"', "„": '"', "″": '"',
    "«": '"', "»": '"', "–": "-", "—": "-", "‐": "-", "−": "-", "‑": "-", "⁄": "/", "*": None,
    "`": None, "\t": " ", "\r": "\n", "☑": "[x] ", "✅": "[x] ", "☒": "[x] ", "☐": "[ ] ",
    "\u2028": "\n", "\u2029": "\n", "\u0085": "\n", "\u00ad": None,
})  # fmt: skip
_UNSEEN = re.compile("[\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufe00-\ufe0f]")
_QUOTE = re.compile(r"^ *(?:[>|] ?)+")
_BULLET = re.compile(r"^(?:[-+•·o] +)+")
_BOX = re.compile(r"^\[ ?([xX✓✔]?) ?\] *")
_DROPPED = re.compile(
    r"(?:from|to|cc|bcc|subject|date|sent|reply-to|message-id|return-path|received|mime-version"
    r"|content-[\w-]+|x-[\w-]+) ?:"
    r"|.* (?:wrote|writes) ?:$|begin forwarded message|-{2,} ?(?:original|forwarded)"
    r"|sent from my |visit \d+ of \d+|answer|sheet [a-z0-9]{5}\b",
    re.IGNORECASE,
)
_CODE = re.compile(r"\bsheet[ :#]*([a-z0-9]{5})\b", re.IGNORECASE)
_NUMBER = re.compile(r"(?<![\w.,:/])#?([0-9]{1,3})[.,]([0-9]{1,2})(?![0-9]|[.,:/][0-9])")
_UNIT_NEXT = re.compile(
    r" ?(?:mm|cm|ml|m?l|litres?|liters?|gal|us gal|imp gal|inch|inches|mg|ppm|deg|°|%|tsp|fl|min"
    r"|[cf]\b|in\b(?= *(?:$|[.,;)\n]|\d+[.,]\d))|\"(?!\w))(?![a-z])",
    re.IGNORECASE,
)
_WORD = (
    r"(?:ok|okay|okey|yes|yep|yeah|y|done|did|good|fine|all (?:ok|good|well|fine)|check|checked|✓|✔"
    r"|👍|no|not|nope|none|nil|zero|clear|n|couldn|can|cannot|didn|skipped|✗|✘|❌)(?![a-z])"
)
_LEAD = r"[ :=.)\]\"'(-]*"
_ANSWER = re.compile(rf"{_LEAD}(?:{_WORD}|\[[xX ]?\]|[<+-]?\.?\d)", re.IGNORECASE)
_WORD_NEXT = re.compile(rf"{_LEAD}(?:{_WORD})", re.IGNORECASE)

_SAID = re.compile(r"[^ :=\-.,;)]")
_SEEN = re.compile(r"\S")
_AT_ONCE = 4000  # characters
_LOOK_AHEAD = 200  # characters behind a number that tell what it is


class Piece(NamedTuple):
    """What stands behind a number, one that the sheet lacks too; none where words stand alone."""

    number: str
    text: str
    ticked: bool = False  # a box in front of it was ticked


def plain(text: str) -> str:
    """The text with plain quotes, dashes and digits, and nothing unseen in it."""
    flat = text.replace("\r\n", "\n").translate(_PLAIN)
    seen = _UNSEEN.sub("", flat)
    # In pieces: signs to be put upon one letter cost the square of their number.
    pieces = (seen[at : at + _AT_ONCE] for at in range(0, len(seen), _AT_ONCE))
    flat = "".join(unicodedata.normalize("NFKC", piece) for piece in pieces).translate(_PLAIN)
    return visible(flat.replace("\u00a0", " "))


def code_in(text: str) -> str:
    """The code of the sheet that a message names; "" where it names none."""
    found = _CODE.search(plain(text))
    return found[1].upper() if found else ""


def pieces(text: str, tasks: Sequence[Task]) -> Iterator[Piece]:
    """The message cut at the numbers of these tasks, in its order."""
    known = {task.number: task for task in tasks}
    for paragraph in _paragraphs(text):
        yield from _cut(paragraph, known)


def _paragraphs(text: str) -> Iterator[list[str]]:
    """Lines that belong together, without quoting marks, headers and the sheet's own lines."""
    lines: list[str] = []
    for raw in plain(text).split("\n"):
        line = _BULLET.sub("", _QUOTE.sub("", raw).strip())
        if line and not _DROPPED.match(_BOX.sub("", line)):
            lines.append(line)
        elif lines:
            yield lines
            lines = []
    if lines:
        yield lines


def _cut(lines: Iterable[str], known: dict[str, Task]) -> Iterator[Piece]:
    visits = {each.split(".")[0] for each in known}
    number, words, ticked, said = "", [""], False, False
    for line in lines:
        box = _BOX.match(line)
        rest = line[box.end() :] if box else line
        begins = True
        place = 0
        for found in _NUMBER.finditer(rest):
            key = f"{int(found[1])}.{int(found[2])}"
            said = said or bool(_SAID.search(rest, place, found.start()))
            starts = begins and not _SEEN.search(rest, 0, found.start())
            behind = rest[found.end() : found.end() + _LOOK_AHEAD]
            if key in known:
                is_number = _is_number(known, number, said, key, behind, starts)
            else:
                is_number = key.split(".")[0] in visits and bool(_WORD_NEXT.match(behind))
            if not is_number:
                continue
            before = " ".join([*words, rest[place : found.start()]])
            yield Piece(number, before.strip(), ticked)
            number, words, said = key, [""], False
            ticked = bool(box and box[1]) if starts else False
            place, begins = found.end(), False
        words.append(rest[place:])
        said = said or bool(_SAID.search(rest, place))
    yield Piece(number, " ".join(words).strip(), ticked)


def _is_number(
    known: dict[str, Task], last: str, answered: bool, key: str, after: str, starts: bool
) -> bool:
    """Whether a number such as 2.3 is a task's, and not an amount in the answer before it."""
    if _UNIT_NEXT.match(after):
        return False
    asks_amount = last in known and bool(known[last].field)
    if not answered and asks_amount and last.split(".")[0] != key.split(".")[0]:
        return False
    follows = bool(_ANSWER.match(after))
    if not answered and asks_amount and not follows:
        return False
    return starts or follows or not after.strip()
