"""Kinds of things, what was seen of them, scrap and what stayed, as their owner reads it."""

from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client
from pytest_django import Settings

from tests.pickups.portal.conftest import Opened, text
from tests.world import Phone, World

CORD = {"zone": "sidewall", "kind": "cord", "side": "other", "mm": 60}
STOP = {"verdict": "leave", "because": ["stop_condition"]}


def take(phone: Phone, world: World, **more: Any) -> str:
    """One thing as the third version tells it, pushed; the address of its story."""
    payload = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": world.a_label()}
    op = phone.enter("custody.pick_up", payload | more, version=3)
    assert phone.push().status == 200
    return f"/casings/{op['id']}"


def test_a_story_says_what_kind_of_thing_it_is_and_all_that_was_seen(
    ines: Client, world: World, phone: Phone
) -> None:
    page = text(
        ines.get(
            take(
                phone,
                world,
                size="11R22.5",
                rating="G 144/141L",
                brand="Corvane",
                tins=[{"tin": "4B08 2910", "made": "new"}, {"tin": "7RT 1219", "made": "retread"}],
                treads_32nds=[[6, 7], [6, None]],
                unit="T-118",
                findings=[CORD],
                check=STOP | {"overruled": "the plant shall look at it"},
            )
        )
    )
    for said in (
        "11R22.5 G 144/141L, Corvane",
        "Casing to retread.",
        "TIN: 4B08 2910 (new), 7RT 1219 (retread).",
        "Tread by place, /32 in: 6 7 | 6 \N{EN DASH}; lowest 6, mean 6.3.",
        "Came off: unit T-118.",
        "Seen on it: cord showing, sidewall, other side, 60 mm.",
        "The driver took it all the same: the plant shall look at it",
        "Never add air.",
    ):
        assert said in page
    assert "Tread when picked up" not in page


def test_a_stopped_casing_carries_its_caution_and_its_day_hangs_on_the_plant(
    ines: Client, world: World, phone: Phone
) -> None:
    day = {"on": "2026-12-04", "basis": "by_hand"}
    wanted = {"line": "retread", "work": "retread", "basis": "own", "back_to": "yard"}
    check = STOP | {"overruled": "the plant shall look at it"}
    found = {"findings": [CORD], "check": check}
    stopped = take(phone, world, **wanted, promised=day, **found)
    sound = take(phone, world, **wanted, promised=day)
    caution = "With damage that stops a casing: do not mount or inflate"
    listed = text(ines.get("/casings/"))
    for page in (text(ines.get(stopped)), listed):
        assert caution in page
        assert "if the plant accepts it" in page
    assert listed.count(caution) == 1
    for said in (caution, "if the plant accepts it"):
        assert said not in text(ines.get(sound))


@pytest.mark.parametrize(
    ("line", "said", "unsaid"),
    [
        ("sell", "It stays yours until somebody entitled to sell it accepts.", "Retread"),
        ("adjustment", "Adjustment claim for a retread that failed.", "Retread"),
        ("wheel_tire", "Wheel with its tire; the wheel is yours too.", "to be fetched"),
        ("wheel", "Loose wheel; it is yours.", "Retread"),
    ],
)
def test_what_is_no_casing_to_retread_says_what_it_is(
    ines: Client, world: World, phone: Phone, line: str, said: str, unsaid: str, settings: Settings
) -> None:
    settings.DEALER_NAME = "The dealer"
    page = text(ines.get(take(phone, world, line=line)))
    assert said in page
    assert unsaid not in page.split("What happened")[0]


def test_scrap_and_what_stayed_are_listed_and_count_as_no_casing(
    ines: Client, world: World, phone: Phone
) -> None:
    pickup, yard = uuid4(), world.yard.uid
    phone.count_scrap(pickup, yard, 6, fee_cents=350, manifest="SM-20418")
    gone = phone.count_scrap(pickup, yard, 99)
    phone.count_scrap(pickup, yard, 0, corrects=gone["id"])
    phone.leave_here(pickup, yard, brand="Corvane", findings=[CORD], check=STOP, note="ours only")
    assert phone.push().status == 200
    page = text(ines.get("/casings/"))
    assert "Nothing of yours is with us just now" in page
    assert "Scrap, and what stayed with you" in page
    assert "6 scrap tires, counted and not labelled, fee $3.50 each, $21.00 in total" in page
    assert "Left with you: Corvane" in page
    assert "WARNING: do not run this tire and do not inflate it." in page
    assert "99" not in page
    assert "ours only" not in page


def test_a_customer_sees_no_lines_of_another(
    opened: Opened, world: World, phone: Phone, ines: Client
) -> None:
    phone.count_scrap(uuid4(), world.yard.uid, 6, manifest="SM-20418")
    assert phone.push().status == 200
    assert "SM-20418" in text(ines.get("/casings/"))
    abel = opened(world.other_customer)
    assert "SM-20418" not in text(abel.get("/casings/"))
    assert "Desecho" not in text(abel.get("/casings/"))


def test_lines_stand_on_the_last_page_only(
    ines: Client, world: World, phone: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    from pickups.portal.queries import mine

    monkeypatch.setattr(mine, "PAGE", 1)
    pickup: UUID = uuid4()
    for _ in range(2):
        phone.pick_up(world.a_label(), world.yard.uid, pickup)
    phone.count_scrap(pickup, world.yard.uid, 6)
    assert phone.push().status == 200
    assert "6 scrap tires" not in text(ines.get("/casings/?page=1"))
    assert "6 scrap tires" in text(ines.get("/casings/?page=2"))
