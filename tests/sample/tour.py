"""The README's text pictures and its list of help topics, made by the program from the sample.

python -m tests.sample.tour
"""

from __future__ import annotations

import asyncio
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path

from pondtui.books.pondfile import load
from pondtui.books.settings import Settings
from pondtui.cli.pages import manual
from pondtui.tui.run import make_app
from pondtui.tui.session import Session
from pondtui.views.pages.contents import topics
from tests.sample.copies import copy_sample, sample_call, sample_now
from tests.tui.ponds import screen_text, settle

README = Path(__file__).parents[2] / "README.md"
_SIZE = (80, 24)


async def _screen(keys: Iterable[str]) -> str:
    with tempfile.TemporaryDirectory() as room:
        folder = copy_sample(Path(room) / "pond")
        now = int(sample_now().timestamp())
        settings = Settings(by="MO")
        session = Session(folder, load(folder), lambda: now, settings=settings, inline=True)
        app = make_app(session, {"TERM": "xterm-256color"})
        async with app.run_test(size=_SIZE) as pilot:
            await settle(pilot)
            for key in keys:
                await pilot.press(key)
                await settle(pilot)
            lines = [line.rstrip() for line in screen_text(app)]
    return "```text\n" + "\n".join(lines).strip("\n") + "\n```"


def _keys(*keys: str) -> Callable[[], str]:
    return lambda: asyncio.run(_screen(keys))


def _command(*words: str) -> Callable[[], str]:
    """A call as typed on the sample, and its answer."""

    def make() -> str:
        shown = " ".join(["pondtui sample", *words])
        return f"```text\n$ {shown}\n{sample_call(*words).out.rstrip()}\n```"

    return make


def _topics() -> str:
    return "\n".join(f"- `pondtui help {page.name}`: {page.title}" for page in topics(manual()))


BLOCKS: dict[str, Callable[[], str]] = {
    "today": _keys(),
    "refill": _keys("r"),
    "budget": _keys("b"),
    "plan": _command("plan"),
    "topics": _topics,
}


def with_blocks(text: str) -> str:
    """The README's text with every marked block made anew. A block that nobody marks is a fault."""
    for name, make in BLOCKS.items():
        begin, end = f"<!-- made: {name} -->\n", f"\n<!-- end: {name} -->"
        if text.count(begin) != 1 or text.count(end) != 1:
            raise ValueError(f"README.md: mark the block {name} once, with {begin.strip()}")
        before, rest = text.split(begin)
        text = before + begin + make() + end + rest.split(end)[1]
    return text


def main() -> None:
    """Write the README's blocks anew."""
    README.write_text(with_blocks(README.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main()
