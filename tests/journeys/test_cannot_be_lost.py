"""One operation from a phone without signal to the ledger and back, through every kind of kill."""

import io
import random
import threading
import time

import pytest
from PIL import Image

from tests.journeys.conftest import OpenApp
from tests.world.proxy import Proxy
from tests.world.stack import Stack

KILLS = 50


def a_photo() -> bytes:
    out = io.BytesIO()
    Image.effect_noise((640, 480), 60).convert("RGB").save(out, "JPEG")
    return out.getvalue()


def facts(stack: Stack, label: str) -> int:
    return int(stack.rows("SELECT count(*) FROM custody_fact WHERE label = %s", label)[0][0])


def test_a_casing_entered_without_signal_survives_the_browser_and_arrives_once(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    label = web.cast["labels"].pop()
    app.set_offline(True)
    app.add(label, 6, 7, 6, photo=a_photo())
    app.expect_waiting(1)
    app.kill()
    web.kill_web()

    app.open(offline=True)
    app.expect_waiting(1)
    assert facts(web, label) == 0
    app.kill()

    web.start_web()
    app.open()
    app.expect_waiting(0)
    assert facts(web, label) == 1
    assert web.rows("SELECT told->'tread_32nds' FROM custody_fact WHERE label = %s", label) == [
        ([6, 7, 6],)
    ]
    photo = web.rows("SELECT told->'photos'->>0 FROM custody_fact WHERE label = %s", label)[0][0]
    wait_for(web, f"SELECT count(*) FROM sync_photo WHERE sha256 = '{photo}'", 1)
    app.page.get_by_test_id("count").or_(
        app.page.locator("[data-testid^='open-']")
    ).first.wait_for()
    # The overlay is gone: what is shown now is the server's row.
    if app.page.locator("[data-testid^='open-']").count():
        app.page.locator("[data-testid^='open-']").first.click()
    app.expect_standing(label, "recorded")
    assert app.page.get_by_test_id(f"casing-{label}").count() == 1


def wait_for(stack: Stack, query: str, value: int, patience_s: float = 15) -> None:
    end = time.monotonic() + patience_s
    while (found := stack.rows(query)[0][0]) != value:
        assert time.monotonic() < end, f"{query}: {found}, not {value}"
        time.sleep(0.1)


def test_a_server_killed_between_its_answers_and_its_commit_has_recorded_nothing(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    first, label = web.cast["labels"].pop(), web.cast["labels"].pop()
    app.add(first, 6)
    app.expect_waiting(0)
    with web.connect() as c:
        c.execute("BEGIN")
        # The last write of a push: how far this outbox has come. The answers stand by then.
        c.execute("SELECT 1 FROM sync_incarnation FOR UPDATE")
        app.add(label, 7)
        wait_for(
            web,
            "SELECT count(*) FROM pg_stat_activity WHERE wait_event_type = 'Lock'"
            " AND query LIKE '%sync_incarnation%'",
            1,
            patience_s=2.5,
        )
        web.kill_web()
        c.execute("ROLLBACK")
    assert facts(web, label) == 0
    app.expect_waiting(1)
    web.start_web()
    app.expect_waiting(0, patience_s=40)
    assert facts(web, label) == 1
    app.expect_standing(label, "recorded")


def test_an_answer_lost_after_the_commit_is_given_again_and_nothing_is_doubled(
    web: Stack, proxy: Proxy, open_app: OpenApp
) -> None:
    app = open_app(f"http://localhost:{proxy.port}")
    label = web.cast["labels"].pop()
    killed = threading.Event()

    def kill() -> None:
        web.kill_web()
        killed.set()

    proxy.on_lost = kill
    proxy.lose_answer_to = b"POST /api/sync/push"
    app.add(label, 5, 5)
    assert killed.wait(15)
    assert facts(web, label) == 1, "the kill came after the commit"
    app.expect_waiting(1)
    web.start_web()
    app.expect_waiting(0, patience_s=40)
    assert facts(web, label) == 1
    assert web.rows("SELECT count(*) FROM casings_work_order WHERE label = %s", label) == [(1,)]
    app.expect_standing(label, "recorded")


@pytest.mark.parametrize("seed", [20260401])
def test_a_server_killed_at_fifty_random_instants_loses_and_doubles_nothing(
    web: Stack, open_app: OpenApp, seed: int
) -> None:
    rng = random.Random(seed)
    app = open_app()
    labels = [web.cast["labels"].pop() for _ in range(KILLS)]
    for label in labels:
        app.add(label, rng.randrange(31))
        time.sleep(rng.uniform(0, 0.15))
        web.kill_web()
        web.start_web()
    app.set_offline(True)  # a signal that comes back does not wait for the next try
    app.set_offline(False)
    app.expect_waiting(0, patience_s=90)
    found = web.rows(
        "SELECT label, count(*) FROM custody_fact WHERE label = ANY(%s) GROUP BY label", labels
    )
    assert dict(found) == dict.fromkeys(labels, 1)
    for label in labels:
        app.expect_standing(label, "recorded")
