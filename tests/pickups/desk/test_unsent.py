"""A phone's saved file at the office: looked at before anything is entered, then entered once."""

import re
from contextlib import nullcontext
from pathlib import Path
from unittest import mock

import pytest
from django.conf import settings
from django.core.exceptions import RequestDataTooBig
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client, RequestFactory

from pickups.custody.models import Fact
from pickups.desk import rules
from pickups.journal.models import Entry
from pickups.kernel import uploads
from pickups.people import services as people
from pickups.people.models import User
from pickups.sync.models import Operation, Photo
from tests.sync.test_photos import folder, name, picture
from tests.sync.test_unsent import key_of, one, plain, seal
from tests.world import Phone, World

__all__ = ["folder"]  # a fixture: photos of a test lie in a folder of their own
PAGE = "/office/devices/unsent"


def bring(office: Client, data: bytes, called: str = "unsent-phone.jwe") -> HttpResponse:
    file = SimpleUploadedFile(called, data)
    answer = office.post(PAGE, {"file": file})
    assert isinstance(answer, HttpResponse)
    return answer


def said(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page.split("<main")[1]))


def test_a_file_is_looked_at_then_entered_and_a_second_time_changes_nothing(
    office: Client, world: World, phone: Phone
) -> None:
    photo = picture()
    one(world, phone, photos=[name(photo)])
    answer = bring(office, seal(plain(phone, photo), key_of(phone)))
    assert answer.status_code == 302
    address = answer.headers["Location"]
    page = said(office.get(address).content.decode())
    assert "phone, Bramblewick store" in page
    assert re.search(r"Entries 1 .*Photos and signatures 1 ", page)
    assert Operation.objects.count() == 0
    came = said(office.post(address, follow=True).content.decode())
    assert "phone: 1 entered, 0 were here before, 1 photos and signatures." in came
    assert (Fact.objects.get().device, Photo.objects.count()) == (phone.uid, 1)
    again = said(office.get(address).content.decode())
    assert "1, 1 of them here already" in again
    assert "All of it is here already" in again
    came = said(office.post(address, follow=True).content.decode())
    assert "phone: 0 entered, 1 were here before" in came
    assert Fact.objects.count() == 1
    by = [entry.body["by"] for entry in Entry.objects.filter(kind="device.unsent_taken")]
    assert by == [str(world.dispatcher.uid)] * 2


def test_the_file_of_a_phone_that_was_shut_out_needs_a_word_for_it(
    office: Client, world: World, phone: Phone
) -> None:
    one(world, phone)
    people.revoke_device(uid=phone.uid)
    address = bring(office, seal(plain(phone), key_of(phone))).headers["Location"]
    refused = office.post(address)
    assert refused.status_code == 400
    assert "tick that its entries are to be taken" in said(refused.content.decode())
    assert Fact.objects.count() == 0
    office.post(address, {"although": "yes"})
    assert Fact.objects.count() == 1
    assert Entry.objects.get(kind="device.unsent_taken").body["revoked"] is True


def test_what_cannot_be_taken_says_why_with_the_files_name(
    office: Client, world: World, phone: Phone
) -> None:
    one(world, phone)
    whole = seal(plain(phone), key_of(phone))
    for data, why in (
        (whole[:-5], "damaged"),
        (b"x", "damaged"),
        (seal(plain(phone, saved=2), key_of(phone)), "newer app"),
    ):
        answer = bring(office, data, "from <truck>.jwe")
        assert answer.status_code == 400
        page = answer.content.decode()
        assert "from &lt;truck&gt;.jwe: " in page
        assert why in page
    none = office.post(PAGE)
    assert (none.status_code, "Choose a file first" in none.content.decode()) == (400, True)
    assert office.get(f"{PAGE}/{'0' * 64}/").status_code == 404
    assert office.get(f"{PAGE}/..%2Fsecret/").status_code == 404
    assert Operation.objects.count() == 0


def test_a_large_file_is_taken_here_only_and_only_from_who_is_signed_in(
    office: Client, world: World, phone: Phone, client: Client, folder: Path
) -> None:
    one(world, phone)
    large = plain(phone, *(picture(size=(40, n)) for n in range(20, 30)))
    whole = seal(large, key_of(phone))
    with mock.patch.object(uploads, "MOST_BYTES", len(whole) - 1):
        assert bring(office, whole).status_code == 302
        list_page = office.post("/office/lists/read", {"file": SimpleUploadedFile("a.csv", whole)})
        assert list_page.status_code == 400
        assert "5 MB" in list_page.content.decode()
    assert bring(client, whole).headers["Location"].startswith("/office/sign-in")


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_pages_speak_both_languages(
    office: Client, world: World, phone: Phone, language: str
) -> None:
    office.post("/office/language", {"language": language})
    one(world, phone)
    address = bring(office, seal(plain(phone), key_of(phone))).headers["Location"]
    words = {"en": "Enter it", "es": "Anotarlo"}
    assert words[language] in office.get(address).content.decode()
    assert ("Look into it" in office.get(PAGE).content.decode()) == (language == "en")


@pytest.mark.parametrize("role", sorted(rules.SEES))
def test_only_who_decides_may_bring_a_file_as_large(role: str, rf: RequestFactory) -> None:
    assert settings.ROOMY_UPLOADS[PAGE][1] == rules.DECIDES
    request = rf.post(PAGE)
    request.user = User(role=role)
    claimed = uploads.MOST_CLAIMED + 1
    doubt = nullcontext() if role in rules.DECIDES else pytest.raises(RequestDataTooBig)
    with doubt:
        uploads.Bounded(request).handle_raw_input(None, {}, claimed, b"")
