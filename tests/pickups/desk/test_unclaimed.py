"""Casings that wait for their owners, at the office: the longest first, their steps, a decision."""

import html
import re
from typing import Any

import psycopg
import pytest
from django.conf import settings
from django.db import connection
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.kernel.locks import label_key
from tests.pickups.custody.test_reminding import remind, waits
from tests.pickups.desk.conftest import SignedIn
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def page(client: Client, language: str = "en") -> str:
    answer = client.get("/office/unclaimed/", headers={"Accept-Language": language})
    assert answer.status_code == 200
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode())))


def decide(client: Client, **said: Any) -> Any:
    typed = {"decision": "keep", "grounds": "They move in June", "until": "2031-01-31"}
    return client.post("/office/unclaimed/decide", {**typed, **said})


def grouped(label: str) -> str:
    return f"{label[:4]} {label[4:]}"  # as the page is read here


def test_what_waits_is_shown_with_what_was_done_and_what_is_next(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    label = waits(world, phone, gateway)
    assert "nothing yet" in page(office)
    remind(phone, label, "called", said="Ines: on Friday", until="2031-06-19")
    text = page(office)
    assert grouped(label) in text
    assert "Dale Orrin called until Thu 19 Jun 2031" in text
    assert "Ines: on Friday" in text
    assert "wait until Thu 19 Jun 2031" in text
    assert "differs by state" in text
    assert "common practice, no published source" in text
    spanish = page(office, "es")
    assert "llamó Dale Orrin" in spanish
    assert "práctica común, sin fuente publicada" in spanish


def test_a_decision_is_noted_with_its_grounds_and_nothing_else_changes(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    label = waits(world, phone, gateway)
    before = WorkOrder.objects.get(label=label)
    assert decide(office, label=label).status_code == 302
    text = page(office)
    assert "Noted for 1: keep waiting." in text
    assert "They move in June" in text
    now = WorkOrder.objects.get(label=label)
    assert (now.holder, now.progress, now.customer) == (
        before.holder,
        before.progress,
        before.customer,
    )
    assert now.casing.dealers == ""
    life = office.get(f"/office/labels/{label}").content.decode()
    assert "decided: keep waiting" in life


def test_an_offer_to_buy_leads_to_the_owners_page(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    label = waits(world, phone, gateway)
    answer = decide(office, label=label, decision="buy", until="")
    order = WorkOrder.objects.get(label=label)
    assert answer.headers["Location"] == f"/office/owners/{order.uid}/"
    assert order.casing.dealers == "", "nobody of theirs has accepted yet"


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"label": []}, "Tick at least one casing"),
        ({"decision": "scrap"}, "“scrap” is none"),
        ({"grounds": " "}, "Give the grounds"),
        ({"until": ""}, "is no day from today on"),
        ({"until": "2020-01-01"}, "is no day from today on"),
        ({"until": "9999-12-31"}, "is no day from today on"),
    ],
    ids=["casing", "decision", "grounds", "day", "past", "for ever"],
)
def test_what_cannot_be_decided_is_said_and_what_was_typed_is_kept(
    world: World,
    phone: Phone,
    gateway: Gateway,
    office: Client,
    wrong: dict[str, Any],
    said: str,
) -> None:
    label = waits(world, phone, gateway)
    answer = decide(office, **{"label": label, **wrong})
    assert answer.status_code == 400
    text = html.unescape(answer.content.decode())
    assert said in text
    assert wrong.get("grounds") or "They move in June" in text
    assert "reminders" not in WorkOrder.objects.get(label=label).told


def test_only_who_decides_gets_to_decide(
    world: World, phone: Phone, gateway: Gateway, signed_in: SignedIn
) -> None:
    label, sales = waits(world, phone, gateway), signed_in("sales")
    assert "Note the decision" not in page(sales)
    assert decide(sales, label=label).status_code == 403
    assert "reminders" not in WorkOrder.objects.get(label=label).told


@pytest.mark.django_db(transaction=True)  # the fixtures' own locks have to be gone
def test_a_busy_label_is_said_and_what_was_typed_is_kept(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    label = waits(world, phone, gateway)
    database = settings.DATABASES["default"]
    host, user, name = (str(database[key]) for key in ("HOST", "USER", "NAME"))
    with connection.cursor() as c:
        c.execute("SET lock_timeout = '200ms'")
    try:
        with psycopg.connect(host=host, user=user, dbname=name) as other:
            other.execute("SELECT pg_advisory_xact_lock(%s)", [label_key(label)])
            answer = decide(office, label=label, grounds="typed with care")
    finally:
        with connection.cursor() as c:
            c.execute("SET lock_timeout = '3s'")
    assert answer.status_code == 503
    text = html.unescape(answer.content.decode())
    assert "Somebody is just writing about this label" in text
    assert "typed with care" in text
    assert "reminders" not in WorkOrder.objects.get(label=label).told
    assert decide(office, label=label).status_code == 302


def test_what_a_clock_far_ahead_has_told_breaks_no_page(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    label = waits(world, phone, gateway)
    order = WorkOrder.objects.get(label=label)
    order.told |= {"here_since": "9999-12-30T00:00:00.000Z"}
    order.told |= {"reminders": [{"step": "hold", "at": "9999-12-30T00:00:00.000Z",
                                  "until": "2026-02-31"}]}  # fmt: skip
    order.save(update_fields=["told"])
    assert grouped(label) in page(office)
