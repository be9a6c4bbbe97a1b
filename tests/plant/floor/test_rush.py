"""Rush work over HTTP: one person asks, another decides, whose promises it moves is kept with that,
and the forecast and the stations' lists follow."""

from datetime import timedelta
from typing import Any
from uuid import UUID

import pytest
from django.db import DatabaseError, connection, transaction
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.kernel import clock
from pickups.people.models import User
from pickups.promises import queries as promises
from pickups.sync.models import Feed
from plant.floor import words
from plant.forecast import queries, tasks
from plant.forecast.models import Supposed
from plant.inspection import queries as inspection
from plant.inspection import rushing
from plant.inspection.models import Rush, RushWord, Work
from tests.pickups.promises.promising import sent, taken, today
from tests.pickups.promises.trucks import publish
from tests.plant.floor.conftest import SignedIn
from tests.plant.forecast.plants import computed, enter, passed
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db
WHY = "Their truck stands still"


@pytest.fixture
def queue(world: World, phone: Phone, gateway: Gateway) -> list[str]:
    """Casings in the queue of a slow station, in this order; their labels."""
    enter(world.plant, cycle_min=120)
    publish(world)
    labels = []
    for _ in range(6):
        op = taken(phone, world, today() + timedelta(days=2), work="retread")
        sent(phone)
        labels.append(op["payload"]["label"])
        passed(gateway, labels[-1], "receiving", "cleaning", hours_ago=2 - len(labels) / 10)
    return labels


@pytest.fixture
def boss(world: World) -> Client:
    """Another supervisor of the plant."""
    other = User.objects.create_user("boss", role="plant", site=world.plant)
    client = Client(headers={"Accept-Language": "en"})
    client.force_login(other)
    return client


def ask(client: Client, label: str) -> Rush:
    answer = client.post("/plant/rush/", {"label": label, "grounds": WHY})
    assert answer.status_code == 302, answer.content.decode()
    return Rush.objects.latest("at")


def decide(client: Client, rush: Rush, kind: str, grounds: str = "") -> Any:
    typed = {"kind": kind, "grounds": grounds}
    return client.post(f"/plant/rush/{rush.uid}/decide", typed, follow=True)


def median(label: str) -> int:
    order = WorkOrder.objects.get(label=label).uid
    return sorted(promises.finishing([order], at=clock.now())[order].sample.minutes)[100]


def test_asked_approved_by_another_and_first_from_then_on(
    world: World, queue: list[str], boss: Client, signed_in: SignedIn
) -> None:
    computed(world.plant.uid)
    waits, mark = median(queue[-1]), queries.mark(world.plant.uid)
    sales = signed_in("sales")
    rush = ask(sales, queue[-1].lower())
    assert (rush.label, rush.grounds) == (queue[-1], WHY)
    assert rushing.in_force(world.plant.uid) == frozenset()
    page = decide(boss, rush, "approved").content.decode()
    assert "It is not computed yet whose promises it moves." in page
    assert tasks.suppose(str(rush.uid)) == "done"
    page = boss.get(f"/plant/rush/{rush.uid}/").content.decode()
    assert WHY in page
    assert "of 6" in page
    assert "Approved" in decide(boss, rush, "approved", "Agreed by phone").content.decode()
    word = RushWord.objects.get()
    assert (word.kind, word.by.username, word.grounds) == ("approved", "boss", "Agreed by phone")
    assert word.moved == Supposed.objects.get(uid=rush.uid).came["moved"]
    assert queries.mark(world.plant.uid) != mark, "the forecast is due"
    computed(world.plant.uid)
    assert median(queue[-1]) < waits - 60
    assert median(queue[-1]) < median(queue[2])
    lists = boss.get("/plant/at/initial-inspection").content.decode()
    assert "rush, goes first" in lists
    first = min(queue, key=lambda label: lists.index(words.grouped(label)))
    assert first == queue[-1], "and it stands first in the station's list"
    assert decide(boss, rush, "ended").status_code == 200
    assert rushing.in_force(world.plant.uid) == frozenset()


def test_tablets_hear_of_it_and_of_its_end(
    world: World, queue: list[str], operator: Client, boss: Client
) -> None:
    def row() -> tuple[bool, int]:
        work = Work.objects.get(plant=world.plant, label=queue[0])
        said = inspection.bodies([work.uid])[work.uid]
        feed = Feed.objects.get(entity="plant_work", uid=work.uid)
        assert feed.version == said["version"]
        return said["wanted"]["rush"], said["version"]

    rush = ask(operator, queue[0])
    tasks.suppose(str(rush.uid))
    no, before = row()
    decide(boss, rush, "approved")
    yes, then = row()
    decide(boss, rush, "ended")
    over, after = row()
    assert (no, yes, over) == (False, True, False)
    assert before < then < after


def test_who_asked_does_not_decide(queue: list[str], operator: Client, boss: Client) -> None:
    rush = ask(operator, queue[0])
    tasks.suppose(str(rush.uid))
    answer = decide(operator, rush, "approved")
    assert answer.status_code == 400
    assert "another person decides" in answer.content.decode()
    assert decide(operator, rush, "declined").status_code == 400
    assert RushWord.objects.count() == 0
    assert "another plant operator" in operator.get(f"/plant/rush/{rush.uid}/").content.decode()
    decide(boss, rush, "declined", "All are urgent")
    assert "Declined by boss" in operator.get(f"/plant/rush/{rush.uid}/").content.decode()
    assert decide(boss, rush, "approved").status_code == 400, "it was decided"


def test_who_only_reads_does_not_decide(
    queue: list[str], operator: Client, signed_in: SignedIn
) -> None:
    rush = ask(operator, queue[0])
    sales = signed_in("sales")
    assert decide(sales, rush, "approved").status_code == 403
    page = sales.get(f"/plant/rush/{rush.uid}/").content.decode()
    assert "A plant operator or an administrator decides." in page


def test_a_casing_is_asked_for_once(queue: list[str], operator: Client, boss: Client) -> None:
    rush = ask(operator, queue[0])
    again = boss.post("/plant/rush/", {"label": queue[0], "grounds": WHY})
    assert again.status_code == 400
    assert "was asked for already" in again.content.decode()
    decide(boss, rush, "declined")
    assert ask(operator, queue[0]).uid != rush.uid, "once declined it may be asked for anew"


@pytest.mark.parametrize(
    ("label", "grounds", "said"),
    [
        ("", WHY, "is on no casing in process here"),
        ("B7K4M2PX", WHY, "“B7K4M2PX” is on no casing in process here"),
        (None, "", "Grounds: “” is not allowed. Allowed: 1 to 300"),
        (None, "x" * 301, "is not allowed. Allowed: 1 to 300"),
    ],
    ids=["empty", "unknown", "no-grounds", "long"],
)
def test_what_is_typed_wrong_is_named_and_stays(
    queue: list[str], operator: Client, label: str | None, grounds: str, said: str
) -> None:
    typed = {"label": queue[0] if label is None else label, "grounds": grounds}
    answer = operator.post("/plant/rush/", typed)
    page = answer.content.decode()
    assert (answer.status_code, Rush.objects.count()) == (400, 0)
    assert said in page
    assert f'value="{typed["label"]}"' in page


def test_a_casing_that_is_finished_goes_first_no_longer(
    world: World, queue: list[str], operator: Client, boss: Client, gateway: Gateway
) -> None:
    rush = ask(operator, queue[0])
    tasks.suppose(str(rush.uid))
    decide(boss, rush, "approved")
    assert len(rushing.in_force(world.plant.uid)) == 1
    gateway.tell(queue[0], "finished", station="paint")
    assert rushing.in_force(world.plant.uid) == frozenset()


def test_a_computing_that_failed_is_asked_anew(
    queue: list[str], operator: Client, boss: Client
) -> None:
    rush = ask(operator, queue[0])
    Supposed.objects.update(state="failed", why="ZeroDivisionError")
    assert "Compute again" in boss.get(f"/plant/rush/{rush.uid}/").content.decode()
    decide(boss, rush, "again")
    assert Supposed.objects.get().state == "waits"
    decide(boss, rush, "again")
    assert Supposed.objects.count() == 1, "while it waits it is not asked twice"


def test_what_was_asked_and_decided_is_never_changed(
    queue: list[str], operator: Client, boss: Client
) -> None:
    rush = ask(operator, queue[0])
    decide(boss, rush, "declined")
    for table in ("inspection_rush", "inspection_rush_word"):
        for does in (f"UPDATE {table} SET grounds = 'x'", f"DELETE FROM {table}"):
            with pytest.raises(DatabaseError), transaction.atomic(), connection.cursor() as c:
                c.execute(does)


def test_another_plants_rush_is_not_here(operator: Client) -> None:
    nobody = UUID(int=7)
    assert operator.get(f"/plant/rush/{nobody}/").status_code == 404
    assert operator.post(f"/plant/rush/{nobody}/decide", {"kind": "approved"}).status_code == 404
