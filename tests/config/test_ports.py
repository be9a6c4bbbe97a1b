"""A port is stepped aside from on whatever address somebody has it; why there is none is said."""

import errno
import socket
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from pickups.config import embedded, ports
from tests.config.runs import free_port


@contextmanager
def somebody(host: str, port: int, *, only_six: bool = True) -> Iterator[None]:
    """Another program that listens there."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family) as taken:
        if family == socket.AF_INET6:
            taken.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_V6ONLY, int(only_six))
        taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        taken.bind((host, port))
        taken.listen()
        yield


@pytest.mark.parametrize("host", ["127.0.0.1", "0.0.0.0", "::1", "::"])  # noqa: S104
@pytest.mark.parametrize("ours", ["127.0.0.1", "0.0.0.0", "localhost"])  # noqa: S104
def test_a_port_that_somebody_has_on_any_address_of_ours_is_stepped_aside_from(
    host: str, ours: str
) -> None:
    port, said = free_port(), list[str]()
    with somebody(host, port):
        used = ports.choose("The mail port", ours, port, say=said.append)
    assert port < used < port + ports.PORTS_TRIED
    assert said == [f"The mail port {port} is taken on this machine; {used} is used."]


def test_both_protocols_on_one_socket_are_seen_too() -> None:
    port = free_port()
    with somebody("::", port, only_six=False):
        assert not ports.is_free("PORT", "127.0.0.1", port)
    assert ports.is_free("PORT", "127.0.0.1", port)


def test_a_port_that_is_ours_for_something_else_is_not_chosen() -> None:
    port, said = free_port(), list[str]()
    assert ports.choose("The mail port", "127.0.0.1", port, say=said.append, never={port}) > port
    assert ports.choose("PORT", "127.0.0.1", port, say=said.append) == port
    assert len(said) == 1


def test_a_port_that_may_not_be_opened_is_not_called_taken(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Guarded(socket.socket):
        """What the system answers a plain account that asks for a low port."""

        def bind(self, address: object) -> None:
            raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(socket, "socket", Guarded)
    with pytest.raises(embedded.CannotStart, match="PORT 80 is not permitted to this") as refused:
        ports.choose("PORT", "127.0.0.1", 80, say=print)
    assert "taken" not in str(refused.value)
    assert "1024" in str(refused.value)


@pytest.mark.parametrize("host", ["192.0.2.77", "no.such.name.example"])
def test_a_host_that_is_not_this_machine_is_named(host: str) -> None:
    with pytest.raises(embedded.CannotStart, match=f"HOST is '{host}'"):
        ports.choose("PORT", host, free_port(), say=print)
