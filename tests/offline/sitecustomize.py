"""No network, in whatever Python this is: the tests load it, and every Python that they start.

An audit hook cannot be taken away again, and no library gets past it.
"""

from __future__ import annotations

import sys

_INTERNET = (2, 10, 30)  # AF_INET; AF_INET6 on Linux and on macOS
_NAMES = ("socket.getaddrinfo", "socket.gethostbyname", "socket.gethostbyaddr")


def _refuse(event: str, args: tuple[object, ...]) -> None:
    if event in _NAMES or (event == "socket.__new__" and args[1] in _INTERNET):
        raise PermissionError(f"the network is out of bounds: {event} {args[1:]}")


sys.addaudithook(_refuse)
