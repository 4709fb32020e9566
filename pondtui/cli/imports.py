"""`pondtui import weather|log|report FILE`: what others wrote, looked over and then taken in."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable

from pondtui.books.tables import Table, read_table
from pondtui.cli.check import shown
from pondtui.cli.context import Context, as_path
from pondtui.cli.words import Call
from pondtui.errors import FileError, Problem, UsageError

SHOWN = 12  # problems of a table on the screen; `--json` has them all


def run(call: Call, context: Context) -> int:
    """Take in the file that the words name."""
    from pondtui.cli.import_log import take_log
    from pondtui.cli.import_report import take_report
    from pondtui.cli.import_weather import take_weather

    ways: dict[str, Callable[[str, dict[str, str], Call, Context], int]] = {
        "weather": take_weather,
        "log": take_log,
        "report": take_report,
    }
    what, *rest = call.words or ("",)
    if what not in ways or not rest:
        raise UsageError(f"say what to take in: pondtui import {'|'.join(ways)} FILE")
    name, *more = rest
    pairs = [*(call.get("map") or "").split("\n"), *more]
    return ways[what](name, _mapping(pair for pair in pairs if pair), call, context)


def _mapping(pairs: Iterable[str]) -> dict[str, str]:
    """NAME=COLUMN words. Raises UsageError."""
    mapping: dict[str, str] = {}
    for pair in pairs:
        name, equals, column = (part.strip() for part in pair.partition("="))
        if not (name and equals and column):
            raise UsageError(f"{pair}: write --map NAME=COLUMN, such as --map 'tmin=Tmin [degC]'")
        if mapping.setdefault(name, column) != column:
            raise UsageError(f"--map: {name} stands twice with different columns")
    return mapping


def table_of(name: str) -> Table:
    """The table in the file. Raises FileError where there is none in it."""
    path = as_path(name)
    if path.is_dir():
        raise FileError(f"{name}: a folder, not a file: name the table")
    table = read_table(path, name)
    if not table.rows:
        raise FileError(f"{table.problems[0]}; nothing was taken in")
    return table


def confirmed(question: str, call: Call, context: Context) -> bool:
    """Whether to go on: --yes, or a yes on the terminal. Raises UsageError without either."""
    if call.has("yes"):
        return True
    if context.as_json or not (sys.stdin.isatty() and context.out.isatty()):
        raise UsageError("there is no terminal to ask on: look it over and give --yes")
    context.out.write(f"{question} [y/N] ")
    context.out.flush()
    return sys.stdin.readline().strip().casefold() in ("y", "yes")


def nothing_in(name: str, problems: list[Problem]) -> FileError:
    """The refusal of a file: by what is wrong with all of it, else by the first thing wrong."""
    ordered = sorted(problems, key=lambda p: (p.line > 0, p.severity != "problem"))
    why = str(ordered[0]) if ordered else f"{name}: it holds nothing to take in"
    return FileError(f"{why}; nothing was taken in")


def told(problems: list[Problem]) -> list[str]:
    """The problems for people: the first ones with their lines, the rest counted."""
    lines = [line for problem in problems[:SHOWN] for line in shown(problem)]
    more = len(problems) - SHOWN
    return [*lines, f"... and {more} more (--json shows them)"] if more > 0 else lines


def rows_of(problems: list[Problem]) -> list[dict[str, str | int]]:
    """The problems for --json."""
    return [
        {"file": p.path, "line": p.line, "column": p.column, "message": p.message} for p in problems
    ]
