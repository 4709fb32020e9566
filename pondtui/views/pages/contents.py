"""All pages in their order, the list of topics, and looking for words in them."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from pondtui.views.pages import guide, keeping, kinds, own, pond_toml, trade, worksheets
from pondtui.views.pages.page import Page, as_text


@cache
def pages() -> tuple[Page, ...]:
    """Every page but those on verbs and keys, which their own tables write."""
    return (
        *guide.PAGES,
        *trade.PAGES,
        *keeping.PAGES,
        *kinds.pages(),
        *pond_toml.pages(),
        *worksheets.pages(),
        *own.PAGES,
    )


def topics(found: Iterable[Page]) -> list[Page]:
    """The pages that are topics of their own, parts left out."""
    return [page for page in found if page.name == page.topic]


def parts_of(found: Iterable[Page], topic: str) -> list[Page]:
    """A topic's page with all its parts, in their order; none where there is no such topic."""
    return [page for page in found if page.topic == topic]


def holding(found: Iterable[Page], words: str) -> list[tuple[Page, str]]:
    """The pages that hold all the words, those with them in the title first; and the first line
    that holds one of them."""
    wanted = words.casefold().split()
    in_title, in_text = [], []
    for page in found:
        title = f"{page.name} {page.title}".casefold()
        text = f"{title}\n{page.text}".casefold()
        if all(word in title for word in wanted):
            in_title.append((page, ""))
        elif all(word in text for word in wanted):
            in_text.append((page, _first(page, wanted)))
    return in_title + in_text


def _first(page: Page, wanted: list[str]) -> str:
    """The line that holds most of the words."""
    lines = [line.strip() for line in as_text(page.text, 72)]
    return max(lines, key=lambda line: sum(word in line.casefold() for word in wanted), default="")
