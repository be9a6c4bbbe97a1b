"""No token of a mailed link is written into any log, whatever was asked in whatever way."""

import logging
import sys

import pytest

from pickups.config.masked import Masked
from tests.world.stack import Stack

TOKEN = "Zm9yZ2V0LW1lLW5vdC1hbmQtb3Blbi1ub3RoaW5nIQ"


def line(record: logging.LogRecord) -> str:
    return Masked("{levelname} {message}", style="{").format(record)


def record(message: str, *values: object, **more: object) -> logging.LogRecord:
    return logging.makeLogRecord({"msg": message, "args": values, "levelname": "INFO", **more})


@pytest.mark.parametrize(
    "said",
    ["Not Found: /c/%s", "GET https://yard.example/c/%s?x=1 HTTP/1.1", "('/c/%s',)", "/C/%s/",
     "Forbidden (CSRF): /c/a/%s"],
)  # fmt: skip
def test_a_token_is_left_out_wherever_it_stands(said: str) -> None:
    masked = line(record(said, TOKEN))
    assert TOKEN not in masked
    assert "…" in masked


def test_a_traceback_is_masked_too() -> None:
    try:
        raise ValueError(f"could not open /c/{TOKEN}")
    except ValueError:
        masked = line(record("broke", exc_info=sys.exc_info()))
    assert "ValueError: could not open /c/…" in masked
    assert TOKEN not in masked


def test_other_lines_stay_as_they_are() -> None:
    said = "Not Found: /casings/1 (3 of 4)"
    assert line(record(said)) == f"INFO {said}"


def test_a_running_web_process_writes_no_token_down(capfd: pytest.CaptureFixture[str]) -> None:
    with Stack(labels=1) as stack:
        stack.start_web()
        addresses = (f"/c/{TOKEN}", f"/c/{TOKEN}/", f"//c/{TOKEN}", f"/%63/{TOKEN}", f"/C/{TOKEN}",
                     f"/c/{TOKEN}?back=/c/{TOKEN}", f"/app/../c/{TOKEN}")  # fmt: skip
        for method in ("GET", "POST", "PUT", "HEAD"):
            for address in addresses:
                reply = stack.door(method, address, b"a=b", {"Content-Type": "text/plain"})
                assert reply.status < 500
        bad_host = {"Host": "elsewhere.example", "Referer": f"{stack.url}/c/{TOKEN}"}
        assert stack.door("GET", f"/c/{TOKEN}", b"", bad_host).status == 400
    out, err = capfd.readouterr()
    assert "Not Found: /c/…" in out + err  # it does write, and to where we look
    assert TOKEN not in out + err
