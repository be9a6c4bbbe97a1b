"""A label's page tells each hand-over once, in order, with everybody who told it and who signed."""

import hashlib
import html
import io
import re
from datetime import datetime, timedelta
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
from django.conf import settings as django_settings
from django.test import Client
from PIL import Image

from pickups.custody import overdue
from pickups.custody.models import Signature
from pickups.custody.shown import shown
from pickups.kernel import clock
from tests.conftest import Enrol
from tests.pickups.desk.conftest import Contested, SignedIn
from tests.world import Phone, World
from tests.world.plant import Gateway

ZONE = ZoneInfo(django_settings.DEALER_TIME_ZONE)
PROMISED = {"on": "2026-04-24", "basis": "standard_time", "offered": "2026-04-24", "table": 1}


def events(office: Client, label: str) -> list[str]:
    """The sentences of the page, in order, as text."""
    page = office.get(f"/office/labels/{label}").content.decode()
    told = page.split('<ol class="life">', 1)[1].split("</ol>", 1)[0]
    return [
        html.unescape(re.findall(r"<p>(.*?)<", li)[0]).strip() for li in told.split("<li>\n")[1:]
    ]


def hhmm(op: dict[str, Any]) -> str:
    at = datetime.fromisoformat(op["happened_at"])
    return f"{at.astimezone(ZONE):%H:%M}"


def taken(phone: Phone, world: World, label: str, **more: Any) -> dict[str, Any]:
    payload = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": label, **more}
    return phone.enter("custody.pick_up", payload, version=2)


def over(phone: Phone, op: dict[str, Any], **more: Any) -> dict[str, Any]:
    """The end of the pickup of one casing."""
    payload = {k: op["payload"][k] for k in ("pickup", "yard")}
    return phone.enter(
        "custody.finish_pickup", payload | {"casings": [op["id"]], **more}, version=2
    )


def moved(phone: Phone, label: str, way: str, giver: str, taker: str) -> dict[str, Any]:
    payload = {"label": label, "way": way, "giver": giver, "taker": taker}
    return phone.enter("custody.hand_over", payload)


def delivered(phone: Phone, world: World, label: str, **end: Any) -> dict[str, Any]:
    visit = {"delivery": str(uuid4()), "yard": str(world.yard.uid)}
    op = phone.enter("custody.deliver", {**visit, "label": label}, version=2)
    phone.enter("custody.finish_delivery", {**visit, "casings": [op["id"]], **end}, version=2)
    return op


def sent(phone: Phone) -> None:
    assert phone.push().status == 200


def drawn(phone: Phone) -> str:
    """A signature's picture, sent; returns its hash."""
    out = io.BytesIO()
    Image.new("RGB", (60, 20), "white").save(out, "PNG")
    sha256 = hashlib.sha256(out.getvalue()).hexdigest()
    headers = {"Content-Type": "image/png", "Cookie": f"__Host-yardloop_push={phone.push_secret}"}
    assert phone.door("PUT", f"/api/photos/{sha256}", out.getvalue(), headers).status == 200
    return sha256


def test_from_yard_to_yard_each_hand_over_stands_once_with_both_witnesses(
    office: Client, world: World, phone: Phone, enrol: Enrol, gateway: Gateway
) -> None:
    label = world.a_label()
    dale, mira = f"person:{world.driver.uid}", f"person:{world.other_driver.uid}"
    rack, dock = f"site:{world.store.uid}", f"plant:{world.plant.uid}"
    others = enrol(world.other_driver)

    def at_plant(outcome: str, station: str) -> dict[str, Any]:
        return gateway.tell(label, outcome, station=station, happened_at=clock.now())

    op = taken(phone, world, label)
    over(phone, op, signer="R. Amsel")
    unloaded = moved(phone, label, "in", dale, rack)
    counted = moved(phone, label, "in", dale, rack)
    sent(phone)
    loaded = moved(others, label, "in", rack, mira)
    brought = moved(others, label, "in", mira, dock)
    sent(others)
    received = at_plant("received", "receiving")
    at_plant("received", "receiving")
    at_plant("finished", "final-inspection")
    shipped = at_plant("shipped", "shipping")
    fetched = moved(others, label, "out", dock, mira)
    racked = moved(others, label, "out", mira, rack)
    sent(others)
    out = moved(phone, label, "out", rack, dale)
    back = delivered(phone, world, label, unsigned="nobody at the gate")
    sent(phone)
    yard, plant, store = (
        "North yard of Tarn Valley Haulage",
        "Fernhollow plant",
        "Bramblewick store",
    )
    assert counted["id"] != unloaded["id"]
    assert events(office, label) == [
        f"Picked up at {yard}: Dale Orrin {hhmm(op)}, signed: R. Amsel.",
        f"Handed to {store}: Dale Orrin {hhmm(unloaded)}, told 2 times.",
        f"Taken from {store}: Mira Fenn {hhmm(loaded)}.",
        f"Handed to {plant}: Mira Fenn {hhmm(brought)}, receiving {hhmm(received)}, told 2 times.",
        "Finished: final inspection, Fernhollow plant.",
        f"Taken from {plant}: shipping {hhmm(shipped)}, Mira Fenn {hhmm(fetched)}.",
        f"Handed to {store}: Mira Fenn {hhmm(racked)}.",
        f"Taken from {store}: Dale Orrin {hhmm(out)}.",
        f"Delivered at {yard}: Dale Orrin {hhmm(back)}, not signed: nobody at the gate.",
    ]


def test_over_the_counter_it_is_told_at_which_store(
    office: Client, world: World, phone: Phone
) -> None:
    label = world.a_label()
    op = taken(phone, world, label, store=str(world.store.uid))
    nowhere = moved(phone, label, "in", f"site:{world.store.uid}", f"site:{uuid4()}")
    visit = {"delivery": str(uuid4()), "yard": str(world.yard.uid), "label": label}
    phone.enter("custody.deliver", visit | {"store": str(world.store.uid)}, version=2)
    sent(phone)
    at, yard = hhmm(op), "North yard of Tarn Valley Haulage"
    unknown = "a store or plant that is not known here"
    assert events(office, label) == [
        f"Dropped off at Bramblewick store, from {yard}: Dale Orrin {at}.",
        f"Handed from Bramblewick store to {unknown}: Dale Orrin {hhmm(nowhere)}.",
        f"Handed back at the counter of Bramblewick store, to {yard}: Dale Orrin {at}.",
    ]


def test_who_gave_or_took_without_telling_it_is_named(
    office: Client, world: World, phone: Phone, enrol: Enrol
) -> None:
    label = world.a_label()
    dale, rack = f"person:{world.driver.uid}", f"site:{world.store.uid}"
    counter = enrol(world.other_driver)
    moved(counter, label, "in", dale, rack)
    moved(counter, label, "in", rack, dale)
    moved(counter, label, "in", dale, f"person:{world.other_driver.uid}")
    sent(counter)
    told = [said.partition(": Mira Fenn")[0] for said in events(office, label)]
    assert told == [
        "Handed to Bramblewick store by Dale Orrin",
        "Taken from Bramblewick store by Dale Orrin",
        "Handed from Dale Orrin to Mira Fenn",
    ]


def test_times_of_another_day_are_told_with_their_day(
    office: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    taken(phone, world, label)
    phone.ahead = timedelta(days=-3)
    moved(phone, label, "in", f"person:{world.driver.uid}", f"plant:{world.plant.uid}")
    sent(phone)
    gateway.tell(label, "received", station="receiving")
    (said,) = [s for s in events(office, label) if s.startswith("Handed to")]
    assert re.search(r"receiving \w{3} \d+ \w{3} \d{4}, \d\d:\d\d\.$", said)


def test_the_one_side_that_nobody_answered_is_said_and_asked_about(
    office: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    taken(phone, world, label)
    moved(phone, label, "in", f"person:{world.driver.uid}", f"plant:{world.plant.uid}")
    sent(phone)
    page = office.get(f"/office/labels/{label}").content.decode()
    assert page.count("the other side has told nothing of it") == 1
    assert "open question" not in page
    overdue.ask_one_sided(at=clock.now() + timedelta(days=2))
    assert "open question" in office.get(f"/office/labels/{label}").content.decode()
    gateway.tell(label, "passed")
    page = office.get(f"/office/labels/{label}").content.decode()
    assert "the other side has told nothing of it" not in page
    assert "open question" not in page


def test_what_is_wanted_and_promised_stands_with_the_casing(
    signed_in: SignedIn, world: World, phone: Phone
) -> None:
    label = world.a_label()
    taken(phone, world, label, work="repair", basis="pool", tread_design="rib <b>", unit="T-118",
          purchase_order="PO 4471", back_to="store", promised=PROMISED)  # fmt: skip
    sent(phone)
    page = signed_in().get(f"/office/labels/{label}").content.decode()
    found = re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", page)
    assert [(html.unescape(term), html.unescape(said)) for term, said in found] == [
        ("Work wanted", "repair only"),
        ("Comes back", "any of this customer's casings"),
        ("Tread design", "rib <b>"),
        ("Purchase order", "PO 4471"),
        ("Off vehicle", "T-118"),
        ("Back to", "the store's counter"),
        ("Promised", "Fri 24 Apr 2026, by standard time"),
    ]
    spanish = signed_in(language="es").get(f"/office/labels/{label}").content.decode()
    assert "<dd>solo reparar</dd>" in spanish
    assert "<dd>vie 24 abr 2026, por plazo normal</dd>" in spanish


def test_a_pick_up_of_the_first_version_says_nothing_of_wanted_work(
    office: Client, world: World, phone: Phone
) -> None:
    label = world.a_label()
    phone.pick_up(label, world.yard.uid, uuid4())
    sent(phone)
    assert "<dt>" not in office.get(f"/office/labels/{label}").content.decode()


# --- Signatures ---------------------------------------------------------------------------------


def test_what_was_corrected_after_signing_is_said(
    office: Client, world: World, phone: Phone
) -> None:
    label = world.a_label()
    op = taken(phone, world, label, promised=PROMISED)
    over(phone, op, signer="R. Amsel", shown=shown([(label, "2026-04-24")]))
    sent(phone)
    said = "corrected after signing"
    assert said not in office.get(f"/office/labels/{label}").content.decode()
    corrects = {"fact": op["id"], "label": label}
    again = {**op["payload"], "corrects": corrects}
    phone.enter("custody.pick_up", {**again, "note": "wet"}, version=2)
    sent(phone)
    assert said not in office.get(f"/office/labels/{label}").content.decode()
    phone.enter("custody.pick_up", {**again, "promised": {**PROMISED, "on": "2026-04-28"}},
                version=2)  # fmt: skip
    sent(phone)
    assert office.get(f"/office/labels/{label}").content.decode().count(said) == 1


@pytest.mark.parametrize(
    "more", [{"signer": "R. Amsel"}, {"unsigned": "nobody", "shown": "b" * 64}]
)
def test_without_a_list_that_was_signed_nothing_was_corrected_after_it(
    office: Client, world: World, phone: Phone, more: dict[str, str]
) -> None:
    label = world.a_label()
    over(phone, taken(phone, world, label), **more)
    sent(phone)
    page = office.get(f"/office/labels/{label}").content.decode()
    assert "corrected after signing" not in page


def test_a_signature_is_shown_through_its_visit_and_can_be_erased(
    signed_in: SignedIn, client: Client, world: World, phone: Phone
) -> None:
    label = world.a_label()
    op = taken(phone, world, label)
    over(phone, op, signer="R. Amsel", signature=drawn(phone))
    sent(phone)
    office, visit = signed_in(), op["payload"]["pickup"]
    address = f"/office/signatures/{visit}"
    assert f'<img src="{address}"' in office.get(f"/office/labels/{label}").content.decode()
    answer = office.get(address)
    assert (answer.status_code, answer.headers["Content-Type"]) == (200, "image/jpeg")
    assert "no-store" in answer.headers["Cache-Control"]
    assert Image.open(io.BytesIO(answer.content)).size == (60, 20)
    assert client.get(address).status_code == 302
    assert signed_in("driver").get(address).status_code == 403
    assert office.get(f"/office/signatures/{uuid4()}").status_code == 404
    Signature.objects.all().delete()
    assert office.get(address).status_code == 404
    page = office.get(f"/office/labels/{label}").content.decode()
    assert "signed; the signature was erased." in page
    assert address not in page
    assert "Amsel" not in page


def test_a_name_without_a_drawing_shows_no_picture(
    office: Client, world: World, phone: Phone
) -> None:
    label = world.a_label()
    over(phone, taken(phone, world, label), signer="R. <Amsel>")
    sent(phone)
    page = office.get(f"/office/labels/{label}").content.decode()
    assert "signed: R. &lt;Amsel&gt;." in page
    assert "/office/signatures/" not in page


def test_a_pickup_that_is_not_over_says_nothing_of_signing(
    office: Client, world: World, phone: Phone
) -> None:
    label = world.a_label()
    taken(phone, world, label)
    sent(phone)
    (said,) = events(office, label)
    assert "sign" not in said


# --- What is no hand-over, or nobody's ----------------------------------------------------------


def test_both_pick_ups_of_a_contested_label_stand_and_the_plants_word_is_nobodys(
    office: Client, world: World, gateway: Gateway, contested: Contested
) -> None:
    gateway.tell(contested.label, "received", station="receiving")
    told = events(office, contested.label)
    assert [said.partition(":")[0] for said in told] == [
        "Picked up at North yard of Tarn Valley Haulage",
        "Picked up at Pit gate of Reedbank Gravel",
        "Handed to Fernhollow plant",
    ]


def test_a_casing_moved_to_another_label_shows_its_pick_up_under_both(
    office: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    old, new, pickup = world.a_label(), world.a_label(), uuid4()
    first = phone.pick_up(old, world.yard.uid, pickup)
    phone.pick_up(new, world.yard.uid, pickup, corrects={"fact": first["id"], "label": old})
    sent(phone)
    gateway.tell(new, "received", station="receiving")
    told = [said.partition(":")[0] for said in events(office, new)]
    assert told == [
        "Picked up at North yard of Tarn Valley Haulage",
        "Told again by Dale Orrin",
        "Handed to Fernhollow plant",
    ]
    assert events(office, old)[0].startswith("Picked up at North yard")


def test_a_withdrawn_pick_up_is_told_as_what_was_said_and_taken_back(
    office: Client, world: World, phone: Phone
) -> None:
    label = world.a_label()
    op = taken(phone, world, label)
    named = {"fact": op["id"], "label": label}
    payload = {"pickup": op["payload"]["pickup"], "withdraws": named, "reason": "wrong pile"}
    phone.enter("custody.withdraw", payload)
    sent(phone)
    assert events(office, label) == [
        "Picked up at North yard of Tarn Valley Haulage by Dale Orrin.",
        "Taken back as a mistake by Dale Orrin: “wrong pile”",
    ]
