"""The life of a label, its pictures, and the page behind its QR."""

import hashlib
import io
import json
from datetime import timedelta
from uuid import UUID, uuid4

import pytest
from django.test import Client
from PIL import Image

from pickups.kernel.clock import rfc3339
from tests.pickups.desk.conftest import Contested, SignedIn
from tests.world import Phone, World

SOUND = "K72K54X2"


def post_event(world: World, phone: Phone, label: str, **more: object) -> None:
    at = rfc3339(phone.clock() + timedelta(minutes=1))
    body = {"id": str(uuid4()), "label": label, "happened_at": at, "station": "receiving",
            "outcome": "received", **more}  # fmt: skip
    headers = {"Content-Type": "application/json", "Authorization": f"Key {world.plant_key}"}
    reply = phone.door("POST", "/api/plant/events", json.dumps(body).encode(), headers)
    assert reply.status == 200, reply.body


def test_the_life_of_a_label_is_told_in_sentences(
    office: Client, world: World, phone: Phone
) -> None:
    label = world.a_label()
    phone.pick_up(label, world.yard.uid, uuid4(), size="11R22.5", tread_32nds=[6, 7])
    phone.push()
    post_event(world, phone, label)
    post_event(
        world,
        phone,
        label,
        station="initial-inspection",
        outcome="rejected",
        reason="SW_CUT",
        cause="casing",
        operator="07",
        findings=[{"zone": "sidewall", "kind": "cut", "size_mm": 38}],
    )
    page = office.get(f"/office/labels/{label}").content.decode()
    told = [
        "We printed it.",
        "Picked up at North yard of Tarn Valley Haulage: Dale Orrin ",
        "Handed to Fernhollow plant: receiving ",
        "Rejected: initial inspection, Fernhollow plant, operator 07.",
        "Reason: a cut or scrape in the sidewall down to the cord, or 2/32 inch deep. · sidewall",
        " · sidewall · Cause: the casing&#x27;s own.",
        "<strong>rejected</strong>",
        'class="bar"',
    ]
    assert [line for line in told if line not in page] == []
    assert page.index("Picked up at") < page.index("Handed to") < page.index("Rejected:")


def test_both_clocks_are_shown_where_they_differ(
    office: Client, world: World, phone: Phone
) -> None:
    label = world.a_label()
    phone.ahead = timedelta(days=-3)
    phone.pick_up(label, world.yard.uid, uuid4())
    phone.push()
    page = office.get(f"/office/labels/{label}").content.decode()
    assert "recorded " in page
    assert "the phone&#x27;s clock was 3 days behind" in page
    on_time = world.a_label()
    phone.ahead = timedelta()
    phone.pick_up(on_time, world.yard.uid, uuid4())
    phone.push()
    assert "recorded " not in office.get(f"/office/labels/{on_time}").content.decode()


def test_a_correction_to_another_label_is_told_under_both(
    office: Client, world: World, phone: Phone
) -> None:
    old, new, pickup = world.a_label(), world.a_label(), uuid4()
    first = phone.pick_up(old, world.yard.uid, pickup)
    corrects = {"fact": first["id"], "label": old}
    phone.pick_up(new, world.yard.uid, pickup, corrects=corrects)
    phone.push()
    grouped = f"the label is {new[:4]}\u2009{new[4:]}, not {old[:4]}\u2009{old[4:]}"
    assert grouped in office.get(f"/office/labels/{old}").content.decode()
    assert "Told again by Dale Orrin" in office.get(f"/office/labels/{new}").content.decode()


def test_in_spanish_stations_corrections_and_notes_are_said_in_spanish(
    signed_in: SignedIn, world: World, phone: Phone
) -> None:
    label, pickup = world.a_label(), uuid4()
    first = phone.pick_up(label, world.yard.uid, pickup)
    corrects = {"fact": first["id"], "label": label}
    phone.pick_up(label, world.yard.uid, pickup, note="wet", corrects=corrects)
    phone.push()
    post_event(world, phone, label)
    post_event(world, phone, label, station="final-ndt", outcome="passed")
    page = signed_in(language="es").get(f"/office/labels/{label}").content.decode()
    told = ["Entregada a Fernhollow plant: recepción ", "Pasó: prueba no destructiva final,",
            "Corregida por Dale Orrin.", "«wet»"]  # fmt: skip
    assert [line for line in told if line not in page] == []
    assert "“" not in page
    assert "“wet”" in signed_in().get(f"/office/labels/{label}").content.decode()


def test_a_contested_label_wears_the_ring(office: Client, contested: Contested) -> None:
    page = office.get(f"/office/labels/{contested.label}").content.decode()
    assert "Two casings wear this label." in page
    assert page.count('class="ring"') == 2
    assert page.count("open question") == 4


def test_what_the_plant_told_first_waits_in_sight(
    office: Client, world: World, phone: Phone
) -> None:
    label = world.a_label()
    post_event(world, phone, label)
    assert "no pickup has arrived" in office.get(f"/office/labels/{label}").content.decode()


def test_a_label_nobody_spoke_of_says_so(office: Client) -> None:
    page = office.get(f"/office/labels/{SOUND}").content.decode()
    assert "Nobody has told anything about this label." in page
    assert "we did not print it" in page


@pytest.mark.parametrize(
    "typed", ["k72k 54x2", "K72K-54X2", "https://elsewhere.example/L/k72k54x2?x=1", " K72K54XZ "]
)
def test_a_label_is_found_however_it_is_written(office: Client, typed: str) -> None:
    answer = office.get("/office/labels", {"q": typed})
    assert (answer.status_code, answer.headers["Location"]) == (302, f"/office/labels/{SOUND}")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "Type or scan a label first"),
        ("K72K5", "has 5 symbols; a label has eight"),
        ("K72K54X!", "holds a symbol that no label has"),
        ("K72K\x0054X", "holds a symbol that no label has"),
        ("072K54X2", "a label begins with a letter"),
        ("K72K54X3", "its last symbol does not fit"),
        ("<script>", "holds a symbol that no label has"),
        pytest.param("K" * 5000, f"“{'K' * 40}…” has 5000 symbols", id="long"),
        ("banana", "“banana” has 6 symbols"),
        ("banana", "eight.</p>"),
        ("k72k-54x3", "“k72k-54x3” is not a label"),
        ("k72k-54x3", "Look at the label again.</p>"),
        ("K72KS4X3", "“K72KS4X3” is not a label"),
        ("K72KS4X3", "It was read as K72K54X3.</p>"),
        ("https://elsewhere.example/L/K72", "It was read as K72.</p>"),
    ],
)
def test_what_is_wrong_with_a_label_is_told_apart(office: Client, typed: str, said: str) -> None:
    answer = office.get("/office/labels", {"q": typed})
    assert answer.status_code == 400
    assert said in answer.content.decode()
    assert "<script>" not in answer.content.decode()


def test_an_address_that_is_no_label_is_not_there(office: Client) -> None:
    assert office.get("/office/labels/K72K54X3").status_code == 404
    assert office.get("/office/labels/k72k54x2").status_code == 302


def with_photo(world: World, phone: Phone) -> UUID:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "#446").save(out, "JPEG")
    sha256 = hashlib.sha256(out.getvalue()).hexdigest()
    headers = {"Content-Type": "image/jpeg", "Cookie": f"__Host-yardloop_push={phone.push_secret}"}
    assert phone.door("PUT", f"/api/photos/{sha256}", out.getvalue(), headers).status == 200
    fact = phone.pick_up(world.a_label(), world.yard.uid, uuid4(), photos=[sha256, "0" * 64])
    phone.push()
    return UUID(fact["id"])


def test_a_photo_is_served_through_its_record_and_kept_by_nobody(
    office: Client, world: World, phone: Phone
) -> None:
    fact = with_photo(world, phone)
    answer = office.get(f"/office/photos/{fact}/1")
    assert (answer.status_code, answer.headers["Content-Type"]) == (200, "image/jpeg")
    assert "no-store" in answer.headers["Cache-Control"]
    assert Image.open(io.BytesIO(answer.content)).size == (40, 30)
    for missing in (f"{fact}/0", f"{fact}/2", f"{fact}/3", f"{uuid4()}/1"):
        assert office.get(f"/office/photos/{missing}").status_code == 404


def test_a_page_that_is_no_photo_keeps_the_whole_policy(
    signed_in: SignedIn, world: World, phone: Phone
) -> None:
    """A bare picture is styled by the browser itself; a page of ours is not."""
    fact = with_photo(world, phone)
    picture = signed_in().get(f"/office/photos/{fact}/1").headers["Content-Security-Policy"]
    assert "style-src 'unsafe-inline'" in picture
    assert "script-src" not in picture
    assert "default-src 'none'" in picture
    for answer in (
        signed_in("driver").get(f"/office/photos/{fact}/1"),
        signed_in().get(f"/office/photos/{fact}/3"),
    ):
        policy = answer.headers["Content-Security-Policy"]
        assert "style-src 'self'" in policy
        assert "unsafe-inline" not in policy


def test_the_icon_that_every_browser_asks_for_is_the_strokes(client: Client) -> None:
    answer = client.get("/favicon.ico")
    assert (answer.status_code, answer.headers["Content-Type"]) == (200, "image/svg+xml")
    assert answer.content.count(b"<path") == 5


def test_a_photo_is_for_the_office_only(
    signed_in: SignedIn, client: Client, world: World, phone: Phone
) -> None:
    fact = with_photo(world, phone)
    assert client.get(f"/office/photos/{fact}/1").status_code == 302
    assert signed_in("driver").get(f"/office/photos/{fact}/1").status_code == 403


def test_the_page_behind_a_qr_is_the_same_bytes_for_every_label(
    signed_in: SignedIn, client: Client, contested: Contested
) -> None:
    known, printed = contested.label, SOUND
    pages = {
        client.get(f"/L/{text}").content
        for text in (known, printed, "K72K54X3", "", "a/b/c", "%00", "x" * 2000)
    }
    pages.add(signed_in(language="es").get(f"/L/{known}").content)
    assert len(pages) == 1
    page = pages.pop().decode()
    assert "Property of a customer of this dealer. Call this number." in page
    assert "555 0100" in page
    assert "<script" not in page
    assert 'href="/office' not in page


def test_the_page_behind_a_qr_costs_no_session_and_no_query(
    client: Client, contested: Contested, django_assert_num_queries: object
) -> None:
    with django_assert_num_queries(0):  # type: ignore[operator]
        answer = client.get(f"/L/{contested.label}")
    assert "Set-Cookie" not in answer.headers
    assert client.post(f"/L/{contested.label}").status_code == 405
