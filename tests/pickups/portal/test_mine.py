"""The list: what is counted where, in whose words, and what a customer must never learn."""

from datetime import timedelta
from uuid import UUID, uuid4

import pytest
from django.db.models.signals import post_init
from django.test import Client

from pickups.casings.models import Casing, WorkOrder
from pickups.custody import services as custody
from pickups.kernel import clock
from pickups.people.models import Site
from pickups.portal.queries import mine
from tests.pickups.portal.conftest import Opened, PickedUp, plain, tell, text
from tests.world import Phone, World
from tests.world.plant import Gateway


def test_the_page_says_how_many_are_with_us_and_where_they_stand(
    ines: Client, world: World, picked_up: PickedUp, gateway: Gateway
) -> None:
    ways: list[tuple[str, ...]] = [
        (), ("received",), ("received", "passed"), ("passed", "hold"), ("finished",),
        ("finished", "shipped"), ("rejected",), ("received", "rejected", "shipped"),
    ]  # fmt: skip
    for way in ways:
        label, _ = picked_up(yard=world.yard.uid)
        tell(gateway, label, *way)
    picked_up(yard=world.other_yard.uid)
    page = text(ines.get("/casings/"))
    assert (
        "8 of yours with us: 2 rejected, 2 finished, 3 being worked on, "
        "1 on its way to the plant." in page
    )
    assert page.index(" Rejected ") < page.index(" Finished ")
    assert "set aside in the plant" in page
    assert "rejected, left the plant" in page


def test_of_what_was_sold_no_more_is_read_than_is_listed(
    ines: Client, world: World, picked_up: PickedUp, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Years of sold casings make no page slow."""
    sold = [picked_up(yard=world.yard.uid)[1] for _ in range(5)]
    Casing.objects.filter(uid__in=sold).update(dealers="sold", owned_since=clock.now())
    monkeypatch.setattr(mine, "BACK", 2)
    read: list[UUID] = []

    def note(instance: WorkOrder, **_: object) -> None:
        read.append(instance.uid)

    post_init.connect(note, sender=WorkOrder)
    try:
        page = text(ines.get("/casings/"))
    finally:
        post_init.disconnect(note, sender=WorkOrder)
    assert page.count("North yard") == 2
    assert len(read) == 2


def test_spanish_is_spoken_to_who_reads_it_and_the_switch_holds(
    opened: Opened, world: World, picked_up: PickedUp
) -> None:
    picked_up(yard=world.other_yard.uid)
    abel = opened(world.other_customer, headers={"Accept-Language": "en"})
    page = abel.get("/casings/")
    assert '<html lang="es">' in page.content.decode()
    assert page.headers["Content-Language"] == "es"
    assert "1 suya con nosotros: 1 en camino a la planta." in text(page)
    back = "/casings/?q=2910"
    answer = abel.post("/casings/language", {"language": "en", "next": back})
    assert answer.headers["Location"] == back
    assert "1 of yours with us" in text(abel.get("/casings/"))


@pytest.mark.parametrize(
    "back", ["https://elsewhere.example/", "//elsewhere.example", "/office/", "/casings/\\x", ""]
)
def test_the_switch_never_leads_away(ines: Client, back: str) -> None:
    answer = ines.post("/casings/language", {"language": "es", "next": back})
    assert answer.headers["Location"] == "/casings/"


def test_an_empty_page_says_what_will_appear_and_when(ines: Client) -> None:
    page = text(ines.get("/casings/"))
    assert "Nothing of yours is with us just now" in page
    assert "appears here when our driver has picked it up" in page


def test_while_a_label_is_contested_nothing_of_it_is_shown(
    ines: Client, world: World, picked_up: PickedUp, gateway: Gateway
) -> None:
    label, order = picked_up(yard=world.yard.uid, tin="4B08 2910")
    tell(gateway, label, "rejected")
    before = ines.get("/casings/")
    assert "1 of yours with us" in text(before)
    _, theirs = picked_up(yard=world.other_yard.uid, label=label)
    page = ines.get("/casings/")
    assert "Nothing of yours is with us" in text(page)
    assert str(order) not in page.content.decode()
    nowhere = plain(ines.get(f"/casings/{uuid4()}"))
    assert plain(ines.get(f"/casings/{order}")) == nowhere
    assert "None of yours has" in text(ines.get("/casings/", {"q": label}))
    assert custody.withdraw(work_order=theirs, reason="other pile", by=world.dispatcher.uid)
    assert "1 rejected" in text(ines.get("/casings/"))


def test_a_casing_that_was_taken_by_mistake_is_not_theirs_to_see(
    ines: Client, world: World, phone: Phone
) -> None:
    label, pickup = world.a_label(), str(uuid4())
    fact = phone.pick_up(label, world.yard.uid, UUID(pickup))["id"]
    phone.push()
    assert ines.get(f"/casings/{fact}").status_code == 200
    back = {"pickup": pickup, "withdraws": {"fact": fact, "label": label}, "reason": "wrong pile"}
    phone.enter("custody.withdraw", back)
    assert phone.push().status == 200
    assert "Nothing of yours is with us" in text(ines.get("/casings/"))
    assert ines.get(f"/casings/{fact}").status_code == 404


def test_a_casing_is_found_by_label_and_by_tin_however_they_are_written(
    ines: Client, world: World, picked_up: PickedUp
) -> None:
    label, order = picked_up(yard=world.yard.uid, tin="4B08 XYZ 2910")
    picked_up(yard=world.yard.uid, tin="4B08 ABC 1811")
    ways = [label, label.lower(), f"{label[:4]} {label[4:]}", f"https://x.example/L/{label}",
            label[:5], "2910", "xyz2910", "XYZ-2910", "08xyz"]  # fmt: skip
    for way in ways:
        page = ines.get("/casings/", {"q": way})
        assert page.status_code == 200, way
        assert "1 of yours has" in text(page), way
        assert f"/casings/{order}" in page.content.decode()
    assert "2 of yours have “4B08”" in text(ines.get("/casings/", {"q": "4B08"}))


@pytest.mark.parametrize("typed", ["K7", "...", "%%%%", "\x00", "<b>", "ñññññ"])
def test_too_little_to_look_for_is_said(ines: Client, typed: str) -> None:
    answer = ines.get("/casings/", {"q": typed})
    assert answer.status_code == 400
    assert "Type at least four letters or digits" in text(answer)
    assert "<b>" not in answer.content.decode()


def test_another_customers_casing_is_answered_as_one_that_does_not_exist(
    ines: Client, world: World, picked_up: PickedUp
) -> None:
    label, order = picked_up(yard=world.other_yard.uid, tin="4B08 XYZ 2910")
    unheard = world.a_label()
    nobodys = uuid4()
    for theirs, nothing in (
        (f"/casings/{order}", f"/casings/{nobodys}"),
        (f"/casings/{order}/photos/1", f"/casings/{nobodys}/photos/1"),
    ):
        first, second = ines.get(theirs), ines.get(nothing)
        assert (first.status_code, second.status_code) == (404, 404)
        assert plain(first) == plain(second)
        timeless = [{k: v for k, v in a.headers.items() if k != "Expires"} for a in (first, second)]
        assert timeless[0] == timeless[1]
    found = plain(ines.get("/casings/", {"q": label})).replace(label.encode(), b"")
    assert found == plain(ines.get("/casings/", {"q": unheard})).replace(unheard.encode(), b"")
    assert "None of yours" in text(ines.get("/casings/", {"q": "XYZ 2910"}))


def test_no_other_customer_and_no_name_of_our_people_is_on_any_page(
    ines: Client, world: World, picked_up: PickedUp, gateway: Gateway
) -> None:
    label, order = picked_up(yard=world.yard.uid, note="Gate code 4711, ask for Rolf")
    tell(gateway, label, "received", "rejected", operator="PX07", note="sloppy driver")
    picked_up(yard=world.other_yard.uid)
    pages = [ines.get(address) for address in ("/casings/", f"/casings/{order}", "/casings/no")]
    shown = " ".join(page.content.decode() for page in pages)
    for hidden in ("Reedbank", "Pit gate", "Abel", "Dale", "Orrin", "PX07", "4711", "sloppy"):
        assert hidden not in shown
    assert str(world.driver.uid) not in shown
    assert "Tarn Valley Haulage" in shown


def test_a_long_list_comes_in_pages_and_every_casing_is_on_one(
    world: World, picked_up: PickedUp, ines: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    orders = {picked_up(yard=world.yard.uid)[1] for _ in range(5)}
    monkeypatch.setattr(mine, "PAGE", 2)
    shown: list[UUID] = []
    for page in range(1, 4):
        got = mine.mine(world.customer.uid, "en", page=page)
        shown += [line.work_order for section in got.sections for line in section.lines]
        assert got.summary == "5 of yours with us: 5\xa0on their way to the plant."
    assert len(shown) == 5
    assert set(shown) == orders
    second = text(ines.get("/casings/", {"page": "2"}))
    assert "Page 2 of 3" in second
    for wrong in ("0", "-1", "99", "x", "9" * 40):
        assert ines.get("/casings/", {"page": wrong}).status_code == 200


def test_the_footer_names_the_customers_own_store(opened: Opened, world: World) -> None:
    assert "Call 555 0101" not in text(opened().get("/casings/"))
    assert "Llamar al 555 0101" in text(opened(world.other_customer).get("/casings/"))
    Site.objects.filter(uid=world.other_store.uid).update(phone="")
    assert "Llamar al 555 0100" in text(opened(world.other_customer).get("/casings/"))


def test_the_last_news_is_told_where_there_is_any(
    ines: Client, world: World, picked_up: PickedUp, gateway: Gateway
) -> None:
    label, _ = picked_up(yard=world.yard.uid)
    assert "Last news" not in text(ines.get("/casings/"))
    gateway.tell(label, "received", happened_at=clock.now() + timedelta(minutes=1))
    assert "Last news" in text(ines.get("/casings/"))
