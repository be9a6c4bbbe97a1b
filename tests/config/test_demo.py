"""The demo: loaded once, whole, only into the database that the supervisor starts."""

import io
import json

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.test import Client
from pytest_django import Settings

from pickups.casings.models import WorkOrder
from pickups.config.demo import data
from pickups.custody.models import Fact, Pickup
from pickups.customers.models import Contact, Customer
from pickups.journal import queries as journal
from pickups.journal import services as journal_services
from pickups.people.models import Device, Site, User
from pickups.questions.models import Question
from tests.conftest import in_process
from tests.world import Phone

pytestmark = pytest.mark.django_db


def command(*words: str) -> str:
    out = io.StringIO()
    call_command(*words, stdout=out)
    return out.getvalue()


@pytest.fixture
def demo(settings: Settings, tmp_path: object) -> None:
    settings.EMBEDDED_DATABASE = True
    assert "are loaded" in command("load_demo")


def test_the_demo_fills_the_office(demo: None) -> None:
    assert (Site.objects.count(), Customer.objects.count()) == (3, 12)
    assert WorkOrder.objects.count() == 28
    assert Pickup.objects.count() == 7
    progress = set(WorkOrder.objects.values_list("progress", flat=True))
    assert progress == {"picked_up", "received", "in_work", "rejected", "finished", "shipped"}
    assert WorkOrder.objects.filter(contested=True).count() == 2
    assert WorkOrder.objects.filter(on_hold=True).count() == 1
    kinds = sorted(Question.objects.filter(settled_at=None).values_list("kind", flat=True))
    assert kinds == ["count_differs", "label_contested", "version_unknown"]


def test_every_contact_of_the_demo_is_at_an_address_that_reaches_nobody(demo: None) -> None:
    """RFC 2606, section 3: .example is never a real domain."""
    assert Contact.objects.exists()
    assert not Contact.objects.exclude(email__endswith=".example").exists()


def test_loading_twice_changes_nothing(demo: None) -> None:
    before = (Fact.objects.count(), User.objects.count(), Device.objects.count())
    assert "nothing was changed" in command("load_demo")
    assert (Fact.objects.count(), User.objects.count(), Device.objects.count()) == before


def test_a_named_database_gets_no_demo(settings: Settings) -> None:
    settings.EMBEDDED_DATABASE = False
    with pytest.raises(CommandError, match="nothing was written"):
        command("load_demo")
    with pytest.raises(CommandError):
        command("load_demo", "--sign-ins")
    assert not User.objects.exists()


def test_the_sign_ins_are_told_and_open_what_they_say(demo: None) -> None:
    told = command("load_demo", "--sign-ins")
    for one in data("sign_ins"):
        assert one["user"] in told
        assert one["password"] in told
        browser = Client()
        typed = {"user": one["user"], "password": one["password"]}
        answer = browser.post("/office/sign-in", typed)
        assert answer.headers["Location"] == "/office/"
        assert browser.get("/office/").status_code == 200
        assert (browser.get("/admin/").status_code == 200) is ("/admin/" in one["where"])


def test_what_the_demo_owes_is_told_without_a_failure(demo: None) -> None:
    while journal_services.drain():
        pass
    assert (journal.owed(), journal.given_up()) == (0, 0)
    # A receipt a contact of each pickup whose labels are sure: the two contested ones wait.
    assert len(mail.outbox) == 6
    assert not any("Quillby" in m.body or "Sallow" in m.body for m in mail.outbox)


def test_a_fresh_code_enrols_a_phone_that_sees_the_store(demo: None) -> None:
    code = command("enrol_code", "--site", "Marrowgate store").split()[0]
    driver = User.objects.get(username="teodor")
    phone = Phone(in_process, driver.uid)
    assert phone.enrol(code).status == 200
    with pytest.raises(CommandError, match="allowed: Ellery Cross store, Marrowgate plant"):
        command("enrol_code", "--site", "Nowhere")


def test_a_plant_key_made_by_the_command_posts_an_event(demo: None) -> None:
    key = command("plant_key", "--plant", "Marrowgate plant", "--name", "trial").strip()
    body = {"id": "01963b1c-7a00-7c3e-8d21-5a0f3c6e0001", "label": "K72K54X2",
            "station": "receiving", "outcome": "received",
            "happened_at": "2026-04-14T13:40:07.250Z"}  # fmt: skip
    headers = {"Content-Type": "application/json", "Authorization": f"Key {key}"}
    reply = in_process("POST", "/api/plant/events", json.dumps(body).encode(), headers)
    assert reply.status == 200
    with pytest.raises(CommandError, match="allowed: Marrowgate plant"):
        command("plant_key", "--plant", "Marrowgate store", "--name", "trial")
