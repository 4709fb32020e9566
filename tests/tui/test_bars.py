"""The lines that every screen has."""

from __future__ import annotations

import asyncio
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.app import App, ComposeResult
from textual.content import Content
from textual.strip import Strip
from textual.widgets import Static

from pondtui.tui import paint
from pondtui.tui.bars import LEAST_NAME, Line, head

pytestmark = pytest.mark.painted


class Lines(App[None]):
    """A line that grows and shrinks over another one."""

    CSS = "Line { height: auto; } Line.-empty { display: none; } #below { height: 1; }"

    def compose(self) -> ComposeResult:
        """The two."""
        yield Line(id="line")
        yield Static("below", id="below")


async def _places(texts: list[str]) -> list[tuple[int, str]]:
    """Where the lower one stands after each text, and what the upper one then shows."""
    app = Lines()
    found = []
    async with app.run_test(size=(20, 10)) as pilot:
        line = app.query_one("#line", Line)
        for text in texts:
            line.say(Content(text))
            await pilot.pause()
            shown = "\n".join(
                strip.text.rstrip() for strip in line.render_lines(line.region.reset_offset)
            )
            found.append((app.query_one("#below").region.y, shown))
    return found


def test_a_line_gives_way_when_its_text_takes_more_lines_or_fewer() -> None:
    long = "words that do not find room in one line of it"
    told = ["one", "two", long, long.upper(), "three", "", "four"]
    heights = [y for y, _ in asyncio.run(_places(told))]
    assert heights == [1, 1, 3, 3, 1, 0, 1]


def test_a_line_shows_each_text_that_takes_as_much_room_as_the_last() -> None:
    assert [shown for _, shown in asyncio.run(_places(["one", "two", "three"]))] == [
        "one",
        "two",
        "three",
    ]


def test_a_text_that_comes_back_is_not_painted_again_but_in_other_colours() -> None:
    async def painted() -> list[Strip]:
        app, found = Lines(), []
        async with app.run_test(size=(20, 10)) as pilot:
            line = app.query_one("#line", Line)
            for text, theme in (
                ("one", "dark"),
                ("two", "dark"),
                ("one", "dark"),
                ("one", "light"),
            ):
                app.theme = f"textual-{theme}"
                line.say(Content(text))
                await pilot.pause()
                found.append(line.render_line(0))
        return found

    first, other, again, light = asyncio.run(painted())
    assert again is first
    assert other.text != first.text
    assert light.text == first.text
    assert light != first


@pytest.mark.parametrize("width", range(1, 60))
def test_a_name_beside_the_title_is_whole_or_known_again_or_left_out(width: int) -> None:
    line = head("Quillwater Court", "Today", width).plain
    name = line.removeprefix("Today").strip()
    whole = name == "Quillwater Court"
    known = len(name) >= LEAST_NAME and name.endswith("…")
    assert whole or known or name == ""
    assert "Quillwater Court".startswith(name.removesuffix("…"))
    assert len(line.rstrip()) <= max(width, len("Today"))


@given(st.text(st.sampled_from("ab 1m±°漢\u0301\n")), st.integers(1, 12))
def test_a_text_takes_as_many_lines_as_it_is_drawn_on(text: str, width: int) -> None:
    content = Content(text)
    drawn = len(paint.unbroken(content, width).wrap(width))
    assert paint.height(content, width) == drawn


ROWS = ("one", "two  ", "", "漢字 and 1 m", "a row that is too long for it", "one two")


def _text(chance: Random) -> Content:
    """Four rows, mostly the same as ever, some in other colours, some of them in one style."""
    rows = [
        Content.styled(chance.choice(ROWS[: 3 if chance.random() < 0.8 else None]),
                       chance.choice(("red", "red", "bold $primary")))
        for _ in range(chance.choice((4, 4, 4, 5)))
    ]  # fmt: skip
    text = Content("\n").join(rows)
    start, end = sorted(chance.choices(range(len(text.plain) + 1), k=2))
    return text.stylize("underline", start, end) if chance.random() < 0.5 else text


def test_where_some_rows_change_the_whole_stands_as_if_painted_anew() -> None:
    chance = Random(7)

    async def shown() -> int:
        app, few = TwoLines(), 0
        async with app.run_test(size=(20, 30)) as pilot:
            line, fresh = app.query_one("#line", Line), app.query_one("#fresh", Line)
            for _ in range(150):
                text = _text(chance)
                few += bool(paint.changed_rows(line.said, text, 18))
                line.say(text)
                fresh.say(text)
                fresh.refresh()
                await pilot.pause()
                both = [each.render_lines(each.region.reset_offset) for each in (line, fresh)]
                assert both[0] == both[1]
        return few

    assert asyncio.run(shown()) > 20


class TwoLines(App[None]):
    """Two lines of a fixed size, with an edge to the left and above."""

    CSS = "Line { height: 8; padding: 1 0 0 2; }"

    def compose(self) -> ComposeResult:
        """The two."""
        yield Line(id="line")
        yield Line(id="fresh")


def test_a_tick_changes_the_rows_of_two_steps() -> None:
    def steps(on: int) -> Content:
        rows = [("▶" if y == on else "·", "bold" if y == on else "") for y in range(9)]
        return paint.joined([Content.styled(f"{sign} step", style) for sign, style in rows])

    assert paint.changed_rows(steps(2), steps(3), 25) == [2, 3]
    assert paint.changed_rows(steps(2), steps(2).stylize("red", 8, 13), 25) == [1]
    assert paint.changed_rows(steps(2), steps(2).stylize("red", 9, 30), 25) == [1, 2, 3, 4]
    for other in (paint.joined([steps(3), Content("one more")]), Content("\n" * 8), steps(2)):
        assert paint.changed_rows(steps(2), other, 25) == []
    assert paint.changed_rows(steps(2), steps(3), 5) == [4, 5, 6, 7]  # each step takes two
    assert paint.changed_rows(steps(2), steps(3), 3) == []  # cut within a word
