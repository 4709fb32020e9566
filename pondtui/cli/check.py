"""`pondtui check`: everything wrong in the pond's files, with the place and the way out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pondtui.books.weather import read_weather
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.errors import Problem
from pondtui.pond.state.fold import fold

_SHOWN = 100  # characters of a long line, around the place


def run(call: Call, context: Context) -> int:
    """Show problems and remarks; 1 where there are problems."""
    context.take_no_words(call)
    found = _everything(context)
    problems = [p for p in found if p.severity == "problem"]
    remarks = [p for p in found if p.severity != "problem"]
    data = {"problems": [_row(p) for p in problems], "remarks": [_row(p) for p in remarks]}
    lines = [line for problem in (*problems, *remarks) for line in shown(problem)]
    context.answer(data, [*lines, _summary(len(problems), len(remarks))])
    return 1 if problems else 0


def _everything(context: Context) -> list[Problem]:
    loaded = context.loaded
    found = [*loaded.problems, *context.journal.problems]
    if loaded.setup is not None:
        found += read_weather(context.folder, loaded.setup)[1].problems
        state = fold(loaded.setup, context.journal.live, context.instant)
        found += [Problem("journal", 0, 0, text, severity="remark") for text in state.remarks]
        found += [
            Problem(
                entry.path, entry.line, 1, "lies in the future and does not count yet",
                severity="remark",
            )
            for entry in state.later
        ]  # fmt: skip
    return found


def shown(problem: Problem) -> Iterator[str]:
    """`file:line:column: what`, the line, and a caret under the place."""
    place = ":".join(str(part) for part in (problem.path, problem.line, problem.column) if part)
    kind = "" if problem.severity == "problem" else "remark: "
    yield f"{place}: {kind}{problem.message}"
    if problem.text:
        start = max(0, problem.column - 1 - _SHOWN // 2) if len(problem.text) > _SHOWN else 0
        yield f"    {problem.text[start : start + _SHOWN]}"
        if problem.column:
            yield f"    {' ' * (problem.column - 1 - start)}^"


def _row(problem: Problem) -> dict[str, Any]:
    return {
        "file": problem.path,
        "line": problem.line,
        "column": problem.column,
        "message": problem.message,
    }


def _summary(problems: int, remarks: int) -> str:
    if not problems and not remarks:
        return "nothing is wrong"
    return f"{_count(problems, 'problem')}, {_count(remarks, 'remark')}"


def _count(number: int, word: str) -> str:
    return f"{number or 'no'} {word}{'' if number == 1 else 's'}"
