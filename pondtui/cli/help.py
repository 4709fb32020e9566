"""`pondtui help`: the topics of the manual, one of them, or what stands under a word."""

from __future__ import annotations

from difflib import get_close_matches
from textwrap import wrap

from pondtui.cli.context import Context
from pondtui.cli.pages import COMMANDS, manual, options
from pondtui.cli.verbs import GLOBAL_OPTIONS, VERBS
from pondtui.cli.words import Call
from pondtui.errors import UsageError
from pondtui.views.pages.contents import holding, parts_of, topics
from pondtui.views.pages.page import WIDE, Page, as_text, row

_ALSO = {"entries": "journal-format"}  # another word for a topic
_MOST_NAMED = 4  # pages that the sentence for an unknown topic names


def run(call: Call, context: Context) -> int:
    """Print the help asked for."""
    topic = " ".join(call.words)
    lines = _everything() if not topic else _told(_found(topic))
    context.answer({"topic": topic, "text": "\n".join(lines)}, lines)
    return 0


def _found(topic: str) -> list[Page]:
    """The pages of a topic, or those that bear the word. Raises UsageError naming the nearest."""
    word = topic.casefold().replace("pond.toml", "pond-toml")
    pages = manual()
    found = [page for page in pages if page.name == _ALSO.get(word, word)]
    found = parts_of(pages, word) or found
    found += [page for page in pages if page.name.endswith(f" {word}") and page not in found]
    if found:
        return sorted(found, key=lambda page: page.topic != COMMANDS)
    known = dict.fromkeys(part for page in pages for part in (page.name, page.name.split()[-1]))
    close = get_close_matches(word, known, n=1)
    hint = f" (did you mean {close[0]}?)" if close else ""
    inside = [page.name for page, _ in holding(pages, topic)][:_MOST_NAMED]
    where = f"the word stands in {', '.join(inside)}" if inside else "`pondtui help` lists all"
    raise UsageError(f"there is no help on '{topic}'{hint}; {where}")


def _told(pages: list[Page]) -> list[str]:
    lines: list[str] = []
    for page in pages:
        head = f"{page.name}: {page.title}" if page.name == page.topic else page.title
        lines += [*([""] if lines else []), head, "", *as_text(page.text)]
    return lines


def _everything() -> list[str]:
    verbs = "\n".join(row(f"pondtui {v.name} {v.arguments}".strip(), v.help)
                      for v in VERBS.values())  # fmt: skip
    told = "\n".join(row(page.name, page.title) for page in topics(manual()))
    return [
        "pondtui: logbook and checklist for a small garden pond",
        "",
        *as_text(verbs),
        "",
        "Options of every verb",
        *as_text("\n".join(options(GLOBAL_OPTIONS))),
        "",
        "pondtui help TOPIC prints a page; TOPIC is one of these, or a verb, a kind of",
        "entry, a table of pond.toml or a worksheet:",
        *as_text(told),
    ]


def columns(rows: list[tuple[str, str]]) -> list[str]:
    """Two columns; a long left side takes a line of its own, a long right side is folded."""
    width = max((len(left) for left, _ in rows if len(left) <= 26), default=0)
    lines = []
    for left, right in rows:
        folded = wrap(right, WIDE - width - 4, break_long_words=False, break_on_hyphens=False)
        if len(left) > width:
            lines.append(f"  {left}")
            left = ""
        for part in folded or [""]:
            lines.append(f"  {left:{width}}  {part}".rstrip())
            left = ""
    return lines
