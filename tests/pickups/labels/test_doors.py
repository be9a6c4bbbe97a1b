"""The doors by which a store's device gets labels: its own only, once an id, drawn as they are."""

import json
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from pytest_django import Settings

from pickups.kernel import clock
from pickups.labels import services
from pickups.labels.api import MOST_A_DAY
from pickups.labels.models import Label, Roll
from pickups.labels.rules import RANGES, SERIALS
from pickups.people.models import Site
from tests.conftest import Enrol
from tests.pickups.labels.pictures import rasters, texts
from tests.world import Phone, World
from tests.world.phone import Reply
from tests.world.threads import at_once


def post(phone: Phone, what: str, body: dict[str, Any]) -> Reply:
    headers = {"Content-Type": "application/json", "Authorization": f"Bearer {phone.read_token}"}
    return phone.door("POST", f"/api/labels/{what}", json.dumps(body).encode(), headers)


def problem(reply: Reply) -> dict[str, Any]:
    assert reply.headers["Content-Type"] == "application/problem+json"
    found: dict[str, Any] = json.loads(reply.body)
    return found


def a_roll(phone: Phone, count: int = 3, uid: object = None) -> list[str]:
    reply = post(phone, "rolls", {"id": str(uid or uuid4()), "count": count})
    assert reply.status == 200, reply.body
    labels: list[str] = json.loads(reply.body)["labels"]
    return labels


def rolls_and_labels() -> tuple[int, int]:
    return Roll.objects.count(), Label.objects.count()


# --- A roll ------------------------------------------------------------------------------------


def test_a_device_is_given_labels_of_its_own_store_and_told_who_the_dealer_is(
    world: World, phone: Phone, settings: Settings
) -> None:
    settings.DEALER_NAME, settings.DEALER_PHONE = "Fernhollow Tire", "555 0199"
    reply = post(phone, "rolls", {"id": str(uuid4()), "count": 4})
    said = json.loads(reply.body)
    roll = Roll.objects.latest("pk")
    assert (roll.site, roll.last - roll.first + 1) == (world.store, 4)
    assert said["labels"] == sorted(roll.labels.values_list("code", flat=True))
    assert (said["dealer"], said["phone"]) == ("Fernhollow Tire", "555 0199")


def test_the_same_id_is_answered_with_the_same_labels_and_prints_none(phone: Phone) -> None:
    uid = uuid4()
    first = a_roll(phone, 5, uid)
    before = rolls_and_labels()
    assert a_roll(phone, 5, uid) == first
    assert rolls_and_labels() == before


def test_an_id_used_for_other_labels_is_refused_by_name_and_prints_none(
    world: World, enrol: Enrol, phone: Phone
) -> None:
    uid = uuid4()
    ours = set(a_roll(phone, 5, uid))
    before = rolls_and_labels()
    for sender, count in ((phone, 6), (enrol(world.other_driver), 5)):
        reply = post(sender, "rolls", {"id": str(uid), "count": count})
        assert (reply.status, problem(reply)["code"]) == (409, "id_reused")
        assert problem(reply)["faults"][0]["value"] == str(uid)
        assert not any(label in reply.body.decode() for label in ours)
    assert rolls_and_labels() == before


@pytest.mark.parametrize("count", [0, 101, -1, "2", 2.5, None])
def test_a_count_out_of_bounds_is_refused_by_name_and_prints_none(
    phone: Phone, count: object
) -> None:
    before = rolls_and_labels()
    reply = post(phone, "rolls", {"id": str(uuid4()), "count": count})
    assert reply.status == 400
    assert problem(reply)["faults"][0]["field"] == "count"
    assert rolls_and_labels() == before


def test_a_store_goes_on_in_its_own_range(world: World, phone: Phone) -> None:
    """The cast's roll is of K7."""
    last = world.store.rolls.get().last
    a_roll(phone, 2)
    roll = Roll.objects.latest("pk")
    assert (roll.range, roll.first, roll.last) == ("K7", last + 1, last + 2)


def test_a_store_that_never_printed_begins_the_first_range_that_nobody_has(
    world: World, enrol: Enrol
) -> None:
    other = enrol(world.other_driver)
    assert {label[:2] for label in a_roll(other)} == {RANGES[0]}
    third = Site.objects.create(name="Third store", kind=Site.Kind.STORE)
    roll = services.print_for(site=third, count=1, at=clock.now(), uid=uuid4())
    assert roll.range == RANGES[1]
    assert {label[:2] for label in a_roll(other)} == {RANGES[0]}  # and stays in it


def test_a_full_range_is_left_for_the_next_one(world: World, phone: Phone) -> None:
    long_ago = clock.now() - timedelta(days=9)
    Roll.objects.update(printed_at=long_ago)
    full = {"site": world.store, "printed_at": long_ago + timedelta(days=1)}
    Roll.objects.create(range="K7", first=100, last=SERIALS - 3, **full)
    assert {label[:2] for label in a_roll(phone, 2)} == {"K7"}  # the last two of it
    assert {label[:2] for label in a_roll(phone, 2)} == {RANGES[0]}
    assert {label[:2] for label in a_roll(phone, 2)} == {RANGES[0]}


def test_a_store_that_had_enough_within_a_day_is_told_so_and_gets_none(
    world: World, enrol: Enrol, phone: Phone
) -> None:
    uid = uuid4()
    first = a_roll(phone, 5, uid)
    last = world.store.rolls.latest("pk").last
    more = {"site": world.store, "printed_at": clock.now()}
    Roll.objects.create(range="K7", first=last + 1, last=last + MOST_A_DAY - 35, **more)
    before = rolls_and_labels()
    reply = post(phone, "rolls", {"id": str(uuid4()), "count": 1})
    assert (reply.status, problem(reply)["code"]) == (429, "too_many")
    assert problem(reply)["faults"][0]["field"] == "count"
    assert a_roll(phone, 5, uid) == first, "what was printed before is answered again"
    assert rolls_and_labels() == before
    assert len(a_roll(enrol(world.other_driver), 1)) == 1, "another store is not concerned"
    Roll.objects.filter(site=world.store).update(printed_at=clock.now() - timedelta(days=2))
    assert len(a_roll(phone, 1)) == 1


def test_where_every_range_is_used_up_nothing_is_printed(world: World) -> None:
    for symbols in RANGES:
        Roll.objects.create(
            range=symbols, first=0, last=SERIALS - 1, site=world.plant, printed_at=clock.now()
        )
    before = rolls_and_labels()
    with pytest.raises(services.RangeFull):
        services.print_for(site=world.store, count=1, at=clock.now(), uid=uuid4())
    assert rolls_and_labels() == before


@pytest.mark.django_db(transaction=True)
def test_stores_that_print_their_first_rolls_at_once_begin_ranges_of_their_own(
    world: World,
) -> None:
    stores = [Site.objects.create(name=f"S{i}", kind=Site.Kind.STORE) for i in range(4)]
    made = at_once(
        *[
            lambda s=store: services.print_for(site=s, count=3, at=clock.now(), uid=uuid4())
            for store in stores
        ]
    )
    assert sorted(roll.range for roll in made) == sorted(RANGES[:4])


@pytest.mark.django_db(transaction=True)
def test_one_id_sent_many_times_at_once_prints_one_roll(world: World) -> None:
    uid, before = uuid4(), Roll.objects.count()
    made = at_once(
        *[lambda: services.print_for(site=world.store, count=3, at=clock.now(), uid=uid)] * 5
    )
    assert len({roll.pk for roll in made}) == 1
    assert Roll.objects.count() == before + 1


# --- Their drawing -----------------------------------------------------------------------------


def test_labels_are_drawn_with_their_twins_and_both_symbols_read_back(
    phone: Phone, settings: Settings
) -> None:
    settings.PUBLIC_BASE_URL = "https://fernhollow.example"
    labels = a_roll(phone, 2)
    reply = post(phone, "print", {"labels": labels})
    assert (reply.status, reply.headers["Content-Type"]) == (200, "application/pdf")
    assert reply.headers["Cache-Control"] == "no-store"
    pages = rasters(reply.body)
    twins = [label for label in labels for _ in "12"]
    link = "HTTPS://FERNHOLLOW.EXAMPLE/L/"
    assert [texts(page) for page in pages] == [
        {"qr": [link + label], "bars": [label]} for label in twins
    ]


def test_labels_on_a_sheet_stand_on_one_page(phone: Phone) -> None:
    labels = a_roll(phone, 3)
    reply = post(phone, "print", {"labels": labels, "stock": "sheet"})
    (page,) = rasters(reply.body)
    assert sorted(set(texts(page)["bars"])) == labels
    assert len(texts(page)["bars"]) == 6


def test_a_label_that_was_not_printed_for_this_store_is_named_and_none_is_drawn(
    world: World, enrol: Enrol, phone: Phone
) -> None:
    ours = a_roll(phone, 2)
    theirs, unknown = a_roll(enrol(world.other_driver), 1), "K72K54X3"
    said = []
    for foreign in (*theirs, unknown):
        reply = post(phone, "print", {"labels": [*ours, foreign]})
        assert reply.status == 403
        (fault,) = problem(reply)["faults"]
        assert (fault["field"], fault["value"]) == ("labels[2]", foreign)
        said.append(reply.body.decode().replace(foreign, ""))
    assert said[0] == said[1]  # whether there is such a label is not told


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"labels": []}, "labels"),
        ({"labels": ["K7000Y02"] * 101}, "labels"),
        ({"labels": ["k7000y02"]}, "labels[0]"),
        ({"labels": ["K7000Y02"], "stock": "shelf"}, "stock"),
        ({"labels": ["K7000Y02"], "twins": False}, "twins"),
        ({}, "labels"),
    ],
)
def test_what_cannot_be_drawn_is_refused_by_the_name_of_its_field(
    phone: Phone, body: dict[str, Any], field: str
) -> None:
    reply = post(phone, "print", body)
    assert reply.status == 400
    assert problem(reply)["faults"][0]["field"] == field


def test_a_dealers_name_that_fits_on_no_label_is_told_in_words(
    phone: Phone, settings: Settings
) -> None:
    settings.DEALER_NAME = "Retread " * 40
    reply = post(phone, "print", {"labels": a_roll(phone, 1)})
    assert reply.status == 500
    assert "the dealer's name" in problem(reply)["detail"]


def test_a_device_that_prints_without_end_is_slowed_down(phone: Phone) -> None:
    label = a_roll(phone, 1)[0]
    reply = None
    for _ in range(125):
        reply = post(phone, "print", {"labels": [label], "stock": "none"})
        if reply.status == 429:
            break
    assert reply is not None
    assert reply.status == 429
    assert int(reply.headers["Retry-After"]) > 0
