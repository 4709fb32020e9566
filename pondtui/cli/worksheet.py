"""`pondtui worksheet [NAME [NAME=VALUE ...]]`: list the worksheets, show one, work one out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from json import dumps
from typing import TYPE_CHECKING, Any, TextIO

from pondtui.books.texts import read_text
from pondtui.errors import UsageError
from pondtui.views.sheets import example, result_rows, takes
from pondtui.worksheets.registry import Worksheet, find, sheets
from pondtui.worksheets.run import Answer, as_json
from pondtui.worksheets.run import run as work_out

if TYPE_CHECKING:
    from pondtui.cli.context import Context
    from pondtui.cli.words import Call


def verb(call: Call, context: Context) -> int:
    """`pondtui worksheet`; a bare gallon and the units of examples are the pond's, if any."""
    setup = context.loaded_or_none if call.words else None
    system = setup.pond.units if setup is not None else None
    return worksheet(call.words, json=context.as_json, out=context.out, system=system)


def worksheet(args: Sequence[str], *, json: bool, out: TextIO, system: str | None) -> int:
    """List without words, show with a name, compute with NAME=VALUE words.

    `system` is what the pond is kept in: "metric", "us", "imperial", or None where there is none;
    examples are then as registered, as they always are in JSON. Raises UsageError or FileError.
    Returns the exit code.
    """
    gallon = system if system in ("us", "imperial") else None
    if not args:
        lines = [dumps({"worksheets": [_entry(s) for s in sheets()]})] if json else _list()
    elif len(args) == 1:
        sheet = find(args[0])
        lines = [dumps(_description(sheet), ensure_ascii=False)] if json else _page(sheet, system)
    else:
        answer = work_out(args[0], pairs(args[1:]), gallon=gallon, read_file=read_text)
        lines = [dumps(as_json(answer), ensure_ascii=False)] if json else _answer(answer, gallon)
    out.write("\n".join(lines) + "\n")
    return 0


def pairs(words: Sequence[str]) -> dict[str, str]:
    """NAME=VALUE words as a mapping; a word without "=" goes on with the value before it.

    So `volume=150 L` needs no quotes. Raises UsageError.
    """
    typed: dict[str, str] = {}
    name = ""
    for word in words:
        head, mark, value = word.partition("=")
        if mark and head.strip().replace("_", "").isalnum():
            name = head.strip()
            if name in typed:
                raise UsageError(f"{name} stands twice")
            typed[name] = value
        elif name:
            typed[name] += f" {word}"
        else:
            raise UsageError(f"write each input as NAME=VALUE, such as volume='150 L', not {word}")
    return typed


def _list() -> Iterable[str]:
    everything = list(sheets())
    width = max((len(sheet.name) for sheet in everything), default=0)
    for group in dict.fromkeys(sheet.group for sheet in everything):
        yield group[:1].upper() + group[1:]
        for sheet in everything:
            if sheet.group == group:
                yield f"  {sheet.name:<{width}}  {sheet.title}"
    yield "Show one: pondtui worksheet NAME"


def _entry(sheet: Worksheet) -> dict[str, str]:
    return {"name": sheet.name, "group": sheet.group, "title": sheet.title}


def _description(sheet: Worksheet) -> dict[str, Any]:
    return _entry(sheet) | {
        "inputs": [field._asdict() for field in sheet.inputs],
        "results": [result._asdict() for result in sheet.results],
        "formula": sheet.formula,
        "sources": sheet.source.split("; "),
        "cautions": list(sheet.cautions),
        "example": dict(sheet.example),
    }


def _page(sheet: Worksheet, system: str | None) -> Iterable[str]:
    """Everything about one worksheet, its example worked out in the units of a system."""
    yield f"{sheet.name}: {sheet.title}"
    yield "Inputs ([ ] may be left out)"
    names = [f.name if f.required and f.default is None else f"[{f.name}]" for f in sheet.inputs]
    width = max(len(name) for name in names)
    for name, field in zip(names, sheet.inputs, strict=True):
        yield f"  {name:<{width}}  {field.help}"
        yield f"  {'':<{width}}  {takes(field, system)}"
    yield "Results"
    width = max(len(result.key) for result in sheet.results)
    for result in sheet.results:
        yield f"  {result.key:<{width}}  {result.help}"
    yield from _footing(sheet)
    shown = example(sheet, system)
    typed = " ".join(f"{name}={_quoted(text)}" for name, text in shown.items())
    yield f"Example: pondtui worksheet {sheet.name} {typed}"
    if not any(field.kind == "file" for field in sheet.inputs):
        yield from _results(work_out(sheet.name, shown), None)


def _quoted(text: str) -> str:
    return f"'{text}'" if set(text) & set(' ;<>()&|*"°') else text


def _answer(answer: Answer, gallon: str | None) -> Iterable[str]:
    yield f"{answer.worksheet.name}: {answer.worksheet.title}"
    yield from _results(answer, gallon)
    yield from (f"  note: {note}" for note in answer.notes)
    yield from _footing(answer.worksheet)


def _footing(sheet: Worksheet) -> Iterable[str]:
    yield f"Formula: {sheet.formula}"
    yield f"Source:  {sheet.source}"
    yield from (f"Caution: {caution}" for caution in sheet.cautions)


def _results(answer: Answer, gallon: str | None) -> Iterable[str]:
    """Each result in its own unit and, where the keeper speaks another, in that too."""
    found = result_rows(answer, gallon)
    keys = max(len(row.key) for row in found)
    yield from (f"  {row.key:<{keys}}  {row.own}" for row in found if not row.help)
    rows = [(f"{row.key:<{keys}}", row.own, row.other, row.help) for row in found if row.help]
    widths = [max((len(row[column]) for row in rows), default=0) for column in range(3)]
    for row in rows:
        cells = [f"{cell:<{width}}" for cell, width in zip(row, widths, strict=False) if width]
        yield "  " + "  ".join([*cells, row[-1]])
