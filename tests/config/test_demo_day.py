"""The demo's day: played against the running product, through its doors, as often as one likes."""

import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from typing import Any

import psycopg
import pytest

from pickups.config import places
from pickups.config.embedded_postgres import Postgres
from tests.config.runs import SERVED, Run, free_port, own_environment


def play(var: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "manage.py", "demo_day", "--minutes", "0"],
        cwd=places.PROJECT,
        env=own_environment(var),
        capture_output=True,
        text=True,
        check=False,
    )


def test_without_a_running_product_it_says_what_to_start(tmp_path: Path) -> None:
    played = play(tmp_path)
    assert played.returncode == 1
    assert "make run" in played.stderr.splitlines()[-1]


@pytest.mark.xdist_group("supervisor")
def test_a_day_happens_to_the_sheets_the_ledger_and_the_mails(tmp_path: Path) -> None:
    var, port = tmp_path / "var", free_port()
    run = Run(var, PORT=str(port))
    try:
        run.wait_for(SERVED, 120)
        with psycopg.connect(Postgres(var).url, autocommit=True) as c:
            before = counts(c)
            played = play(var)
            assert played.returncode == 0, played.stderr
            after = counts(c)
            grown = {name: after[name] - before[name] for name in before}
            # A sheet handed to the driver and closed; each stop signed for; plant and shuttle.
            assert grown["sheets"] == 1
            stops = c.execute("SELECT count(*) FROM runs_stop").fetchone()
            assert stops == (grown["stops"],)
            assert grown["stops"] >= 1
            assert grown["pickups"] == grown["stops"] + 1, "one at each stop, one at the counter"
            assert grown["deliveries"] >= 1
            assert grown["signatures"] == grown["pickups"] + grown["deliveries"]
            # Two at each stop, a wheel with its tire at the first; none for what is sold.
            assert grown["promises"] == 2 * grown["stops"] + 1 + 1
            assert grown["lines"] == 2, "scrap and a casing that stayed, at the first stop"
            assert grown["rejected"] == 1
            assert grown["questions"] == 0, "a day without a contradiction"
            mails = ready(port)
            assert "ready" in mails
            assert "dropped off" in mails
            again = play(var)
            assert again.returncode == 0, again.stderr
            assert counts(c)["sheets"] == after["sheets"] + 1
    finally:
        run.stop()


COUNTS = {
    "sheets": "runs_run WHERE state = 'back'",
    "stops": "runs_stop",
    "pickups": "custody_pickup",
    "lines": "custody_visit_line",
    "deliveries": "custody_delivery",
    "signatures": "custody_signature",
    "promises": "promises_promise",
    "rejected": "custody_fact WHERE kind = 'rejected'",
    "questions": "questions_question",
}


def counts(c: "psycopg.Connection[Any]") -> dict[str, int]:
    """How many of each there are once nothing is owed any more."""
    end = time.monotonic() + 60
    while time.monotonic() < end:
        owed = c.execute("SELECT count(*) FROM journal_delivery WHERE done_at IS NULL").fetchone()
        if owed == (0,):
            break
        time.sleep(0.2)
    found = {}
    for name, rows in COUNTS.items():
        row = c.execute(f"SELECT count(*) FROM {rows}").fetchone()
        assert row is not None
        found[name] = int(row[0])
    return found


def ready(port: int) -> str:
    with urllib.request.urlopen(f"http://localhost:{port}/mail/", timeout=10) as page:
        return str(page.read().decode())
