"""What is owed: put off ever longer, given up at the twelfth time, taken over from the dead."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.db import connection, transaction

from pickups.config import wiring
from pickups.config.places import PROJECT
from pickups.journal import queries, services
from pickups.journal.models import Delivery, Entry
from pickups.journal.services import CLAIM, TRIES, Note, drain
from pickups.kernel import clock
from pickups.notices.services import NotSent, Waits
from tests.pickups.notices.conftest import a_day_passes
from tests.pickups.notices.visits import visit
from tests.world import Phone, World
from tests.world.mail import MailServer
from tests.world.threads import at_once


class Reaction:
    """Notes each entry that it is given; fails as long as `broken` is set."""

    def __init__(self) -> None:
        self.seen: list[str] = []
        self.broken: Exception | None = None

    def __call__(self, entry: Entry) -> None:
        self.seen.append(entry.subject)
        if self.broken is not None:
            raise self.broken


@pytest.fixture
def reaction() -> Iterator[Reaction]:
    """A reaction of the test's own beside those of the product; nobody is poked."""
    made = Reaction()
    services.install({**wiring.REACTIONS, "tried.out": {"noted": made}}, poke=lambda: None)
    yield made
    wiring.install()


def owe(*subjects: str) -> None:
    """Entries that owe the reaction."""
    with transaction.atomic():
        services.record([Note("tried.out", s, {}) for s in subjects], at=clock.now())


@pytest.mark.django_db
def test_what_is_owed_runs_once_in_the_order_recorded(reaction: Reaction) -> None:
    owe("a:1", "a:2", "a:3")
    assert queries.owed() == 3
    assert drain() == 3
    assert drain() == 0
    assert reaction.seen == ["a:1", "a:2", "a:3"]
    assert queries.owed() == 0
    assert Delivery.objects.filter(done_at=None).count() == 0


@pytest.mark.django_db
def test_an_entry_that_was_rolled_back_owes_nothing(reaction: Reaction) -> None:
    with transaction.atomic():
        owe("a:1")
        transaction.set_rollback(True)
    assert drain() == 0
    assert reaction.seen == []


@pytest.mark.django_db
def test_a_failing_reaction_is_put_off_ever_longer_then_hourly_for_a_week_and_given_up(
    reaction: Reaction,
) -> None:
    reaction.broken = ValueError("the mail server is away")
    owe("a:1")
    waits = []
    for tries in range(1, TRIES + 1):
        assert queries.owed() == 1
        assert drain() == 1
        assert drain() == 0
        row = Delivery.objects.get()
        assert (row.tries, row.done_at, row.claimed_until) == (tries, None, None)
        assert row.last_error == "ValueError: the mail server is away"
        waits.append(round((row.not_before - clock.now()).total_seconds()))
        a_day_passes()
    assert waits[:5] == [2, 4, 8, 16, 32]
    assert waits == sorted(waits)
    assert waits[-1] == 3600
    assert waits.count(3600) > 7 * 24, "a mail server may be away for days"
    assert len(reaction.seen) == TRIES
    assert drain() == 0
    assert (queries.owed(), queries.given_up()) == (0, 1)
    reaction.broken = None
    call_command("retry_given_up")
    assert drain() == 1
    assert (queries.owed(), queries.given_up()) == (0, 0)


@pytest.mark.django_db
def test_a_failing_reaction_does_not_hold_back_the_others(reaction: Reaction) -> None:
    owe("a:1")
    reaction.broken = ValueError()
    drain()
    reaction.broken = None
    owe("a:2")
    assert drain() == 1
    assert reaction.seen == ["a:1", "a:2"]
    assert Delivery.objects.get(done_at=None).entry.subject == "a:1"


@pytest.mark.django_db
def test_a_reaction_whose_name_is_no_longer_wired_stays_owed_and_says_so(
    reaction: Reaction,
) -> None:
    owe("a:1")
    Delivery.objects.update(reaction="renamed")
    drain()
    row = Delivery.objects.get()
    assert row.done_at is None
    assert "no reaction renamed" in row.last_error


@pytest.mark.django_db
def test_a_claim_keeps_others_away_until_it_runs_out(reaction: Reaction) -> None:
    owe("a:1")
    Delivery.objects.update(claimed_until=clock.now() + CLAIM, tries=1)
    assert drain() == 0
    Delivery.objects.update(claimed_until=clock.now() - timedelta(seconds=1))
    assert drain() == 1
    row = Delivery.objects.get()
    assert (row.tries, row.claimed_until) == (2, None)
    assert row.done_at is not None


@pytest.mark.django_db
def test_a_worker_that_was_overtaken_marks_nothing(reaction: Reaction) -> None:
    owe("a:1")

    def overtaken(entry: Entry) -> None:
        # While this one was slow its claim ran out, and another worker is at it.
        Delivery.objects.update(tries=2, claimed_until=clock.now() + CLAIM)
        raise ValueError("slow")

    services.install({"tried.out": {"noted": overtaken}}, poke=lambda: None)
    assert drain() == 1
    row = Delivery.objects.get()
    assert row.claimed_until is not None
    assert row.last_error == ""


@pytest.mark.django_db(transaction=True)
def test_many_workers_run_each_reaction_once(reaction: Reaction) -> None:
    owe(*[f"a:{n}" for n in range(150)])
    at_once(*[lambda: drain(limit=7) for _ in range(40)][:8])
    while drain():
        pass
    assert sorted(reaction.seen) == sorted(f"a:{n}" for n in range(150))


@pytest.mark.django_db(transaction=True)
def test_a_poke_that_fails_does_not_fail_what_is_committed(reaction: Reaction) -> None:
    pokes: list[int] = []

    def dead_broker() -> None:
        pokes.append(1)
        raise OSError("nobody there")

    services.install({"tried.out": {"noted": reaction}}, poke=dead_broker)
    with transaction.atomic():
        owe("a:1")
        owe("a:2")
        assert pokes == []
    assert pokes == [1], "once a transaction, after its commit"
    assert queries.owed() == 2


DRAIN = """
import django; django.setup()
from pickups.journal.services import drain
drain()
"""


@pytest.mark.django_db(transaction=True)
def test_a_worker_killed_in_mid_mail_is_followed_by_another_that_sends_it(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    op = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    phone.finish(pickup, world.yard.uid, [op["id"]])
    assert phone.push().status == 200
    mail.gate.clear()
    database = connection.settings_dict
    url = os.environ["DATABASE_URL"].rsplit("/", 1)[0] + f"/{database['NAME']}"
    env: dict[str, Any] = {
        **os.environ,
        "DJANGO_SETTINGS_MODULE": "pickups.config.settings",
        "DATABASE_URL": url,
        "EMAIL_URL": f"smtp://127.0.0.1:{mail.port}",
    }
    worker = subprocess.Popen([sys.executable, "-c", DRAIN], cwd=PROJECT, env=env)
    assert mail.arrived.wait(30)
    worker.send_signal(signal.SIGKILL)
    worker.wait()
    held = Delivery.objects.get(reaction="receipt")
    assert held.claimed_until is not None
    assert (held.done_at, held.tries) == (None, 1)
    mail.gate.set()
    assert drain() == 0, "the dead worker's claim still stands"
    a_day_passes()
    assert drain() >= 1
    assert Delivery.objects.get(reaction="receipt").tries == 2
    # A server that had the whole mail of the dead may keep it: the one double that there can be.
    assert 1 <= len(mail.mails) <= 2
    assert len({m["Message-ID"] for m in mail.mails}) == 1


@pytest.mark.django_db
def test_one_that_waits_for_another_is_tried_again_and_said_in_one_quiet_line(
    reaction: Reaction, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level("INFO", "pickups.journal")
    reaction.broken = Waits("another mail is on its way")
    owe("a:1")
    drain()
    assert [(r.levelname, r.exc_info) for r in caplog.records] == [("INFO", None)]
    assert "another mail is on its way" in caplog.text
    caplog.clear()
    reaction.broken = NotSent("the mail server is away")
    a_day_passes()
    drain()
    assert [r.levelname for r in caplog.records] == ["ERROR"]
    caplog.clear()
    reaction.broken = Waits("for ever")
    Delivery.objects.update(tries=TRIES - 1)
    a_day_passes()
    drain()
    assert [r.levelname for r in caplog.records] == ["ERROR"], "what is given up is a fault"


@pytest.mark.django_db(transaction=True)
def test_two_workers_at_one_receipt_make_one_mail_and_no_error(
    world: World, phone: Phone, mail: MailServer, caplog: pytest.LogCaptureFixture
) -> None:
    visit(phone, world)
    mail.gate.clear()

    def second() -> None:
        assert mail.arrived.wait(10)
        Delivery.objects.filter(reaction="receipt").update(claimed_until=None)
        caplog.set_level("INFO", "pickups.journal")
        drain()
        mail.gate.set()

    at_once(drain, second)
    assert len(mail.mails) == 1
    assert "somebody else is at it" in caplog.text
    # That a starved broker was not poked in its fifth of a second is no fault of a delivery.
    faults = [r for r in caplog.records if "could not poke" not in r.message]
    assert not [r for r in faults if r.levelname in ("WARNING", "ERROR")]
