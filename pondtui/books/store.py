"""The one writer of this device: a line is saved when the disk says so, or not at all."""

from __future__ import annotations

import contextlib
import errno
import fcntl
import os
import re
import stat
from collections.abc import Container, Iterable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

from pondtui.books.folder import Mark, mark_of, reason, sync_folder
from pondtui.books.lines import LONGEST, render
from pondtui.errors import FileError, InputError
from pondtui.pond.state.entry import Entry, ranks_before
from pondtui.records import NamedTuple

CLOCK_SLACK_S = 600  # a clock set back by more than this is a fault to be mended first
_TRIES = 8  # how often a file may be replaced under our hands before we give up
_NO_LOCKS = (errno.ENOLCK, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EINVAL, errno.ENOSYS)
_DEVICE = re.compile(r"[a-z0-9-]{1,20}")


class Saved(NamedTuple):
    """An entry that is on the disk."""

    path: Path
    line: str
    locked: bool  # False: this disk knows no locks, so two programs could get in each other's way
    before: Mark  # of the file, when it was locked
    after: Mark  # the same with the line in it


class _Written(NamedTuple):
    """What one attempt came to; it failed where another file stands at the path by now."""

    stays: bool
    locked: bool
    before: Mark
    after: Mark


class Store:
    """Appends entries to `journal/YYYY-device.txt`; one object a process, used by one thread."""

    def __init__(self, folder: Path, device: str) -> None:
        self.folder = folder / "journal"
        self.device = check_device(device)
        self._saved: dict[str, Entry] = {}  # by canonical text
        self._missed: set[str] = set()  # not found at the last look
        self._doubtful: set[bytes] = set()  # lines that may stand there after a failure

    @property
    def locks(self) -> bool:
        """Whether the disk of the journal knows locks."""
        try:
            handle = os.open(self.folder, os.O_RDONLY | os.O_CLOEXEC)
        except OSError:
            return True  # no journal yet; an entry will tell
        try:
            fcntl.flock(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)
        except OSError as error:
            return error.errno not in _NO_LOCKS
        finally:
            os.close(handle)
        return True

    def append(self, entry: Entry) -> Saved:
        """Write the entry and come back when it will survive a power cut.

        Raises FileError, after which the same entry may be given again: it will not stand twice.
        """
        text = render(entry)
        line = text.encode() + b"\n"
        path = self.folder / f"{entry.stamp[:4]}-{self.device}.txt"
        try:
            if not self.folder.is_dir():
                self.folder.mkdir(parents=True, exist_ok=True)
                sync_folder(self.folder.parent)
            for _ in range(_TRIES):
                done = self._write(path, line)
                if done.stays:
                    self._doubtful.discard(line)
                    self._saved[entry.canonical] = entry
                    return Saved(path, text, done.locked, done.before, done.after)
        except OSError as error:
            raise FileError(f"not saved in {path}: {reason(error)}, then try again") from None
        raise FileError(f"not saved: another program keeps replacing {path}; stop it and try again")

    def vanished(self, entries: Iterable[Entry]) -> list[Entry]:
        """Saved entries that a fresh reading of the journal no longer holds.

        They count as gone only when two looks in a row miss them: the first may have met an
        editor that was in the middle of writing.
        """
        instants = {entry.instant for entry in self._saved.values()}
        there = {entry.canonical for entry in entries if entry.instant in instants}
        missed = self._saved.keys() - there
        gone = missed & self._missed
        self._missed = missed
        return sorted((self._saved[text] for text in gone), key=lambda entry: entry.order)

    def forget(self, entries: Iterable[Entry]) -> None:
        """Stop looking for these: the keeper took them out on purpose."""
        for entry in entries:
            self._saved.pop(entry.canonical, None)

    def _write(self, path: Path, line: bytes) -> _Written:
        """One attempt."""
        flags = os.O_RDWR | os.O_APPEND | os.O_CREAT | os.O_CLOEXEC | os.O_NONBLOCK
        handle = os.open(path, flags, 0o600)
        try:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise OSError(errno.EINVAL, "something that is no file stands in its place")
            locked = _lock(handle)
            before = os.fstat(handle)
            size = before.st_size
            doubtful = line in self._doubtful
            at = _find(handle, size, line) if doubtful else -1
            try:
                if at < 0:
                    data = _data(handle, size, line, self._doubtful)
                    self._doubtful.add(line)
                    _add(handle, data)
                else:
                    _hand_over_again(handle, at, line)
                os.fsync(handle)
                if size == 0 or doubtful:
                    sync_folder(Path(os.path.realpath(path)).parent)
                stays = _stands_at(path, before)
            except OSError:
                _take_back(handle, size, line)
                raise
            after = mark_of(os.fstat(handle))
            return _Written(stays, locked, mark_of(before), after)
        finally:
            with contextlib.suppress(OSError):  # what counts was synced before
                os.close(handle)  # unlocks too


def is_device(name: str) -> bool:
    """Whether a device may have this name; `hand` is what people write with an editor."""
    return name != "hand" and _DEVICE.fullmatch(name) is not None


def check_device(name: str) -> str:
    """The name, if a device may have it. Raises InputError."""
    if not is_device(name):
        message = "use 1 to 20 small letters, digits or hyphens, such as desk (not hand)"
        raise InputError(f"a device cannot be named {name or 'nothing'}: {message}")
    return name


def suggest_device(host: str) -> str:
    """A device's name made of the host's."""
    name = re.sub(r"[^a-z0-9]+", "-", host.partition(".")[0].lower()).strip("-")[:20].strip("-")
    return "desk" if name in ("", "hand", "localhost") else name


def move_on(entry: Entry, taken: Container[tuple[int, str]]) -> Entry:
    """The entry at the next second at which its kind is unused, so that a strike names it alone."""
    seconds = 0
    while (entry.instant + seconds, entry.kind) in taken:
        seconds += 1
    if not seconds:
        return entry
    stamp = datetime.fromisoformat(entry.stamp) + timedelta(seconds=seconds)
    return Entry(
        entry.instant + seconds,
        stamp.isoformat(" ", "seconds"),
        entry.kind,
        entry.fields,
        entry.values,
        entry.note,
    )


def stamp_for(now: int, last: Entry | None, kind: str) -> int:
    """The instant for a new entry of a batch: never before this device's last one of it, neither
    by the clock nor, within one second, by its kind.

    Raises InputError where the clock was set back by more than ten minutes.
    """
    if last is None or now > last.instant:
        return now
    if now == last.instant and not ranks_before(kind, last.kind):
        return now
    if last.instant - now > CLOCK_SLACK_S:
        minutes = round((last.instant - now) / 60)
        raise InputError(
            f"the clock stands {minutes} min before the last entry of this batch: "
            "set the clock, or give the time of the entry yourself"
        )
    return last.instant + 1


def _lock(handle: int) -> bool:
    """Wait for the lock of a file; False where the disk knows none."""
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
    except OSError as error:
        if error.errno not in _NO_LOCKS:
            raise
        return False
    return True


def _data(handle: int, size: int, line: bytes, doubtful: Iterable[bytes]) -> bytes:
    """What to append for a line: first whatever ends a last line that has no newline.

    That is a newline; but for the half of a line of ours that a failing disk kept, its other half:
    half a line might be read as another fact.
    """
    length = min(size, LONGEST)
    tail = os.pread(handle, length, size - length).rpartition(b"\n")[2] if size else b""
    if not tail:
        return line
    ours = next((each for each in doubtful if each.startswith(tail)), None)
    if ours is None:
        return b"\n" + line
    return ours[len(tail) :] + (b"" if ours == line else line)


def _add(handle: int, data: bytes) -> None:
    """Append in one write."""
    if os.write(handle, data) != len(data):
        raise OSError(errno.ENOSPC, "only a part could be written")


def _take_back(handle: int, size: int, line: bytes) -> None:
    """Cut off what was not saved, where it is ours and the last: who is told "not saved" will
    write it again. What cannot be cut off stays in doubt."""
    with contextlib.suppress(OSError):
        more = os.fstat(handle).st_size - size
        if 0 < more <= LONGEST and line.startswith(os.pread(handle, more, size).lstrip(b"\n")):
            os.ftruncate(handle, size)


def _find(handle: int, size: int, line: bytes) -> int:
    """Where a line that was in doubt stands in the file after all; -1 where it does not."""
    data = b"".join(_blocks(handle, size))
    if data.startswith(line):
        return 0
    return data.find(b"\n" + line) + 1 or -1


def _hand_over_again(handle: int, at: int, line: bytes) -> None:
    """The same bytes to the same place: after a failed sync a disk may call clean what it lost,
    and would sync nothing the next time."""
    fcntl.fcntl(handle, fcntl.F_SETFL, 0)  # else Linux appends, wherever it is told to write
    if os.pwrite(handle, line, at) != len(line):
        raise OSError(errno.ENOSPC, "only a part could be written")


def _blocks(handle: int, size: int) -> Iterator[bytes]:
    at = 0
    while at < size:
        block = os.pread(handle, min(size - at, 1 << 20), at)
        if not block:
            return
        yield block
        at += len(block)


def _stands_at(path: Path, found: os.stat_result) -> bool:
    """Whether the open file is still the one that the path leads to."""
    with contextlib.suppress(FileNotFoundError):
        now = os.stat(path)
        return (now.st_dev, now.st_ino) == (found.st_dev, found.st_ino)
    return False
