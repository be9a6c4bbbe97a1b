"""The story of a casing: sentences in order, the rejection in words, photos through the record."""

import hashlib
import io
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

import pytest
from django.test import Client
from PIL import Image
from pytest_django import Settings

from pickups.customers.models import Contact
from pickups.kernel import clock
from tests.pickups.portal.conftest import Opened, PickedUp, tell, text
from tests.world import Phone, World
from tests.world.plant import Gateway
from tests.world.seat import specify


def a_photo(phone: Phone, colour: str) -> str:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), colour).save(out, "JPEG")
    sha256 = hashlib.sha256(out.getvalue()).hexdigest()
    headers = {"Content-Type": "image/jpeg", "Cookie": f"__Host-yardloop_push={phone.push_secret}"}
    assert phone.door("PUT", f"/api/photos/{sha256}", out.getvalue(), headers).status == 200
    return sha256


def test_the_story_is_told_in_order_in_sentences(
    ines: Client, picked_up: PickedUp, gateway: Gateway
) -> None:
    label, order = picked_up(size="11R22.5", tin="4B08 2910", tread_32nds=[6, 7])
    at = clock.now()
    for minutes, (outcome, station) in enumerate(
        [("received", "receiving"), ("passed", "initial-inspection"), ("repair", "buffing"),
         ("finished", "final-inspection"), ("shipped", "shipping")], 1
    ):  # fmt: skip
        gateway.tell(label, outcome, station=station, happened_at=at + timedelta(minutes=minutes))
    page = text(ines.get(f"/casings/{order}"))
    told = ["finished, left the plant", "11R22.5 · TIN 4B08 2910",
            "Tread when picked up: 6 7 /32 in",
            "Picked up at North yard by our driver.", "Arrived at Fernhollow plant.",
            "Passed initial inspection.", "To be repaired, seen at buffing.", "Finished.",
            "Left Fernhollow plant on a truck."]  # fmt: skip
    assert [line for line in told if line not in page] == []
    places = [page.index(line) for line in told[3:]]
    assert places == sorted(places)


REJECTED = {
    "en": [
        "Rejected at initial inspection.",
        "Why: plies or belts have come apart inside, on the sidewall.",
        "The plant puts it down to the casing itself.",
        "REJECTED \N{EN DASH} do not mount or inflate",
        "We will call you and ask what to do with it.",
    ],
    "es": [
        "Rechazada en la estación de inspección inicial.",
        "Por qué: las lonas o los cinturones se han separado por dentro, zona: flanco.",
        "La planta lo atribuye a la propia carcasa.",
        "RECHAZADA \N{EN DASH} no montar ni inflar",
        "Le llamaremos para preguntarle qué hacer con ella.",
    ],
}


@pytest.mark.parametrize(
    ("rejects", "said"),
    [
        ("return", "By your specification it comes back to you with the next run"),
        ("scrap", "By your specification we scrap it"),
        ("buy", "By your specification we make you an offer for it"),
        ("ask", "We will call you and ask what to do with it"),
    ],
)
def test_what_is_done_with_a_rejected_casing_is_what_the_specification_says(
    ines: Client, world: World, picked_up: PickedUp, gateway: Gateway, rejects: str, said: str
) -> None:
    specify(str(world.customer.uid), rejects=rejects)
    label, order = picked_up()
    gateway.tell(label, "rejected")
    for page in (text(ines.get(f"/casings/{order}")), text(ines.get("/casings/"))):
        assert said in page
        assert ("We will call you" in page) == (rejects == "ask")


@pytest.mark.parametrize("language", REJECTED)
def test_a_rejection_is_told_with_reason_zone_station_and_cause(
    opened: Opened, world: World, picked_up: PickedUp, gateway: Gateway, language: str
) -> None:
    Contact.objects.filter(customer=world.customer).update(language=language)
    label, order = picked_up()
    finding = {"zone": "sidewall", "kind": "cut", "size_mm": 38}
    tell(
        gateway,
        label,
        "rejected",
        reason="SEPARATION",
        station="initial-inspection",
        findings=[finding],
    )
    answer = opened().get(f"/casings/{order}")
    page = text(answer)
    assert [line for line in REJECTED[language] if line not in page] == []
    assert 'class="bar"' in answer.content.decode()


def test_every_hand_over_on_the_way_home_is_told_and_no_persons_name(
    ines: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    fact = phone.pick_up(label, world.yard.uid, uuid4())
    phone.push()
    driver, store = f"person:{world.driver.uid}", f"site:{world.store.uid}"
    gateway.tell(label, "finished", happened_at=phone.clock())
    way = {"label": label, "way": "out"}
    phone.enter("custody.hand_over", way | {"giver": f"plant:{world.plant.uid}", "taker": driver})
    phone.enter("custody.hand_over", way | {"giver": driver, "taker": store})
    assert phone.push().status == 200
    page = text(ines.get(f"/casings/{fact['id']}"))
    assert "Left Fernhollow plant on a truck." in page
    assert "Unloaded at Bramblewick store." in page
    assert "It is ready at Bramblewick store and goes out to North yard with our next run" in page
    assert "Dale" not in page
    deliver = {"delivery": str(uuid4()), "yard": str(world.yard.uid), "label": label}
    phone.enter("custody.deliver", deliver | {"note": "Left by the gate."})
    assert phone.push().status == 200
    page = text(ines.get(f"/casings/{fact['id']}"))
    assert "Delivered: handed back to you at North yard." in page
    assert "Left by the gate." not in page
    listed = text(ines.get("/casings/"))
    assert "Nothing of yours is with us" in listed
    assert "Back with you" in listed


@pytest.mark.parametrize("way", [["finished", "rejected"], ["rejected", "finished", "shipped"]])
def test_a_rejected_casing_is_never_shown_as_finished(
    ines: Client, picked_up: PickedUp, gateway: Gateway, way: list[str]
) -> None:
    label, order = picked_up()
    tell(gateway, label, *way)
    for address in ("/casings/", f"/casings/{order}"):
        page = ines.get(address)
        assert "finished" not in text(page).lower()
        assert "rejected" in text(page).lower()
        assert 'class="bar"' in page.content.decode()


def test_a_rejection_that_was_taken_back_is_told_as_that(
    ines: Client, picked_up: PickedUp, gateway: Gateway
) -> None:
    label, order = picked_up()
    rejected = gateway.tell(label, "rejected")
    at = clock.now() + timedelta(minutes=1)
    gateway.tell(label, "released", releases=rejected["id"], happened_at=at)
    page = text(ines.get(f"/casings/{order}"))
    assert "The rejection was taken back at buffing: the work goes on." in page
    assert "do not mount or inflate" not in page
    assert "being worked on" in page


def test_a_hold_splits_the_stroke_and_is_said(
    ines: Client, picked_up: PickedUp, gateway: Gateway
) -> None:
    label, order = picked_up()
    tell(gateway, label, "received", "hold")
    answer = ines.get(f"/casings/{order}")
    assert 'class="split"' in answer.content.decode()
    assert "set aside in the plant" in text(answer)
    tell(gateway, label, "finished")
    assert "being worked on" in text(ines.get("/casings/"))
    assert "1 finished" not in text(ines.get("/casings/"))


def test_what_the_plant_told_before_the_pickup_arrived_is_in_the_story(
    ines: Client, world: World, picked_up: PickedUp, gateway: Gateway
) -> None:
    label = world.a_label()
    tell(gateway, label, "received", "passed")
    _, order = picked_up(label=label)
    page = text(ines.get(f"/casings/{order}"))
    assert "Arrived at Fernhollow plant." in page
    assert "Passed buffing." in page


def test_a_correction_is_told_and_what_it_says_is_shown(
    ines: Client, world: World, phone: Phone
) -> None:
    old, new, pickup = world.a_label(), world.a_label(), uuid4()
    first = phone.pick_up(old, world.yard.uid, pickup, size="11R22.5")
    corrects = {"fact": first["id"], "label": old}
    phone.pick_up(new, world.yard.uid, pickup, size="295/75R22.5", corrects=corrects)
    phone.push()
    page = text(ines.get(f"/casings/{first['id']}"))
    assert "Our driver put right what he had written down." in page
    assert new in page
    assert "295/75R22.5" in page
    assert "11R22.5" not in page


def test_times_are_the_dealers_and_a_phones_wrong_clock_is_put_right(
    ines: Client, world: World, phone: Phone, settings: Settings
) -> None:
    settings.DEALER_TIME_ZONE = "Pacific/Kiritimati"
    phone.ahead = timedelta(days=-3)
    fact = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.push()
    right = datetime.now(ZoneInfo("Pacific/Kiritimati"))
    page = text(ines.get(f"/casings/{fact['id']}"))
    days = {
        f"{at.day} {at:%b} {at.year}, {at:%H:%M}" for at in (right, right - timedelta(minutes=1))
    }
    assert any(day in page for day in days)


class TestPhotos:
    """Served through the record, by number, as the customer's own."""

    @pytest.fixture
    def shown(self, world: World, phone: Phone, gateway: Gateway) -> tuple[UUID, dict[str, Any]]:
        """One with two photos from the yard, one never sent, and one from a station."""
        label = world.a_label()
        red, blue, green = (a_photo(phone, c) for c in ("#a00", "#00a", "#0a0"))
        photos = [red, "0" * 64, blue]
        fact = phone.pick_up(label, world.yard.uid, uuid4(), photos=photos)
        phone.push()
        found = [{"zone": "bead", "kind": "tear", "photos": [green]}]
        gateway.tell(
            label, "rejected", findings=found, happened_at=clock.now() + timedelta(minutes=1)
        )
        return UUID(fact["id"]), {"red": red, "green": green}

    def test_each_is_served_to_its_owner_and_kept_by_nobody(
        self, ines: Client, shown: tuple[UUID, dict[str, Any]]
    ) -> None:
        order, _ = shown
        page = ines.get(f"/casings/{order}").content.decode()
        there = [n for n in range(1, 6) if f"/casings/{order}/photos/{n}" in page]
        assert there == [1, 3, 4]
        colours = []
        for n in there:
            answer = ines.get(f"/casings/{order}/photos/{n}")
            assert (answer.status_code, answer.headers["Content-Type"]) == (200, "image/jpeg")
            assert "no-store" in answer.headers["Cache-Control"]
            pixel = Image.open(io.BytesIO(answer.content)).convert("RGB").getpixel((5, 5))
            assert isinstance(pixel, tuple)
            colours.append("rgb"[pixel.index(max(pixel))])
        assert colours == ["r", "b", "g"]
        for n in (0, 2, 5, 10**30):
            assert ines.get(f"/casings/{order}/photos/{n}").status_code == 404

    def test_nobody_else_gets_one(
        self, opened: Opened, world: World, client: Client, shown: tuple[UUID, dict[str, Any]]
    ) -> None:
        order, hashes = shown
        address = f"/casings/{order}/photos/1"
        assert client.get(address).status_code == 403
        client.force_login(world.dispatcher)
        assert client.get(address).status_code == 403
        assert opened(world.other_customer).get(address).status_code == 404
        assert hashes["red"] not in opened().get(f"/casings/{order}").content.decode()

    def test_a_corrected_photo_replaces_the_first(
        self, ines: Client, world: World, phone: Phone
    ) -> None:
        label, pickup = world.a_label(), uuid4()
        red, blue = a_photo(phone, "#a00"), a_photo(phone, "#00a")
        first = phone.pick_up(label, world.yard.uid, pickup, photos=[red])
        corrects = {"fact": first["id"], "label": label}
        phone.pick_up(label, world.yard.uid, pickup, photos=[blue], corrects=corrects)
        phone.push()
        answer = ines.get(f"/casings/{first['id']}/photos/1")
        pixel = Image.open(io.BytesIO(answer.content)).convert("RGB").getpixel((5, 5))
        assert isinstance(pixel, tuple)
        assert pixel[2] > pixel[0]
        assert ines.get(f"/casings/{first['id']}/photos/2").status_code == 404
