"""Calls of the operating system that fail as planned, in the modules that write the journal."""

from __future__ import annotations

import errno
import fcntl
import os
from collections.abc import Callable
from types import ModuleType
from typing import Any, NamedTuple

import pytest

from pondtui.books import folder, store

SHORT = -1  # instead of an error: half of the bytes are written, and nothing is said
PATH = {  # the calls that a line passes through on its way, and what each may come back with
    "open": (errno.EACCES, errno.EROFS, errno.ENOSPC, errno.EMFILE, errno.EIO),
    "flock": (errno.EIO, errno.EINTR, errno.ENOLCK),
    "fstat": (errno.EIO, errno.ESTALE),
    "pread": (errno.EIO,),
    "pwrite": (errno.ENOSPC, errno.EIO, SHORT),
    "write": (errno.ENOSPC, errno.EIO, errno.EDQUOT, SHORT),
    "ftruncate": (errno.EIO,),
    "fsync": (errno.EIO, errno.ENOSPC),
    "stat": (errno.EIO, errno.EACCES),
    "close": (errno.EIO, errno.ENOSPC),
}


class Plan(NamedTuple):
    """Which call fails: the nth of this name, once or from then on."""

    call: str
    nth: int
    error: int
    for_ever: bool


class Faults:
    """Stands between the writing modules and the system until `over`."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, *plans: Plan) -> None:
        self._plans = plans
        self._real = os.open, os.close
        self.count: dict[str, int] = {}
        self.hits = 0
        self.over = False
        for module in (store, folder):
            monkeypatch.setattr(module, "os", _Between(os, self))
        monkeypatch.setattr(store, "fcntl", _Between(fcntl, self))

    def call(self, name: str, real: Callable[..., Any], words: tuple[Any, ...]) -> Any:
        """Make the call, or let it fail."""
        if self.over:
            return real(*words)
        self.count[name] = self.count.get(name, 0) + 1
        for plan in self._plans:
            if plan.call == name and self._due(plan):
                self.hits += 1
                return _fail(plan.error, name, real, words)
        return None if name == "fsync" else real(*words)  # nobody pulls the plug here: fast

    def _due(self, plan: Plan) -> bool:
        number = self.count[plan.call]
        return number >= plan.nth if plan.for_ever else number == plan.nth


class _Between:
    """A module whose calls on the writing path are counted, and fail where that is planned."""

    def __init__(self, module: ModuleType, faults: Faults) -> None:
        self._module = module
        self._faults = faults

    def __getattr__(self, name: str) -> Any:
        real = getattr(self._module, name)
        if name not in PATH:
            return real
        return lambda *words: self._faults.call(name, real, words)


def _fail(error: int, name: str, real: Callable[..., Any], words: tuple[Any, ...]) -> Any:
    if error == SHORT:
        handle, data, *place = words
        return real(handle, data[: len(data) // 2], *place)
    if name == "close":
        real(*words)  # a failing close closes all the same
    raise OSError(error, os.strerror(error))
