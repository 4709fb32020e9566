"""The way in: from the words of a call to an exit code. No traceback leaves this file.

0 done; 1 problems found, or something to do (--exit-code); 2 the words are wrong; 3 a file cannot
be read or written; 70 a fault of ours; 128+n a signal.
"""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from datetime import datetime
from typing import TextIO

import pondtui
from pondtui.clean import visible
from pondtui.cli.context import Context, clock_from, one_json
from pondtui.cli.dispatch import dispatch
from pondtui.cli.words import parse
from pondtui.errors import PondError, UsageError

FAULT = 70


def main(
    argv: Sequence[str] | None = None,
    out: TextIO | None = None,
    err: TextIO | None = None,
    now: datetime | None = None,
) -> int:
    """Run one call and return its exit code; the arguments are for tests."""
    words = sys.argv[1:] if argv is None else list(argv)
    out = out or _never_failing(sys.stdout)
    err = err or _never_failing(sys.stderr)
    try:
        code = _run(words, out, err, now)
        out.flush()
    except PondError as error:
        _complain(str(error), words, err)
        return error.exit_code
    except BrokenPipeError:
        _close_quietly(out)
        return 0
    except OSError as error:
        where = error.filename or "the output"
        _complain(f"{where}: {error.strerror or error}", words, err)
        _close_quietly(out)
        return 3
    except KeyboardInterrupt:
        from signal import SIGINT  # here: making its names takes a hundredth of a call

        return 128 + SIGINT
    except ModuleNotFoundError as error:
        _complain(f"the package {error.name} is missing: install pondtui again", words, err)
        return FAULT
    except Exception as fault:  # the last net: a person gets a sentence, we get the trace
        _complain(_report(fault), words, err)
        return FAULT
    return code


def _run(words: list[str], out: TextIO, err: TextIO, now: datetime | None) -> int:
    call = parse(words)
    if call.has("version"):
        out.write(f"pondtui {pondtui.__version__}\n")
        return 0
    clock = clock_from(os.environ, now)
    pond = call.get("pond")
    if pond == "":
        raise UsageError("--pond: name the pond folder")
    pond = pond or os.environ.get("PONDTUI_POND")
    context = Context(out, err, clock, pond, as_json=call.has("json"))
    if call.verb.name in ("", "sample") or all(o.name != "sitter" for o in call.verb.options):
        context.sitter = call.get("sitter")  # of sheet and away it is who comes, no mode
    return dispatch(call, context)


def _complain(sentence: str, words: Sequence[str], err: TextIO) -> None:
    text = one_json({"error": sentence}) if "--json" in words else f"pondtui: {sentence}"
    with suppress(OSError):  # nobody reads the errors: the exit code still tells
        err.write(visible(text) + "\n")


def _report(fault: Exception) -> str:
    """The sentence for a fault of ours; the trace goes to a file, for the report."""
    import traceback

    from pondtui.books.faults import record
    from pondtui.paths import data_dir

    trace = "".join(traceback.format_exception(fault))
    if os.environ.get("PONDTUI_DEBUG") == "1":
        return trace.rstrip()
    kept = record(data_dir(), trace)
    where = f" with the file {kept}" if kept else ""
    return f"a fault of pondtui itself ({type(fault).__name__}): please report it{where}"


def _never_failing(stream: TextIO | None) -> TextIO:
    """Signs that the terminal's encoding does not know are written as their numbers."""
    if stream is None:  # closed by the caller
        return io.StringIO()
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors="backslashreplace")
    return stream


def _close_quietly(out: TextIO) -> None:
    """Give the interpreter's last flush of what could not be written somewhere harmless to go."""
    if out is sys.stdout:
        os.dup2(os.open(os.devnull, os.O_WRONLY), out.fileno())
