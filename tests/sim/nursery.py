"""Web processes that begin at once: this process has loaded the application, and each that is asked
for is a copy of it that has served nobody. What a kill costs is then the kill, not two seconds of
imports; what a process had in memory, its connections among that, is gone as ever.

`python -m tests.sim.nursery`: a call on stdin, its answer on stdout, as JSON lines.
"""

import json
import os
import signal
import sys
from contextlib import suppress

from django.urls import get_resolver

from pickups.config import wsgi


def begin(port: int) -> int:
    """A web process in a session of its own, as `granian` from the command line; returns its id."""
    pid = os.fork()
    if pid:
        return pid
    os.setsid()
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nothing, stream)
    from granian import Granian
    from granian.constants import Interfaces

    code = 1
    try:
        Granian(
            "pickups.config.wsgi:application", address="127.0.0.1", port=port, workers=1,
            interface=Interfaces.WSGI, websockets=False, blocking_threads=4, log_enabled=False,
        ).serve()  # fmt: skip
        code = 0
    finally:
        os._exit(code)  # what the copy has of its parent is not its own to end


def kill(pid: int) -> None:
    """SIGKILL to it and its workers; they are gone when this returns."""
    with suppress(ProcessLookupError):
        os.killpg(pid, signal.SIGKILL)
    with suppress(ChildProcessError):
        os.waitpid(pid, 0)


def runs(pid: int) -> bool:
    """Whether it is still there."""
    with suppress(ChildProcessError):
        return os.waitpid(pid, os.WNOHANG) == (0, 0)
    return False


CALLS = {"begin": begin, "kill": kill, "runs": runs}


def main() -> None:
    """Answers until stdin ends, then ends all."""
    assert callable(wsgi.application)
    get_resolver().url_patterns  # noqa: B018  addresses and views too, else each copy reads them
    begun: list[int] = []
    for line in sys.stdin:
        call, argument = json.loads(line)
        answer = CALLS[call](argument)
        if call == "begin" and answer is not None:
            begun.append(answer)
        print(json.dumps(answer), flush=True)
    for pid in begun:
        kill(pid)


if __name__ == "__main__":
    main()
