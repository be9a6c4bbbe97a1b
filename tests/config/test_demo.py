"""The demo: loaded once, whole, only into the database that the supervisor starts."""

import html
import io
import itertools
import json
import os
import re
import shlex
import subprocess
from uuid import uuid4

import pytest
from django.conf import settings as settings_module
from django.core import mail
from django.core.management import CommandError, call_command
from django.test import Client
from pytest_django import Settings

from pickups.casings.models import WorkOrder
from pickups.config.demo import data
from pickups.custody.models import Delivery, Fact, Pickup
from pickups.customers import queries as customers
from pickups.customers.models import Contact, Customer
from pickups.journal import queries as journal
from pickups.journal import services as journal_services
from pickups.labels import queries as labels
from pickups.notices.models import Line
from pickups.people.models import Device, Site, User
from pickups.questions.models import Question
from plant.dock.models import TreadTarget
from tests.conftest import in_process
from tests.world import Phone
from tests.world.phone import Reply

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
    casings = sum(len(pickup["casings"]) for pickup in data("history")["pickups"])
    assert WorkOrder.objects.count() == casings + 3  # and those of this morning
    assert casings >= 100
    assert Pickup.objects.count() == len(data("history")["pickups"])
    assert Delivery.objects.count() >= 20
    progress = set(WorkOrder.objects.values_list("progress", flat=True))
    assert progress == {"picked_up", "received", "in_work", "shipped", "returned"}
    assert WorkOrder.objects.filter(contested=True).count() == 2
    assert WorkOrder.objects.filter(on_hold=True).count() == 2
    kinds = sorted(Question.objects.filter(settled_at=None).values_list("kind", flat=True))
    assert kinds == ["count_differs", "disputed", "label_contested", "version_unknown"]


def test_the_office_of_the_demo_shows_what_went_otherwise(demo: None, client: Client) -> None:
    client.force_login(User.objects.get(username="petra"))
    page = words_of(client, "/office/disputes/")
    assert "South yard of Hollin Ridge Freight" in page
    assert "Night dock of Alderbrook Milk Haulers" in page
    assert "Petra Lindholt" in page
    page = words_of(client, "/office/unclaimed/")
    assert "Spoke with their yard office: the flatbed comes on Friday." in page
    assert "Junia Pell had a notice sent" in page
    trailers = Pickup.objects.exclude(trailer=None)
    assert sorted(bool(pickup.emptied) for pickup in trailers) == [False, True]
    assert Pickup.objects.get(refused="authority").unsigned.startswith("Only the pit boss signs")


def words_of(client: Client, address: str) -> str:
    """A page as it is read."""
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", answer.content.decode())).split())


def test_five_fleets_of_the_demo_ask_different_things_and_a_yard_asks_its_own(demo: None) -> None:
    standing = customers.specifications_standing()
    general = [s for s in standing if s.yard is None]
    assert len({s.customer for s in general}) == 5
    assert len({repr(s.terms) for s in standing}) == len(standing) == 6
    (own,) = (s for s in standing if s.yard is not None)
    assert max(s.number for s in general if s.customer == own.customer) == 2


def test_every_contact_of_the_demo_is_at_an_address_that_reaches_nobody(demo: None) -> None:
    """RFC 2606, section 3: .example is never a real domain."""
    assert Contact.objects.exists()
    assert not Contact.objects.exclude(email__endswith=".example").exists()


def test_the_demos_plant_wants_something_of_some_treads_and_says_that_it_is_invented(
    demo: None,
) -> None:
    rows = list(TreadTarget.objects.all())
    assert {row.tread_design for row in rows} == {"open shoulder drive", "trailer rib"}
    assert all("Invented" in row.sheet for row in rows)


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
        first = one["where"].split()[0]
        assert answer.headers["Location"] == first
        assert browser.get(first).status_code == 200
        assert (browser.get("/admin/").status_code == 200) is ("/admin/" in one["where"])


def test_the_labels_that_are_told_were_printed_and_nobody_has_used_them(demo: None) -> None:
    def told() -> list[str]:
        return re.findall(r"\b[A-Z][0-9A-Z]{7}\b", command("load_demo", "--sign-ins"))

    first = told()
    assert len(set(first)) == 3
    assert labels.printed(first) == set(first)
    assert not Fact.objects.filter(label__in=first).exists()
    key = command("plant_key", "--plant", "Marrowgate plant", "--name", "trial").strip()
    assert an_event(key, first[0]).status == 200
    assert set(told()) & set(first) == set(first[1:])


def an_event(key: str, label: str) -> Reply:
    body = {"id": str(uuid4()), "label": label, "station": "receiving", "outcome": "received",
            "happened_at": "2026-04-14T13:40:07.250Z"}  # fmt: skip
    headers = {"Content-Type": "application/json", "Authorization": f"Key {key}"}
    return in_process("POST", "/api/plant/events", json.dumps(body).encode(), headers)


OURS = "http://localhost:8000"

# Stands where curl would: says what it was given and what was piped into it, and calls nobody.
CURL = """curl() {
  printf '%s\\0' "$@"
  case " $* " in *" @- "*) cat ;; esac
  printf '\\0\\036'
}
"""


def asked(call: str) -> Reply:
    """What one command of curl asks for, asked in this process."""
    *given, piped, _ = call.split("\0")
    after = list(itertools.pairwise(given))
    headers = dict(word.split(": ", 1) for flag, word in after if flag == "-H")
    method = next((word for flag, word in after if flag == "-X"), "GET")
    data = next((word for flag, word in after if flag in ("-d", "--data-binary")), "")
    (path,) = (w.removeprefix(OURS) for w in given if w.startswith(OURS))
    return in_process(method, path, (piped if data == "@-" else data).encode(), headers)


def test_the_readmes_words_to_a_plant_are_true(demo: None) -> None:
    """Its commands are run as they stand; the two programs they call are ours here."""
    text = (settings_module.BASE_DIR / "README.md").read_text().split("## A plant's system")[1]
    block = text.split("## ")[0]
    lines = [line[4:] for line in block.splitlines() if line.startswith("    ")]
    command_line = next(line for line in lines if line.startswith("PLANT_KEY="))
    label = re.findall(r"\b[A-Z][0-9A-Z]{7}\b", command("load_demo", "--sign-ins"))[0]
    key = command(*shlex.split(command_line.split("manage.py ")[1].rstrip(")"))).strip()
    script = "\n".join(line for line in lines if not line.startswith(("PLANT_KEY=", "LABEL=")))
    said = subprocess.run(
        ["bash", "-euc", CURL + script],
        env={**os.environ, "PLANT_KEY": key, "LABEL": label},
        capture_output=True,
        check=True,
    ).stdout.decode()
    calls = said.split("\036")[:-1]
    answers = [asked(call) for call in (calls[0], *calls)]
    refused = [(a.status, a.body) for a in answers if a.status != 200]
    assert len(calls) == block.count("curl ")
    assert not refused
    assert b'"repeat"' not in answers[0].body
    assert b'"repeat":true' in answers[1].body.replace(b" ", b"")


def test_what_the_demo_owes_is_told_without_a_failure(demo: None) -> None:
    while journal_services.drain():
        pass
    assert (journal.owed(), journal.given_up()) == (0, 0)
    # A receipt a contact of each pickup whose labels are sure: the two contested ones wait.
    contacts = {fleet["name"]: len(fleet["contacts"]) for fleet in data("dealer")["fleets"]}
    sure = [
        pickup
        for pickup in data("history")["pickups"]
        if not any(casing.get("contested") for casing in pickup["casings"])
    ]
    told = [m for m in mail.outbox if m.subject.startswith(("Receipt", "Recibo"))]
    handed = ("delivered at", "fetched at", ", entrega en")
    back = [m for m in told if any(said in m.subject for said in handed)]
    receipts = [m for m in told if m not in back]
    assert len(receipts) == sum(contacts[pickup["fleet"]] for pickup in sure)
    owners = dict(Customer.objects.values_list("uid", "name"))
    over = Delivery.objects.values_list("customer", flat=True)
    assert len(back) == sum(contacts[owners[uid]] for uid in over if uid)
    assert not any("Sallow" in m.body for m in mail.outbox)
    # What stands of casings that are not back is told as well, of none twice to anybody.
    others = [m for m in mail.outbox if m not in told]
    assert {w for m in others for w in ("rejected", "ready") if w in m.subject} == {
        "rejected",
        "ready",
    }
    assert set(Line.objects.values_list("place", flat=True)) == {1}


def test_a_fresh_code_enrols_a_phone_that_sees_the_store(demo: None) -> None:
    code = command("enrol_code", "--site", "Marrowgate store").split()[0]
    driver = User.objects.get(username="teodor")
    phone = Phone(in_process, driver.uid)
    assert phone.enrol(code).status == 200
    with pytest.raises(CommandError, match="allowed: Ellery Cross store, Marrowgate plant"):
        command("enrol_code", "--site", "Nowhere")


def test_a_plant_key_made_by_the_command_posts_an_event(demo: None) -> None:
    key = command("plant_key", "--plant", "Marrowgate plant", "--name", "trial").strip()
    assert an_event(key, "K72K54X2").status == 200
    with pytest.raises(CommandError, match="allowed: Marrowgate plant"):
        command("plant_key", "--plant", "Marrowgate store", "--name", "trial")
