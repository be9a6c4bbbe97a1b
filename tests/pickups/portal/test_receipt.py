"""A receipt by its unguessable link: a button on GET, one receipt on POST, nothing else, and on
paper in both languages."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pypdfium2
import pytest
from django.core.cache import cache
from django.test import Client
from pytest_django import DjangoAssertNumQueries, Settings

from pickups.custody import receipt_links
from pickups.custody.models import Fact, ReceiptLink
from pickups.kernel import clock
from pickups.portal.rules import COOKIE, SCANNED
from tests.conftest import Enrol
from tests.pickups.portal.conftest import Opened, plain, text
from tests.world import Phone, World

pytestmark = pytest.mark.django_db

KEY = "3V9K0TQ7ZD4H2M8XN5R1CJ6PWA"
OTHER = "0V9K0TQ7ZD4H2M8XN5R1CJ6PWB"


def ended(phone: Phone, world: World, key: str = KEY, n: int = 2, **more: Any) -> UUID:
    """A pickup that is over, its receipt's key told with its end."""
    pickup, yard = uuid4(), str(more.pop("yard", world.yard.uid))
    made = [phone.pick_up(world.a_label(), UUID(yard), pickup) for _ in range(n)]
    payload = {"pickup": str(pickup), "yard": yard, "casings": [op["id"] for op in made]}
    payload |= {"signer": "R. Amsel", "signed_in": "es", "receipt_key": key} | more
    phone.enter("custody.finish_pickup", payload, version=5)
    assert phone.push().status == 200
    return pickup


@pytest.fixture
def pickup(world: World, phone: Phone) -> UUID:
    return ended(phone, world)


def words_of(pdf: bytes) -> list[str]:
    """The text of each page, spaces as one."""
    pages = pypdfium2.PdfDocument(pdf)
    return [" ".join(page.get_textpage().get_text_range().split()) for page in pages]


def test_whoever_looks_finds_one_button_and_spends_nothing(
    client: Client, pickup: UUID, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    with django_assert_num_queries(0):
        known = client.get(f"/R/{KEY}")
        unknown = client.get(f"/R/{OTHER}")
    assert known.content == unknown.content
    assert known.content.count(b"<button") == 1
    assert known.headers["Referrer-Policy"] == "no-referrer"
    assert ReceiptLink.objects.get().used_at is None


def test_the_button_opens_this_one_receipt_in_the_language_it_was_signed_in(
    client: Client, pickup: UUID
) -> None:
    answer = client.post(f"/R/{KEY}")
    assert (answer.status_code, answer.headers["Location"]) == (302, "/receipt/")
    assert answer.cookies[SCANNED.cookie]["path"] == "/receipt/"
    page = client.get("/receipt/")
    assert page.headers["Content-Language"] == "es"
    assert "no-store" in page.headers["Cache-Control"]
    assert "Firmado por R. Amsel. La lista se leyó en español." in text(page)
    assert "estado sujeto a inspección en planta" in text(page)
    assert KEY not in page.content.decode()
    client.post("/receipt/language", {"language": "en", "next": "/receipt/"})
    assert "Counted; condition subject to plant inspection." in text(client.get("/receipt/"))
    # What opens a receipt opens nothing else.
    assert client.get("/casings/").status_code == 403
    assert COOKIE not in client.cookies


def test_unknown_run_out_revoked_and_not_arrived_are_one_answer(
    world: World, phone: Phone, client: Client, pickup: UUID
) -> None:
    ended(phone, world, OTHER)
    gone = clock.now() - timedelta(days=31)
    ReceiptLink.objects.exclude(visit=pickup).update(expires_at=gone)
    bad = [OTHER, "1" * 26, KEY[:-1], KEY.lower(), f"{KEY}/", "", "8" * 26]
    answers = {plain(Client().post(f"/R/{key}")) for key in bad}
    cache.clear()
    assert receipt_links.revoke(pickup, at=clock.now()) == 1
    answers.add(plain(client.post(f"/R/{KEY}")))
    assert len(answers) == 1
    assert b"try again in an hour" in answers.pop()


def test_a_revoked_link_ends_what_it_had_opened(client: Client, pickup: UUID) -> None:
    client.post(f"/R/{KEY}")
    assert client.get("/receipt/").status_code == 200
    receipt_links.revoke(pickup, at=clock.now())
    assert client.get("/receipt/").status_code == 403


def test_the_end_told_again_with_another_key_opens_no_receipt_that_was_revoked(
    world: World, phone: Phone, client: Client, pickup: UUID
) -> None:
    receipt_links.revoke(pickup, at=clock.now())
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "receipt_key": OTHER}
    phone.enter("custody.finish_pickup", payload, version=5)
    assert phone.push().status == 200
    assert client.post(f"/R/{OTHER}").status_code == 404


def test_a_key_with_a_line_break_behind_it_is_none(world: World, phone: Phone) -> None:
    ended(phone, world, f"{KEY}\n")
    assert not ReceiptLink.objects.exists()


def test_papers_are_typeset_ten_times_a_minute_for_one_address(
    client: Client, pickup: UUID, settings: Settings
) -> None:
    client.post(f"/R/{KEY}")
    got = [client.get("/receipt/receipt.pdf").status_code for _ in range(11)]
    assert got == [200] * 10 + [429]


def test_the_key_is_in_no_fact_and_only_its_hash_is_kept(pickup: UUID) -> None:
    assert not [f for f in Fact.objects.all() if KEY in str(f.told)]
    assert len(ReceiptLink.objects.get().key_hash) == 32


def test_links_are_opened_ten_times_a_minute_from_one_address(
    client: Client, pickup: UUID, settings: Settings
) -> None:
    assert [client.post(f"/R/{OTHER}").status_code for _ in range(11)] == [404] * 10 + [429]


def test_on_paper_it_says_the_same_in_both_languages(client: Client, pickup: UUID) -> None:
    client.post(f"/R/{KEY}")
    answer = client.get("/receipt/receipt.pdf")
    assert answer.headers["Content-Type"] == "application/pdf"
    spanish, english = words_of(answer.content)
    assert "Recibo" in spanish
    assert "Contadas; estado sujeto a inspección en planta." in spanish
    assert "Firmado por R. Amsel. La lista se leyó en español." in spanish
    assert "Counted; condition subject to plant inspection." in english
    assert "Signed by R. Amsel. The list was read in Spanish." in english


def test_paper_lists_what_stays_with_the_caution_and_why_nobody_signed(
    world: World, phone: Phone, client: Client
) -> None:
    pickup = uuid4()
    left = phone.enter(
        "custody.leave_here",
        {
            "pickup": str(pickup),
            "yard": str(world.yard.uid),
            "size": "11R22.5",
            "findings": [{"zone": "crown", "kind": "cord"}],
        },
    )
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "left": [left["id"]]}
    payload |= {"refused": "count", "unsigned": "#strong[they say *two*]", "receipt_key": KEY}
    phone.enter("custody.finish_pickup", payload, version=5)
    assert phone.push().status == 200
    client.post(f"/R/{KEY}")
    english, spanish = words_of(client.get("/receipt/receipt.pdf").content)
    assert "Left with you, not taken: 1 11R22.5" in english
    assert "WARNING" in english.upper()
    assert "Not signed: they dispute the count: #strong[they say *two*]" in english
    assert "Sin firma: no aceptan la cuenta: #strong[they say *two*]" in spanish


def test_while_its_list_is_in_doubt_nothing_of_it_is_shown(
    world: World, phone: Phone, client: Client, pickup: UUID
) -> None:
    phone.pick_up(late := world.a_label(), world.yard.uid, pickup)
    assert phone.push().status == 200
    client.post(f"/R/{KEY}")
    page = text(client.get("/receipt/"))
    assert "Todavía se revisa" in page
    assert late not in page
    assert client.get("/receipt/receipt.pdf").status_code == 404


def test_a_customer_reads_his_own_receipts_and_no_other(
    world: World, enrol: Enrol, pickup: UUID, opened: Opened
) -> None:
    for customer, page, paper in ((world.customer, 200, 200), (world.other_customer, 404, 404)):
        browser = opened(customer)
        assert browser.get(f"/casings/receipts/{pickup}").status_code == page
        assert browser.get(f"/casings/receipts/{pickup}.pdf").status_code == paper
