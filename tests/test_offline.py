"""Nothing here reaches a network or listens on one: neither a test nor a Python that it starts."""

from __future__ import annotations

import asyncio
import socket
import subprocess
import sys

import pytest

FAMILIES = ("AF_INET", "AF_INET6")


@pytest.mark.parametrize("family", FAMILIES)
def test_no_socket_of_the_internet_can_be_made(family: str) -> None:
    with pytest.raises(PermissionError, match="out of bounds"):
        socket.socket(getattr(socket, family), socket.SOCK_STREAM)
    with pytest.raises(PermissionError):
        socket.create_connection(("127.0.0.1", 9))
    with pytest.raises(PermissionError):
        socket.socket()  # of AF_INET where nothing is said
    for look_up in (socket.gethostbyname, socket.gethostbyaddr, socket.gethostbyname_ex):
        with pytest.raises(PermissionError):
            look_up("localhost")
    with pytest.raises(PermissionError):
        socket.getaddrinfo("localhost", 80)


@pytest.mark.parametrize("family", FAMILIES)
def test_a_python_that_a_test_starts_has_no_network_either(family: str) -> None:
    calls = f"socket.socket(socket.{family})", "socket.gethostbyname('localhost')"
    for call in calls:
        program = f"import socket; {call}"
        done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
        assert done.returncode == 1
        assert "the network is out of bounds" in done.stderr


@pytest.mark.parametrize("family", FAMILIES)
async def test_an_event_loop_reaches_and_serves_nobody(family: str) -> None:
    host = "127.0.0.1" if family == "AF_INET" else "::1"
    with pytest.raises(PermissionError):
        await asyncio.open_connection(host, 9)
    server = await asyncio.start_server(lambda _read, _write: None, host, 0)
    assert server.sockets == ()  # it passes over what it cannot have
    server.close()


def test_what_an_event_loop_needs_is_left() -> None:
    one, other = socket.socketpair()
    one.close()
    other.close()
