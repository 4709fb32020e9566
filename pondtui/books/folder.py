"""The pond's folder: where things are in it, what changed in it, and writing small files safely."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import zlib
from pathlib import Path

from pondtui.errors import FileError
from pondtui.records import NamedTuple

GIT_ATTRIBUTES = "journal/*.txt merge=union text eol=lf\n"


class Mark(NamedTuple):
    """What shows that a file is another one, or was written to."""

    size: int
    changed_ns: int
    inode: int


Fingerprint = dict[str, Mark]


class PondFolder:
    """A pond's folder; nothing of it needs to exist."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.pond = path / "pond.toml"
        self.procedure = path / "procedure.toml"
        self.git_attributes = path / ".gitattributes"
        self.journal = path / "journal"
        self.weather = path / "weather"
        self.sheets = path / "sheets"

    def fingerprint(self) -> Fingerprint:
        """Size, time and inode of every file that the state comes from; some 10 us a file."""
        marks: Fingerprint = {}
        for path in (self.pond, self.procedure):
            with contextlib.suppress(OSError):
                marks[path.name] = mark_of(path.stat())
        for folder, ending in ((self.journal, ".txt"), (self.weather, ".csv")):
            with contextlib.suppress(OSError), os.scandir(folder) as found:
                for file in found:
                    if file.name.lower().endswith(ending):
                        with contextlib.suppress(OSError):
                            marks[f"{folder.name}/{file.name}"] = mark_of(file.stat())
        return marks


def unwritten_of(data: Path, pond: Path) -> Path:
    """Where changes of a pond's description that are not written yet are kept, in the program's own
    data folder: one file for each pond's folder."""
    return data / f"unwritten-{zlib.crc32(os.fsencode(os.path.realpath(pond))):08x}.json"


class Watch:
    """Notices what other programs do to the folder, when asked every second or so."""

    def __init__(self, folder: PondFolder) -> None:
        self._folder = folder
        self._known = folder.fingerprint()
        self._doubted: Fingerprint | None = None

    def changed(self) -> bool:
        """Whether something else stands there than at the last yes.

        A file that shrank or went away is believed only when two looks in a row agree: an editor
        or a synchroniser may be in the middle of writing it.
        """
        now = self._folder.fingerprint()
        if now == self._known:
            self._doubted = None
            return False
        nothing = Mark(-1, 0, 0)
        shrank = any(now.get(name, nothing).size < old.size for name, old in self._known.items())
        if shrank and now != self._doubted:
            self._doubted = now
            return False
        self._known, self._doubted = now, None
        return True

    def wrote(self, name: str, grown: int, before: Mark, after: Mark) -> bool:
        """Whether our own line alone explains what became of a file; it then counts as known.

        `before` and `after` are what its writer saw under the lock.
        """
        ours = self._known.get(name) == before and after.size == before.size + grown
        if ours:
            self._known[name] = after
        return ours


def replace_file(path: Path, text: str) -> None:
    """Write a small file whole or not at all; a link to it stays a link, its mode stays.

    Raises FileError.
    """
    import tempfile  # reading, which every start does, never needs it

    try:
        target, data = Path(os.path.realpath(path)), text.encode()
    except ValueError:  # a NUL in the name, half a sign in the text
        message = "its name or its text holds what no file can hold; write that in other words"
        raise FileError(f"{path} is not saved: {message}") from None
    temporary = ""
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        mode = stat.S_IMODE(target.stat().st_mode) if target.exists() else 0o600
        handle, temporary = tempfile.mkstemp(".tmp", f".{target.name}.", target.parent)
        with open(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fchmod(file.fileno(), mode)
            os.fsync(file.fileno())
        os.replace(temporary, target)
        sync_folder(target.parent)
    except OSError as error:
        if temporary:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
        raise FileError(f"{path} is not saved: {reason(error)}") from None


def sync_folder(folder: Path) -> None:
    """Make a new name in a folder last through a power cut. Raises OSError."""
    handle = os.open(folder, os.O_RDONLY | os.O_CLOEXEC)
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in (errno.EINVAL, errno.ENOTSUP, errno.ENOSYS):
            raise  # those three: this disk cannot sync folders, and nothing better can be done
    finally:
        os.close(handle)


_REASONS = {
    errno.ENOSPC: "the disk is full; make room on it",
    errno.EDQUOT: "your share of the disk is used up; make room on it",
    errno.EACCES: "its rights do not allow it; change them",
    errno.EPERM: "its rights do not allow it; change them",
    errno.EROFS: "the disk is read-only; make it writable",
    errno.EIO: "the disk reports a fault; copy the folder to another disk",
    errno.EISDIR: "a folder stands in its place; move that away",
    errno.ENOTDIR: "a file stands where a folder belongs; move that away",
    errno.ENOENT: "its folder is gone; put it back",
    errno.ELOOP: "it is a link that leads nowhere; remove that",
}


def reason(error: OSError) -> str:
    """Why a file cannot be read or written, in plain words, with the way out where there is one."""
    return _REASONS.get(error.errno or 0) or (error.strerror or str(error)).lower()


def mark_of(found: os.stat_result) -> Mark:
    """The mark of a file."""
    return Mark(found.st_size, found.st_mtime_ns, found.st_ino)
