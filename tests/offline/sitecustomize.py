"""No network, in whatever Python this is: the tests load it, and every Python that they start.

All sockets of Python are made in `_socket`, the module in C under every library: its class and its
look-ups of names are replaced there. An audit hook would stop them too, but is called for each
file, import and `id` as well: a twentieth of the time of all tests.
"""

from __future__ import annotations

import _socket
import sys
from typing import NoReturn

_INTERNET = (2, 10, 30)  # AF_INET; AF_INET6 on Linux and on macOS
_Socket = _socket.socket


class _Kept(_Socket):
    """A socket that stays on this machine."""

    __slots__ = ()  # the class made of it has its own

    def __init__(
        self, family: int = -1, type: int = -1, proto: int = -1, fileno: int | None = None
    ) -> None:
        if family in _INTERNET or (family == -1 and fileno is None):  # -1 alone: AF_INET
            _refuse(family, type)
        _Socket.__init__(self, family, type, proto, fileno)


def _refuse(*what: object, **more: object) -> NoReturn:
    raise PermissionError(f"the network is out of bounds: {what or more}")


def _put(name: str, new: object) -> None:
    """In `_socket`, and in `socket` where that took it over before."""
    old = getattr(_socket, name)
    for module in (_socket, sys.modules.get("socket")):
        if getattr(module, name, None) is old:
            setattr(module, name, new)


for _name in ("socket", "SocketType"):
    _put(_name, _Kept)
for _name in ("getaddrinfo", "gethostbyname", "gethostbyname_ex", "gethostbyaddr", "getnameinfo"):
    _put(_name, _refuse)
