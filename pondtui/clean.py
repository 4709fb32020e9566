"""Text from outside made safe to show: nothing invisible, nothing a terminal would obey."""

from __future__ import annotations

import re

# C0 but LF, DEL and C1; soft hyphen; bidi marks and controls; zero width; line and paragraph
# separators; variation selectors; BOM; annotations; tags; and what is left of undecodable bytes.
_HIDDEN = (  # compiled where it is first used: most texts are plain
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\u00ad\u034f\u061c\u180b-\u180f\u200b-\u200f\u2028-\u202e"
    "\u2060-\u206f\ufe00-\ufe0f\ufeff\ufff9-\ufffb\ud800-\udfff\U000e0000-\U000e0fff]"
)


def visible(text: str) -> str:
    """The text with every hidden or commanding character as a visible symbol, one for one.

    C0 controls become their control pictures (ESC is ␛), line separators ␤, all else `�`;
    LF stays. Called once, where text enters the program.
    """
    if text.isascii() and text.replace("\n", "").isprintable():
        return text
    return re.sub(_HIDDEN, _symbol, text)


def without_hidden(text: str) -> str:
    """The text without those characters, for where a symbol in their place has no room."""
    return re.sub(_HIDDEN, "", text)


def _symbol(found: re.Match[str]) -> str:
    code = ord(found[0])
    if code < 0x20:
        return chr(0x2400 + code)
    if code == 0x7F:
        return "\u2421"
    return "\u2424" if code in (0x85, 0x2028, 0x2029) else "\ufffd"
