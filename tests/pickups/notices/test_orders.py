"""Whatever order facts arrive in, and whenever mails are sent between: what a contact was told
last is what stands, nothing is said twice in a row, and nothing while it may not leave.

The expectation is told apart from the product: from the events alone, by the words of the rules.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID, uuid4

import pytest
from django.core.cache import cache
from django.db import transaction
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from pickups.customers.models import Contact
from pickups.notices.models import Line
from pickups.people import queries as people
from pickups.people.models import PlantKey
from plant.inspection import services as inspection
from plant.inspection.wire import StationEvent
from tests.pickups.notices.visits import drain_all
from tests.world import Phone, World
from tests.world.mail import MailServer

pytestmark = pytest.mark.django_db

BEGAN = datetime.fromisoformat("2026-05-04T10:00:00Z")
PICK_UP = "picked_up"


@dataclass(frozen=True)
class Scan:
    """What a station told; number orders it in time, releases names another's number."""

    number: int
    outcome: str
    reason: str = ""
    releases: int = -1


@st.composite
def histories(draw: st.DrawFn) -> list[Scan]:
    """Two to seven scans of one casing, true or not; releases name one that stops it, once."""
    scans: list[Scan] = []
    for number in range(draw(st.integers(2, 7))):
        held = {s.number for s in scans if s.outcome in ("hold", "rejected")}
        free = sorted(held - {s.releases for s in scans})
        outcome = draw(st.sampled_from(
            ["finished", "finished", "rejected", "rejected", "hold"]
            + ["released"] * 4 * bool(free)
        ))  # fmt: skip
        if outcome == "released":
            scans.append(Scan(number, outcome, releases=draw(st.sampled_from(free))))
        else:
            reason = draw(st.sampled_from(["ZIPPER", "SW_CUT"])) if outcome == "rejected" else ""
            scans.append(Scan(number, outcome, reason))
    return scans


def stands(scans: list[Scan]) -> str:
    """What may be said of the casing when just these are known: "" where nothing may."""
    released = {s.releases for s in scans}
    stop = {s.outcome for s in scans if s.outcome == "hold" and s.number not in released}
    rejected = sorted(
        (s.number, s.reason) for s in scans if s.outcome == "rejected" and s.number not in released
    )
    if stop:
        return ""
    if rejected:
        return f"rejected {rejected[-1][1]}"
    return "finished" if any(s.outcome == "finished" for s in scans) else "open"


def sort(news: str) -> str:
    return " ".join(news.split()[:2]) if news.startswith("rejected") else news


def post(key: PlantKey, label: str, scan: Scan, ids: list[UUID]) -> None:
    rejected = scan.outcome == "rejected"
    told = StationEvent(
        id=ids[scan.number],
        label=label,
        station="buffing",
        outcome=scan.outcome,  # type: ignore[arg-type]
        happened_at=BEGAN + timedelta(minutes=scan.number),
        reason=scan.reason,
        cause="casing" if rejected else None,
        releases=ids[scan.releases] if scan.releases >= 0 else None,
    )
    inspection.post(key=key, events=[(told, {}, bytes(32))])


@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(histories(), st.data())
def test_what_was_told_last_is_what_stands_and_nothing_is_told_twice(
    world: World, phone: Phone, mail: MailServer, scans: list[Scan], data: st.DataObject
) -> None:
    arrivals: list[Scan | str] = data.draw(st.permutations([*scans, PICK_UP]))
    drains = data.draw(st.lists(st.booleans(), min_size=len(arrivals), max_size=len(arrivals)))
    ids = [uuid4() for _ in scans]
    key = people.plant_key(world.plant_key)
    assert key is not None
    mail.mails.clear()
    cache.clear()  # the phone's rate outlives an example
    with transaction.atomic():
        contact = Contact.objects.get(customer=world.customer)
        label = world.labels[0]
        here: list[Scan] = []
        picked_up = False
        last = ""  # what was said last, as the rules have it
        said = 0
        for arrival, drains_now in zip(arrivals, [*drains[:-1], True], strict=True):
            if isinstance(arrival, Scan):
                post(key, label, arrival, ids)
                here.append(arrival)
            else:
                phone.pick_up(label, world.yard.uid, uuid4())
                assert phone.push().status == 200
                picked_up = True
            if not drains_now:
                continue
            drain_all()
            now = stands(here) if picked_up else ""
            told = Line.objects.filter(contact=contact.uid).order_by("place")
            news = [sort(line.news) for line in told]
            assert len(news) == len(mail.mails), "a mail a line, and no mail without one"
            if now == "" or (now == "open" and last in ("", "open")):
                assert len(news) == said, "nothing may be said, or nothing is new"
            else:
                assert news[-1] == now
                # The same reason once more only where a rejection was released in between.
                again = any(s.outcome == "released" for s in here) and now != "finished"
                assert len(news) - said == (now != last) or (again and len(news) - said == 1)
                last = now
            said = len(news)
            drain_all()
            assert len(mail.mails) == said
        event(f"{said} told")
        transaction.set_rollback(True)


def test_the_property_knows_each_of_the_things_that_can_stand() -> None:
    finished, rejected = Scan(0, "finished"), Scan(1, "rejected", "ZIPPER")
    assert stands([finished]) == "finished"
    assert stands([finished, rejected]) == stands([rejected, finished]) == "rejected ZIPPER"
    assert stands([finished, rejected, Scan(2, "released", releases=1)]) == "finished"
    assert stands([rejected, Scan(2, "released", releases=1)]) == "open"
    assert stands([finished, Scan(2, "hold")]) == ""
    assert sort("rejected ZIPPER casing 0") == "rejected ZIPPER"
