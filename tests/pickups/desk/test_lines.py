"""What the office reads of kinds of things, of scrap, of what stayed, and of questions about it."""

import html
import re
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.questions.models import Question
from pickups.runs import services as runs
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.desk.sheets import draw_up
from tests.world import Phone, World

pytestmark = pytest.mark.django_db

CORD = {"zone": "sidewall", "kind": "cord", "side": "other", "mm": 60}
VALVE = "Remove valve cores before handling, of both where it ran as a dual."


def read(client: Client, address: str) -> str:
    """A page as it is read, with the paper that only a printer shows."""
    page = client.get(address)
    assert page.status_code == 200
    bare = html.unescape(re.sub(r"<[^>]+>", " ", page.content.decode()))
    return " ".join(bare.replace("\u2009", "").split())


def take(phone: Phone, world: World, label: str, pickup: UUID, **more: Any) -> dict[str, Any]:
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "label": label}
    return phone.enter("custody.pick_up", payload | more, version=3)


def sent(phone: Phone) -> None:
    assert phone.push().status == 200
    assert phone.outbox == []


def test_a_labels_page_tells_all_that_was_seen_and_the_lines_of_the_same_pickup(
    office: Client, world: World, phone: Phone
) -> None:
    label, pickup = world.a_label(), uuid4()
    take(
        phone,
        world,
        label,
        pickup,
        line="sell",
        sale={"grade": "B", "cents": 4500, "pays": "price"},
        size="11R22.5",
        brand="Corvane",
        tins=[{"tin": "4B08 2910", "made": "new"}, {"tin": "7RT 1219", "made": "retread"}],
        findings=[CORD],
        check={"verdict": "leave", "number": 3, "because": ["too_old"], "overruled": "Asked for."},
    )
    phone.count_scrap(pickup, world.yard.uid, 6, fee_cents=350, manifest="SM-20418")
    gone = phone.count_scrap(pickup, world.yard.uid, 77)
    phone.count_scrap(pickup, world.yard.uid, 0, corrects=gone["id"])
    phone.leave_here(
        pickup, world.yard.uid, brand="Lathmore", note="manager told", photos=["a" * 64]
    )
    sent(phone)
    page = read(office, f"/office/labels/{label}")
    for said in (
        "Offered for sale; condition and price after inspection. It stays the customer's until",
        "Price offered: $45.00.",
        "11R22.5, Corvane",
        "TIN: 4B08 2910 (new), 7RT 1219 (retread).",
        "Spec check by the customer's specification, number 3: it should stay, for its age.",
        "Never add air. The sidewall may burst along its cords.",
        "In the same pickup",  # of two told in one millisecond either stands first
        "6 scrap tires, counted and not labelled, fee $3.50 each",
        "Left there: Lathmore",
        "manager told",
    ):
        assert said in page, said
    assert "77 scrap" not in page
    assert "1 photo still to come" in page, "the phone has not sent it yet"


def test_a_question_about_a_pickup_names_scrap_and_what_stayed_in_words(
    signed_in: SignedIn, world: World, phone: Phone
) -> None:
    pickup, yard = uuid4(), world.yard.uid
    op = take(phone, world, world.a_label(), pickup)
    phone.count_scrap(pickup, yard, 6)
    phone.leave_here(pickup, yard, size="11R22.5")
    payload = {"pickup": str(pickup), "yard": str(yard), "casings": [op["id"]]}
    phone.enter("custody.finish_pickup", payload, version=3)
    sent(phone)
    page = read(signed_in(), "/office/")
    assert "Scrap on the list 0 Scrap counted in it 6 scrap tires" in page
    assert "Left there, on the list 0 Left there, as told Left there: 11R22.5" in page
    spanish = read(signed_in(language="es"), "/office/")
    assert "Desecho contado en ella 6 llantas de desecho" in spanish


def test_a_question_about_a_pickup_without_such_lines_says_nothing_of_them(
    office: Client, world: World, phone: Phone
) -> None:
    pickup = uuid4()
    op = take(phone, world, world.a_label(), pickup)
    take(phone, world, world.a_label(), pickup)
    phone.finish(pickup, world.yard.uid, [op["id"]])
    sent(phone)
    page = read(office, "/office/")
    assert "Picked up in it" in page
    assert "Scrap" not in page
    assert "Left there" not in page


def test_a_line_that_is_in_question_itself_is_told_in_words(
    office: Client, world: World, phone: Phone
) -> None:
    pickup = uuid4()
    picked = take(phone, world, world.a_label(), pickup)
    phone.count_scrap(pickup, world.yard.uid, 6)
    phone.count_scrap(pickup, world.yard.uid, 7, corrects=picked["id"])
    phone.count_scrap(pickup, world.other_yard.uid, 8)
    phone.finish(pickup, world.yard.uid, [picked["id"]])
    sent(phone)
    assert Question.objects.filter(settled_at=None, kind="correction_parked").exists()
    page = read(office, "/office/")
    assert "Of another customer 8 scrap tires, counted and not labelled." in page


@pytest.mark.parametrize(
    ("line", "said", "caution"),
    [
        ("wheel_tire", "Wheel with its tire; the wheel is the customer's property too.", True),
        ("wheel", "Loose wheel; it is the customer's property.", False),
        ("retread", "", False),
    ],
)
def test_a_wheel_on_the_rack_and_on_a_load_sheet_says_so_with_its_caution(
    office: Client, world: World, phone: Phone, line: str, said: str, caution: bool
) -> None:
    store = f"site:{world.store.uid}"
    op = take(phone, world, world.a_label(), uuid4(), line=line)
    told = {"label": op["payload"]["label"], "way": "in", "giver": f"person:{world.driver.uid}"}
    phone.enter("custody.hand_over", told | {"taker": store})
    sent(phone)
    run = draw_up(world)
    pages = [read(office, "/office/rack/"), read(office, f"/office/sheets/{run.uid}/")]
    for page in pages:
        assert said in page
        assert (VALVE in page) == caution
        assert ("customer's property" in page) == bool(said)
    runs.put(run=run.uid, work_orders=[UUID(op["id"])])
    paper = read(office, f"/office/sheets/{run.uid}/")
    assert paper.count(VALVE) == (2 if caution else 0), "on the screen and on the paper"
