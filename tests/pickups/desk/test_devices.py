"""Phones as the office sees them: enrolled, closed, shut out."""

import re
from datetime import timedelta
from uuid import uuid4

import pytest
import zxingcpp
from django.test import Client
from PIL import Image, ImageDraw

from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import Device, EnrolmentCode
from tests.conftest import Enrol, in_process
from tests.pickups.desk.conftest import SignedIn
from tests.world import Phone, World


def row(page: str, name: str = "phone") -> str:
    return next(r for r in page.split("<tr")[2:] if f">{name}</th>" in r)


def shown_code(office: Client, world: World) -> str:
    body = {"site": str(world.store.uid)}
    return office.post("/office/devices/enrol", body, follow=True).content.decode()


def test_a_code_shown_by_the_office_enrols_a_phone(office: Client, world: World) -> None:
    answer = office.post("/office/devices/enrol", {"site": str(world.store.uid)}, follow=True)
    assert "no-store" in answer.headers["Cache-Control"]
    page = answer.content.decode()
    found = re.search(r'data-testid="code">([^<]+)<', page)
    assert found is not None
    phone = Phone(in_process, world.driver.uid)
    assert phone.enrol(found.group(1)).status == 200
    assert Device.objects.get(uid=phone.uid).site == world.store


def test_the_qr_opens_the_app_with_the_code(office: Client, world: World) -> None:
    page = shown_code(office, world)
    side = int(re.findall(r'viewBox="0 0 (\d+)', page)[0])
    image = Image.new("L", (side * 4, side * 4), 255)
    draw = ImageDraw.Draw(image)
    for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", page):
        left, top = int(x) * 4, int(y) * 4
        draw.rectangle((left, top, left + 3, top + 3), fill=0)
    read = [found.text for found in zxingcpp.read_barcodes(image)]
    code = re.findall(r'data-testid="code">([^<]+)<', page)[0].replace("\u2009", "")
    assert read == [f"http://localhost:8000/app/#enrol={code}"]


def test_loading_the_codes_page_again_makes_no_second_code(office: Client, world: World) -> None:
    first = shown_code(office, world)
    again = office.get("/office/devices/code")
    assert again.status_code == 200
    assert again.content.decode().split("<main")[1] == first.split("<main")[1]
    assert EnrolmentCode.objects.count() == 1


def test_the_codes_page_has_a_link_and_keeps_its_place_when_the_language_changes(
    office: Client, world: World
) -> None:
    page = shown_code(office, world)
    code = re.findall(r'data-testid="code">([^<]+)<', page)[0].replace("\u2009", "")
    link = f'<a href="http://localhost:8000/app/#enrol={code}">http://localhost:8000/app/</a>'
    assert link in page
    assert 'name="next" value="/office/devices/code"' in page
    body = {"language": "es", "next": "/office/devices/code"}
    spanish = office.post("/office/language", body, follow=True).content.decode()
    assert "escriba el código" in spanish
    assert code in spanish.replace("\u2009", "")


def test_a_code_that_was_used_or_has_run_out_is_shown_no_longer(
    office: Client, world: World
) -> None:
    for over in ({"used_at": clock.now()}, {"expires_at": clock.now()}):
        shown_code(office, world)
        EnrolmentCode.objects.update(**over)
        page = office.get("/office/devices/code", follow=True).content.decode()
        assert "That code was used or has run out." in page
        assert 'data-testid="code"' not in page
        assert "enrolment" not in office.session
        EnrolmentCode.objects.all().delete()


def test_a_code_is_shown_to_whoever_made_it_only(
    office: Client, signed_in: SignedIn, world: World
) -> None:
    shown_code(office, world)
    assert signed_in("admin").get("/office/devices/code").headers["Location"] == "/office/devices"


@pytest.mark.parametrize("site", ["", "nowhere", "0196f0b2-5e0a-7c11-9d57-3f6f2f0c8a11"])
def test_a_code_is_for_a_site_that_there_is(office: Client, world: World, site: str) -> None:
    answer = office.post("/office/devices/enrol", {"site": site})
    assert answer.status_code == 400
    assert "Choose one of the stores" in answer.content.decode()
    assert not EnrolmentCode.objects.exists()


def test_a_phone_that_skipped_a_number_is_missing_an_entry(
    office: Client, world: World, enrol: Enrol
) -> None:
    phone = enrol()
    assert "never sent anything" in row(office.get("/office/devices").content.decode())
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.sequence += 2
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.push()
    assert "2 entries of the phone have not arrived" in row(
        office.get("/office/devices").content.decode()
    )


@pytest.mark.parametrize(
    ("ahead", "said"),
    [
        (timedelta(days=3), "3 days ahead"),
        (timedelta(hours=-5), "5 h behind"),
        (timedelta(seconds=5), "right"),
    ],
)
def test_a_clock_that_is_off_is_told_in_words(
    office: Client, world: World, enrol: Enrol, ahead: timedelta, said: str
) -> None:
    phone = enrol()
    phone.ahead = ahead
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.push()
    assert f'data-term="Its clock">{said}<' in row(office.get("/office/devices").content.decode())


def test_a_new_store_and_a_number_used_twice_are_said(
    office: Client, world: World, enrol: Enrol
) -> None:
    phone = enrol()
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.push()
    phone.sequence = 0
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.push()
    phone.incarnation = uuid4()
    phone.sequence = 0
    phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.push()
    shown = row(office.get("/office/devices").content.decode())
    assert "new, empty store" in shown
    assert "two entries with one number" in shown


def test_a_phone_is_closed_after_it_was_asked(office: Client, phone: Phone) -> None:
    asked = office.get(f"/office/devices/{phone.uid}/close")
    assert "may still send what it holds" in asked.content.decode()
    assert Device.objects.get().status == "active"
    assert office.post(f"/office/devices/{phone.uid}/close").status_code == 302
    assert Device.objects.get().status == "closing"
    assert phone.pull().status == 403
    assert phone.push().status == 200


def test_a_lost_phone_is_shut_out_at_once_and_closing_does_not_let_it_in(
    office: Client, phone: Phone
) -> None:
    assert office.post(f"/office/devices/{phone.uid}/revoke").status_code == 302
    assert phone.push().status == 401
    office.post(f"/office/devices/{phone.uid}/close")
    assert Device.objects.get().status == "revoked"
    assert phone.push().status == 401


def test_an_unknown_phone_is_not_there(office: Client) -> None:
    assert office.get(f"/office/devices/{uuid4()}/close").status_code == 404
    assert office.post(f"/office/devices/{uuid4()}/revoke").status_code == 404


def test_a_sales_manager_sees_phones_and_cannot_end_one(signed_in: SignedIn, phone: Phone) -> None:
    browser = signed_in("sales")
    page = browser.get("/office/devices").content.decode()
    assert "phone" in page
    assert "Lost or stolen" not in page
    assert browser.post(f"/office/devices/{phone.uid}/revoke").status_code == 403
    assert Device.objects.get().status == "active"


def test_the_office_reads_until_when_and_that_nothing_is_left(
    office: Client, world: World, enrol: Enrol
) -> None:
    phone = enrol()
    people.close_device(uid=phone.uid)
    assert "fetches nothing, until" in office.get("/office/devices").content.decode()
    people.hear_standing(uid=phone.uid, waits=0)
    assert "nothing is left on it" in office.get("/office/devices").content.decode()
    Device.objects.update(closed_at=clock.now() - timedelta(days=15))
    page = office.get("/office/devices").content.decode()
    assert "out of use" in page
    assert f"/office/devices/{phone.uid}/revoke" not in page
