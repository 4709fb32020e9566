"""Reading a small file that a person named, whole, and nothing that is no file."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

from pondtui.errors import FileError

LARGEST = 5 * 2**20  # bytes; a table of a garden pond is far smaller


def read_bytes(path: Path | str, largest: int) -> bytes:
    """What a file holds; one byte more than `largest` where it is larger.

    Opened without blocking: a pipe in its place would keep us waiting for ever, and a device
    never ends. Raises OSError, ValueError for a name that no file can have.
    """
    handle = os.open(path, os.O_RDONLY | os.O_CLOEXEC | os.O_NONBLOCK | os.O_NOCTTY)
    try:
        mode = os.fstat(handle).st_mode
        if stat.S_ISDIR(mode):
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
        if not stat.S_ISREG(mode):
            raise OSError(errno.EINVAL, "a pipe or a device, save it as a file first", str(path))
        with open(handle, "rb", closefd=False) as file:
            return file.read(largest + 1)
    finally:
        os.close(handle)


def read_text(name: str, largest: int = LARGEST) -> str:
    """The text of the file. Raises FileError with one sentence."""
    try:
        data = read_bytes(os.path.expanduser(name), largest)
    except (OSError, ValueError) as error:  # ValueError: a name that no file can have
        reason = getattr(error, "strerror", None) or error
        raise FileError(f"{name}: cannot be read: {reason}") from None
    if len(data) > largest:
        size = f"{largest >> 20} MiB" if largest >= 1 << 20 else f"{largest >> 10} KiB"
        raise FileError(f"{name}: larger than {size}: take a part of it")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(f"{name}: not UTF-8 text: save it as UTF-8") from None
