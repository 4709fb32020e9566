"""`pondtui export`: the journal or the water budget for other programs."""

from __future__ import annotations

from pondtui.books.export import as_csv, as_json, entry_rows
from pondtui.books.out import write_out
from pondtui.cli.context import Context, as_path
from pondtui.cli.words import Call
from pondtui.errors import FileError, UsageError

_FORMATS = {"csv": as_csv, "json": as_json}


def run(call: Call, context: Context) -> int:
    """Write what is asked for to standard output, or to the file of --output."""
    if call.words not in (("entries",), ("water",)):
        raise UsageError("say what to export: pondtui export entries, or export water")
    format_ = call.get("as") or ("json" if context.as_json else "csv")
    if format_ not in _FORMATS:
        raise UsageError(f"--as: csv or json, not {format_ or 'nothing'}")
    if call.words == ("water",):
        text = _water(call, context, format_)
    else:
        text = _FORMATS[format_](entry_rows(context.journal, context.zone))
    name = call.get("output")
    if name is None:
        context.say(text.removesuffix("\n"))
    else:
        _write(name, text, context)
    context.warn_unread()
    return 0


def _water(call: Call, context: Context, format_: str) -> str:
    """The season's budget by day."""
    from pondtui.cli.water import look
    from pondtui.views.water_export import as_csv, as_json

    days = look(call._replace(options={"by": "day"}), context).now
    return as_csv(days) if format_ == "csv" else as_json(days)


def _write(name: str, text: str, context: Context) -> None:
    path = as_path(name)
    if not name:
        raise FileError("--output: name the file to write")
    write_out(context.folder, path, text)
    context.answer({"file": str(path)}, [f"written: {path}"])
