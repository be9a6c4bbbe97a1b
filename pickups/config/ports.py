"""A port of this machine that nobody has, found by trying; why there is none, in a sentence.

A port counts as taken when it is taken on any address by which people here would reach it: a
browser that is given `localhost` may ask ::1 first and meet a stranger's program. One that may
not be opened is told apart from one that is taken. Nothing is held: the program binds it anew.
"""

import errno
import socket
from collections.abc import Callable, Collection

from pickups.config import embedded

PORTS_TRIED = 50
LOOPBACKS = ("127.0.0.1", "::1")
REACHED_AS_LOCALHOST = frozenset({"localhost", *LOOPBACKS, "0.0.0.0", "::"})  # noqa: S104
_ABSENT = (errno.EADDRNOTAVAIL, errno.EAFNOSUPPORT)


def choose(
    what: str, host: str, wanted: int, *, say: Callable[[str], None], never: Collection[int] = ()
) -> int:
    """The wanted port or the next free one, which is then said.

    Raises CannotStart where the port may not be opened, the host is none, or 50 are taken.
    """
    for port in range(wanted, min(wanted + PORTS_TRIED, 65536)):
        if port not in never and is_free(what, host, port):
            if port != wanted:
                say(f"{what} {wanted} is taken on this machine; {port} is used.")
            return port
    raise embedded.CannotStart(f"{what} {wanted} is taken, and {PORTS_TRIED} after it too.")


def is_free(what: str, host: str, port: int) -> bool:
    """Whether nobody has this port, on the host and, where it is reached so, as localhost."""
    try:
        family, _, _, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
    except OSError as wrong:
        raise embedded.CannotStart(f"HOST is {host!r}, which is no address here.") from wrong
    found = _tried(family, (str(address[0]), port))
    if found in _ABSENT:
        raise embedded.CannotStart(f"HOST is {host!r}, which is no address of this machine.")
    if found in (errno.EACCES, errno.EPERM):
        raise embedded.CannotStart(
            f"{what} {port} is not permitted to this account: the system keeps low ports for the"
            " administrator. Choose one from 1024 on, and put a proxy in front of it."
        )
    others = [one for one in LOOPBACKS if one != host] if host in REACHED_AS_LOCALHOST else []
    families = {"127.0.0.1": socket.AF_INET, "::1": socket.AF_INET6}
    # A machine without IPv6 has no ::1 on which anybody could listen.
    return not found and all(_tried(families[one], (one, port)) in (0, *_ABSENT) for one in others)


def _tried(family: int, address: tuple[str, int]) -> int:
    """What keeps us from listening there, as an errno; 0 for nothing."""
    try:
        with socket.socket(family, socket.SOCK_STREAM) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(address)
            probe.listen()
    except OSError as wrong:
        return wrong.errno or errno.EIO
    return 0
