"""Texts that were looked at once and are kept: tests/golden/NAME.txt.

`pytest --rebuild-goldens` writes them anew; look at the difference before you commit it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

_FOLDER = Path(__file__).parent / "golden"

Golden = Callable[[str, Iterable[str]], None]


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the one flag that may change a kept text."""
    parser.addoption(
        "--rebuild-goldens", action="store_true", help="write the texts in tests/golden/ anew"
    )


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Golden:
    """Compare lines with the kept text of that name."""

    def compare(name: str, lines: Iterable[str]) -> None:
        path = _FOLDER / f"{name}.txt"
        # Trailing blanks would be lost in editors, so each line ends with a mark.
        drawn = "".join(f"{line}¶\n" for line in lines)
        if request.config.getoption("--rebuild-goldens"):
            path.parent.mkdir(exist_ok=True)
            path.write_text(drawn, encoding="utf-8")
        assert path.is_file(), f"no golden text {path.name}: run pytest --rebuild-goldens"
        assert drawn == path.read_text(encoding="utf-8")

    return compare
