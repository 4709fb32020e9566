"""The journal folder read whole: every text file in it, merged into one history."""

from __future__ import annotations

import contextlib
import fcntl
import gc
import os
import re
from collections.abc import Iterator
from datetime import tzinfo
from pathlib import Path

from pondtui.books.folder import reason
from pondtui.books.lines import parse_line
from pondtui.books.texts import read_bytes
from pondtui.clean import visible
from pondtui.errors import Problem
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import Live
from pondtui.pond.state.merge import Key, Merged, merge
from pondtui.records import NamedTuple

LARGEST = 20 * 1024 * 1024
NEWEST = 96 * 1024  # bytes of a file for the first frame: a season of some 1,000 lines is whole
_OWN_NAME = re.compile(r"(\d{4})-(.+)\.txt", re.ASCII)
_BOM = b"\xef\xbb\xbf"


class FileInfo(NamedTuple):
    """A file of the journal, as it was read."""

    path: str  # within the pond's folder, such as journal/2026-desk.txt
    size: int
    lines: int
    entries: int
    torn: bool  # its last line has no end and is no entry


class Journal(NamedTuple):
    """What the journal says, problems included."""

    entries: list[Entry]  # every fact once, in order, struck ones included
    live: Live  # the same without what was struck
    struck: frozenset[Key]
    problems: list[Problem]  # remarks too, by file and line
    files: list[FileInfo]
    read_only: bool  # a file was left out: nothing may be written upon this
    partial: bool  # older years are still to be read

    def is_struck(self, entry: Entry) -> bool:
        """Whether a live strike names this entry."""
        return (entry.instant, entry.kind) in self.struck

    def taken(self) -> set[Key]:
        """Instants and kinds that are in use, struck ones included."""
        return {(entry.instant, entry.kind) for entry in self.entries}


def read_folder(folder: Path, tz: tzinfo, gallon: str | None, years: str = "all") -> Journal:
    """Read `journal/*.txt` of a pond's folder. Never raises.

    `years="newest"` reads only the end of the newest file of each device, for the first frame.
    """
    problems: list[Problem] = []
    entries: list[Entry] = []
    files: list[FileInfo] = []
    names, read_only = _names(folder / "journal", problems)
    chosen = _newest(names) if years == "newest" else names
    partial = len(chosen) < len(names)
    with _without_collector():
        for name in chosen:
            shown = f"journal/{visible(name)}"
            data = _bytes(folder / "journal" / name, shown, problems)
            if data is None:
                read_only = True
            else:
                begin = _last_lines(data) if years == "newest" else 0
                partial = partial or begin > 0
                files.append(_read(data, begin, shown, tz, gallon, entries, problems))
        merged: Merged = merge(entries)
    problems += merged.problems
    problems.sort(key=lambda problem: problem[:3])
    return Journal(merged.entries, merged.live, merged.struck, problems, files, read_only, partial)


def _names(folder: Path, problems: list[Problem]) -> tuple[list[str], bool]:
    """The text files of the journal, and whether the folder could not be read."""
    names = []
    try:
        with os.scandir(folder) as found:
            for file in found:
                # A dot in front marks an editor's or a synchroniser's own, as in any shell.
                if file.name.startswith(".") or not file.name.lower().endswith(".txt"):
                    continue
                if file.is_symlink() or file.is_file():
                    names.append(file.name)
                else:
                    message = "this is no file: move it out of the journal"
                    problems.append(Problem(f"journal/{visible(file.name)}", 0, 0, message))
    except FileNotFoundError:
        return [], False  # a pond without a line yet
    except OSError as error:
        problems.append(Problem("journal", 0, 0, f"the journal is not read: {reason(error)}"))
        return [], True
    return sorted(names), False


def _newest(names: list[str]) -> list[str]:
    """The newest year of each device, and every file whose name says neither."""
    newest: dict[str, str] = {}
    for name in names:
        found = _OWN_NAME.fullmatch(name)
        newest[found[2] if found else name] = name  # names are sorted, so later years win
    return sorted(newest.values())


def _bytes(path: Path, shown: str, problems: list[Problem]) -> bytes | None:
    """A file's content; None, with a problem, where it cannot be taken."""
    try:
        data = _whole(path)
        if len(data) <= LARGEST:
            return data
        message = "this file is larger than 20 MiB and left out: split it by years"
    except OSError as error:
        message = f"this file cannot be read: {reason(error)}"
    problems.append(Problem(shown, 0, 0, f"{message}; until then nothing is written"))
    return None


def _last_lines(data: bytes) -> int:
    """Where the last lines of a file begin."""
    return 0 if len(data) <= NEWEST else data.find(b"\n", len(data) - NEWEST) + 1


def _whole(path: Path) -> bytes:
    """What the file holds; of a line that is just being written, all of it."""
    data = read_bytes(path, LARGEST)
    if data[-1:] in (b"", b"\n") or len(data) > LARGEST:
        return data
    with open(path, "rb") as file, contextlib.suppress(OSError):  # some disks know no locks
        fcntl.flock(file, fcntl.LOCK_SH)  # a writer holds the lock until its line stands there
    return read_bytes(path, LARGEST)


def _read(
    data: bytes,
    begin: int,
    shown: str,
    tz: tzinfo,
    gallon: str | None,
    entries: list[Entry],
    problems: list[Problem],
) -> FileInfo:
    """Read one file's lines, those before `begin` left out, into `entries` and `problems`."""
    before = len(entries)
    lines = data[begin:].removeprefix(_BOM).split(b"\n")
    last = lines.pop()
    first = 1 + data.count(b"\n", 0, begin)
    for number, raw in enumerate(lines, first):
        entry, found = parse_line(raw, shown, number, tz, gallon)
        if entry is not None:
            entries.append(entry)
        if found:
            problems += found
    entry, found = parse_line(last, shown, first + len(lines), tz, gallon)
    if entry is not None:
        entries.append(entry)
    torn = entry is None and bool(found)
    problems += [_torn(problem) if torn else problem for problem in found]
    return FileInfo(
        shown, len(data), first - 1 + len(lines) + bool(last), len(entries) - before, torn
    )


def _torn(problem: Problem) -> Problem:
    return problem._replace(message=f"the last line is torn, write it again: {problem.message}")


@contextlib.contextmanager
def _without_collector() -> Iterator[None]:
    """Tens of thousands of objects that all stay: looking for garbage among them costs double."""
    on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if on:
            gc.enable()
