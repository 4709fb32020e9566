"""The lines that every screen has."""

from __future__ import annotations

import asyncio

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
