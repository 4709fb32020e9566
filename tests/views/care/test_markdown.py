"""The sheet as Markdown, read by another reader of it."""

from __future__ import annotations

from markdown_it import MarkdownIt
from markdown_it.token import Token

from pondtui.views.care import markdown
from tests.pond.away.ponds import PEOPLE, pond, sheet
from tests.views.care.nasty import NASTY, nasty_sheet


def tokens(lines: list[str]) -> list[Token]:
    return MarkdownIt("gfm-like", {"linkify": False}).parse("\n".join(lines))


def test_the_parts_are_headings_and_the_tables_are_tables() -> None:
    found = tokens(markdown.lines(sheet()))
    heads = [found[n + 1].content for n, t in enumerate(found) if t.type == "heading_open"]
    assert heads[0] == "Care sheet: Box"
    assert [h[:2].strip() for h in heads[1:11]] == [str(n) for n in range(1, 11)]
    assert sum(t.type == "table_open" for t in found) >= 5
    assert sum(t.type == "ordered_list_open" for t in found) >= 9


def test_every_task_is_an_unticked_item_of_a_task_list() -> None:
    made = sheet()
    lines = [line for line in markdown.lines(made) if line.startswith("- [ ] ")]
    tasks = [task for planned in made.visits for task in planned.tasks]
    assert [line.split()[3] for line in lines] == [task.number for task in tasks]


def test_what_a_keeper_wrote_is_shown_as_it_stands() -> None:
    found = tokens(markdown.lines(nasty_sheet()))
    kinds = {child.type for token in found for child in token.children or ()}
    assert kinds.isdisjoint({"html_inline", "link_open", "image", "code_inline", "em_open"})
    assert "html_block" not in {token.type for token in found}
    shown = "".join(
        child.content for token in found for child in token.children or () if child.type == "text"
    )
    for text in NASTY:
        assert text in shown


def test_strong_words_are_only_our_own_titles() -> None:
    found = tokens(markdown.lines(sheet(pond(PEOPLE))))
    strong = [t for t in found for c in t.children or () if c.type == "strong_open"]
    assert len(strong) >= 8
