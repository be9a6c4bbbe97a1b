"""10,000 operations from a browser to the server and 10,000 rows back, against the same documents
replicated by PouchDB in the same browser, turn by turn, so that a busy machine is busy for both.

Ours is the shipped engine with its outbox and its replica in IndexedDB, over HTTP to the product
with two web processes and PostgreSQL on the disk: authenticated, checked, folded, journalled, each
operation kept for 30 days on the phone with its answer, which is on the disk before the next but
one goes out. A row that comes back is a whole work order, more than twice a document.

The peer is PouchDB with its IndexedDB adapter to a server of the CouchDB protocol over loopback:
express-pouchdb, documents in that process's memory, no disk, nobody authenticated, nothing checked
beyond the revision. A batch is a read of the changes, _revs_diff, _bulk_docs (back: _changes and
_bulk_get) and a checkpoint at each end; what it keeps is each document, its revisions and its place
in the sequence, as ours keeps the operation, its answer and its number.

Both send 500 at a time, in a fresh profile whose IndexedDB Chromium keeps in memory; filling the
two databases beforehand is not timed.
"""

import json
import statistics
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, Playwright

from pickups.config.places import PROJECT
from tests.bench.figures import note
from tests.world.stack import Stack

DOCS, BATCH, ROUNDS = 10_000, 500, 2
HERE = PROJECT / "frontend" / "tests" / "bench"
PEER = HERE / "peer"
PATIENCE_MS = 300_000

REPLICATE = """async ([way, local, url, batch_size]) => {
    const remote = new PouchDB(url, { skip_setup: false });
    const db = new PouchDB(local);
    const began = performance.now();
    const said = await db.replicate[way](remote, { batch_size });
    return { ms: performance.now() - began, ok: said.ok, written: said.docs_written };
}"""
FILL = """async ([local, docs]) => {
    const db = new PouchDB(local);
    for (let at = 0; at < docs.length; at += 1000) await db.bulkDocs(docs.slice(at, at + 1000));
    return (await db.info()).doc_count;
}"""


@pytest.fixture(scope="module")
def stack() -> Iterator[Stack]:
    with Stack(durable=True, labels=DOCS * ROUNDS + 10) as made:
        made.start_web(workers=2)
        yield made


@pytest.fixture(scope="module")
def script() -> Path:
    """The engine for a page, built from the sources that ship."""
    command = ["npx", "vite", "build", "-c", "tests/bench/vite.config.ts"]
    subprocess.run(command, cwd=PROJECT / "frontend", check=True, capture_output=True)
    return HERE / "dist" / "replicating.js"


@contextmanager
def peer_server() -> Iterator[str]:
    """The peer's server; its address."""
    process = subprocess.Popen(
        ["node", "server.mjs"], cwd=PEER, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    )
    try:
        assert process.stdout is not None
        yield f"http://localhost:{int(process.stdout.readline())}"
    finally:
        process.kill()
        process.wait()


@contextmanager
def a_page(playwright: Playwright, chromium: str, url: str, script: Path) -> Iterator[Page]:
    """A page of that origin with the script in it; each with databases of its own."""
    browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    page = browser.new_context(bypass_csp=True).new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto(url)
    page.add_script_tag(path=script)
    yield page
    browser.close()


def test_10_000_operations_there_and_back_against_pouchdb(
    stack: Stack, script: Path, playwright: Playwright, chromium: str
) -> None:
    ours: dict[str, list[float]] = {"push": [], "pull": [], "enter": []}
    theirs: dict[str, list[float]] = {"push": [], "pull": []}
    docs: list[dict[str, Any]] = []
    pouch = PEER / "node_modules" / "pouchdb" / "dist" / "pouchdb.min.js"
    with (
        peer_server() as url,
        a_page(playwright, chromium, f"{stack.url}/healthz", script) as page,
        a_page(playwright, chromium, url, pouch) as other,
    ):
        for turn in range(ROUNDS):
            labels = [stack.cast["labels"].pop() for _ in range(DOCS)]
            who = [stack.cast["driver"], stack.cast["yard"], labels]
            fill = [f"out{turn}-", stack.fresh_code(), *who]
            ours["enter"].append(page.evaluate("a => bench.fill(...a)", fill))
            said = page.evaluate("a => bench.push(a)", fill[0])
            assert (said["left"], said["accepted"], said["refused"]) == (0, DOCS, 0)
            ours["push"].append(said["ms"])
            docs = page.evaluate("a => bench.docs(a)", fill[0])
            assert other.evaluate(FILL, [f"out{turn}", docs]) == DOCS
            for way, local in (("to", f"out{turn}"), ("from", f"in{turn}")):
                said = other.evaluate(REPLICATE, [way, local, f"{url}/db{turn}", BATCH])
                assert said["ok"]
                assert said["written"] == DOCS
                theirs["push" if way == "to" else "pull"].append(said["ms"])
            said = page.evaluate("a => bench.pull(...a)", [f"in{turn}-", stack.fresh_code()])
            assert said["orders"] == DOCS * (turn + 1)
            ours["pull"].append(said["ms"] * DOCS / said["rows"])
    rate = {
        who: {way: DOCS * 1000 / statistics.median(ms) for way, ms in took.items()}
        for who, took in (("ours", ours), ("pouchdb", theirs))
    }
    note(
        "replication of 10,000",
        push_per_s=rate["ours"]["push"],
        pouchdb_push_per_s=rate["pouchdb"]["push"],
        times_push=rate["ours"]["push"] / rate["pouchdb"]["push"],
        pull_per_s=rate["ours"]["pull"],
        pouchdb_pull_per_s=rate["pouchdb"]["pull"],
        times_pull=rate["ours"]["pull"] / rate["pouchdb"]["pull"],
        entered_per_s=rate["ours"]["enter"],
        bytes_a_document=len(json.dumps(docs[0])),
        aim="4 x both ways",
        versions=json.loads((PEER / "package.json").read_text())["dependencies"],
    )
