"""The rooms of the program keep their order: who may use whom, and who alone owns what."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import pondtui

PACKAGE = Path(pondtui.__file__).parent
FILES = sorted(PACKAGE.rglob("*.py"))

# room -> the rooms and modules of ours that it may import, itself apart
MAY_USE = {
    "records": set[str](),
    "science": {"records"},
    "errors": {"records"},
    "clean": set[str](),
    "unit_words": {"records", "errors"},
    "unit_show": {"records", "unit_words", "errors"},
    "units": {"records", "unit_words", "unit_show", "errors"},
    "pond": {"records", "science", "units", "errors", "clean"},
    "worksheets": {"records", "pond", "science", "units", "errors", "clean"},
    "paths": {"errors"},
    "books": {"records", "pond", "units", "errors", "clean", "paths"},
    "views": {"records", "pond", "worksheets", "units", "errors", "clean"},
    "tui": {"records", "views", "pond", "books", "worksheets", "units", "errors", "clean", "paths"},
    "cli": {
        "records",
        "views",
        "pond",
        "books",
        "worksheets",
        "units",
        "errors",
        "clean",
        "paths",
        "tui",
    },
    "__main__": {"cli"},
    "__init__": set[str](),
}
OWNERS = {"pint": {"units"}, "textual": {"tui"}, "rich": {"tui"}, "platformdirs": {"paths"}}
# the places outside books/ that touch the disk: the program's own folders, and its themes
FILES_ALLOWED = {"paths.py", "tui/themes.py"}
PATH_IO = {
    "read_text",
    "read_bytes",
    "write_text",
    "write_bytes",
    "iterdir",
    "mkdir",
    "unlink",
    "rmdir",
    "touch",
}
CLOCKS = {
    ("datetime", "now"),
    ("datetime", "utcnow"),
    ("datetime", "today"),
    ("date", "today"),
    ("time", "time"),
    ("time", "monotonic"),
    ("time", "localtime"),
}


def room(path: Path) -> str:
    """The top folder of a module, or its own name where it stands alone."""
    first = path.relative_to(PACKAGE).parts[0]
    return first.removesuffix(".py")


def imported(tree: ast.AST) -> Iterator[str]:
    """Every dotted name that is imported anywhere in the file, inside functions too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports name the whole package"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def dotted_calls(tree: ast.AST) -> Iterator[tuple[str, str]]:
    """Each call as (what stands before the last point, the name called)."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            if isinstance(node.func, ast.Attribute):
                yield ast.unparse(node.func.value).split(".")[-1], node.func.attr
            elif isinstance(node.func, ast.Name):
                yield "", node.func.id


def wrong_arrows(path: Path, source: str) -> list[str]:
    """The imports of a file that its room may not make."""
    here = room(path)
    found = []
    for name in imported(ast.parse(source)):
        parts = name.split(".")
        if parts[0] == "pondtui" and len(parts) > 1:
            target = parts[1]
            # `from pondtui import __version__` names no room
            if target.startswith("__") or target == here:
                continue
            if target not in MAY_USE[here]:
                found.append(f"{here} may not use {name}")
        elif here not in OWNERS.get(parts[0], {here}):
            found.append(f"{parts[0]} belongs to {OWNERS[parts[0]]}, not to {here}")
    return found


def wrong_calls(path: Path, source: str) -> list[str]:
    """The reads of a clock or of the disk that a file may not make."""
    here = room(path)
    found = []
    for owner, name in dotted_calls(ast.parse(source)):
        if (owner, name) in CLOCKS and here not in ("cli", "tui"):
            found.append(f"{owner}.{name}() outside cli/ and tui/")
        touches = (owner, name) == ("", "open") or (owner != "" and name in PATH_IO)
        allowed = here == "books" or path.relative_to(PACKAGE).as_posix() in FILES_ALLOWED
        if touches and not allowed:
            found.append(f"{name}() outside books/")
    return found


@pytest.mark.parametrize("wrong", [wrong_arrows, wrong_calls])
def test_a_module_uses_only_the_rooms_below_it_and_only_the_edges_read_clock_and_disk(
    wrong: Callable[[Path, str], list[str]],
) -> None:
    found = {path.relative_to(PACKAGE): wrong(path, path.read_text()) for path in FILES}
    assert {path: what for path, what in found.items() if what} == {}


def test_every_room_has_a_rule() -> None:
    assert {room(path) for path in FILES} <= set(MAY_USE)


@pytest.mark.parametrize(
    ("file", "source"),
    [
        ("science/x.py", "from pondtui.errors import InputError"),
        ("pond/x.py", "from pondtui.books import journal"),
        ("pond/x.py", "def f():\n    import pint"),
        ("views/x.py", "from textual.app import App"),
        ("books/x.py", "import pondtui.views.today"),
        ("tui/x.py", "import pondtui.cli.main"),
        ("cli/x.py", "import platformdirs"),
    ],
)
def test_the_rule_sees_a_wrong_arrow(file: str, source: str) -> None:
    assert len(wrong_arrows(PACKAGE / file, source)) == 1


@pytest.mark.parametrize(
    ("file", "source"),
    [
        ("pond/x.py", "datetime.datetime.now(tz)"),
        ("views/x.py", "date.today()"),
        ("books/x.py", "time.time()"),
        ("cli/x.py", "open(name)"),
        ("worksheets/x.py", "Path(name).read_text()"),
    ],
)
def test_the_rule_sees_a_clock_or_a_file_in_the_wrong_place(file: str, source: str) -> None:
    assert len(wrong_calls(PACKAGE / file, source)) == 1


@pytest.mark.parametrize("source", ["import pondtui.cli", "x = 1", "from textual.app import App"])
def test_the_rule_lets_the_screen_be(source: str) -> None:
    if "cli" in source:
        assert wrong_arrows(PACKAGE / "__main__.py", source) == []
    else:
        assert wrong_arrows(PACKAGE / "tui/x.py", source) == []
