"""The dispatcher's list of promises that need somebody, and the telling of new days, over HTTP."""

import html
import re
from datetime import date
from typing import Any
from uuid import UUID

import pytest
from django.test import Client
from pytest_django import Settings

from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.promises import queries
from pickups.promises.models import Forecast, Promise
from pickups.promises.rules import FURTHEST
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.notices.conftest import mail  # noqa: F401 - a fixture
from tests.pickups.promises.forecasting import DAY, back, courses, forecast, trucks_every_day
from tests.pickups.promises.history import delivered, finished
from tests.pickups.promises.promising import drained, sent, taken, today
from tests.world import Phone, World
from tests.world.mail import MailServer
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def trucks(world: World) -> None:
    trucks_every_day(world)


def read(answer: Any) -> str:
    body = re.sub(r"<(script|style).*?</\1>", " ", answer.content.decode(), flags=re.DOTALL)
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", body)))


def page(client: Client, language: str = "en") -> str:
    answer = client.get("/office/promises/", headers={"Accept-Language": language})
    assert answer.status_code == 200
    return read(answer)


def listed(client: Client) -> list[str]:
    """The labels on the list, in its order."""
    answer = client.get("/office/promises/").content.decode()
    return re.findall(r'href="/office/labels/(\w{8})"', answer)


def ticks(client: Client) -> dict[str, str]:
    """What a tick beside each casing sends, by work order."""
    answer = client.get("/office/promises/").content.decode()
    return {seen[:36]: seen for seen in re.findall(r'name="seen" value="([^"]+)"', answer)}


def tell(client: Client, *seen: str, on: str = "") -> Any:
    return client.post("/office/promises/tell", {"seen": list(seen), "on": on})


def label(op: dict[str, Any]) -> str:
    return str(op["payload"]["label"])


def words(on: date) -> str:
    return day_in_words("en", on)


def stands(op: dict[str, Any]) -> Promise:
    return queries.standing([UUID(op["id"])])[UUID(op["id"])]


# --- The list -------------------------------------------------------------------------------------


def test_what_is_past_its_day_at_risk_or_finished_and_late_is_listed_the_nearest_first(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    risky = taken(phone, world, back(3))
    broken = taken(phone, world, today() - DAY, on=today() - 9 * DAY)
    late = taken(phone, world, today())
    taken(phone, world, back(8))
    in_time = taken(phone, world, today() + 2 * DAY)
    sent(phone)
    for op in (late, in_time):
        finished(gateway, op, today())
    drained()
    forecast(world, (risky, courses(on={3: 20, 5: 80})))
    assert listed(office) == [label(op) for op in (broken, late, risky)]
    text = page(office)
    assert "Need somebody: 3. Past their day: 1." in text
    assert "At risk: 20 % likely on that day" in text
    assert "Finished, and late the truck brings it on" in text
    assert words(back(5)) in text
    assert "En riesgo: 20 % probable para ese día" in page(office, "es")
    assert "Promises at risk or past their day: 3" in read(office.get("/office/"))


def test_it_says_whom_to_call_where_it_is_and_why(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    contact = world.customer.contacts.get()
    contact.phone = "555 0134"
    contact.save()
    op = taken(phone, world, back(3))
    sent(phone)
    gateway.tell(label(op), "received", station="receiving")
    gateway.tell(label(op), "repair", station="final-inspection", again_at="buffing")
    forecast(world, (op, [6]))
    text = page(office)
    assert f"Call {contact.name}, 555 0134" in text
    assert "sent back to be worked again" in text
    assert "Fernhollow plant, final inspection" in text
    assert "no e-mail: call" not in text
    world.customer.contacts.update(wants_progress=False)
    assert "no e-mail: call" in page(office)


def test_nothing_is_listed_of_what_is_back_rejected_another_store_s_or_lies_ready(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    yesterday = today() - DAY
    ops = [taken(phone, world, yesterday, on=today() - 9 * DAY) for _ in range(2)]
    ready = taken(phone, world, yesterday, on=today() - 9 * DAY, back_to="store")
    sent(phone)
    finished(gateway, ops[0], yesterday)
    delivered(phone, world, ops[0], today())
    gateway.tell(label(ops[1]), "rejected")
    finished(gateway, ready, yesterday)
    assert label(ready) in listed(office)
    out = {"label": label(ready), "way": "out", "giver": f"plant:{world.plant.uid}"}
    phone.enter("custody.hand_over", out | {"taker": f"site:{world.store.uid}"})
    sent(phone)
    assert listed(office) == []
    assert "No promise needs anybody." in page(office)


def test_a_later_day_that_was_told_and_the_first_that_holds_after_all_is_listed(
    world: World, phone: Phone, office: Client
) -> None:
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world, (op, [6]))
    tell(office, *ticks(office).values())
    assert listed(office) == []
    forecast(world, (op, [2]))
    text = page(office)
    assert "Can be kept as first told" in text
    assert f"first told: {words(back(3))}" in text
    tell(office, *ticks(office).values())
    assert stands(op).on == back(3)


# --- Telling --------------------------------------------------------------------------------------


def test_what_was_ticked_is_told_its_new_day_and_its_owner_is_written_to_at_once(
    world: World,
    phone: Phone,
    office: Client,
    settings: Settings,
    mail: MailServer,  # noqa: F811
) -> None:
    settings.TELLING_BEGINS_HOUR, settings.TELLING_ENDS_HOUR = 0, 0  # a person may at any hour
    ops = [taken(phone, world, back(3)) for _ in range(2)]
    sent(phone)
    forecast(world, *((op, [6]) for op in ops))
    answer = tell(office, ticks(office)[ops[0]["id"]])
    assert answer.status_code == 302
    assert "New day told of 1." in page(office)
    now = stands(ops[0])
    assert (now.on, now.basis, now.by) == (back(6), "forecast", world.dispatcher.uid)
    assert stands(ops[1]).on == back(3)
    assert listed(office) == [label(ops[1])]
    drained()
    (sent_mail,) = [one for one in mail.mails if "ew day" in str(one["Subject"])]
    assert words(back(6)) in str(sent_mail["Subject"])


def test_a_day_can_be_named_by_hand_where_none_is_known(
    world: World, phone: Phone, office: Client
) -> None:
    op = taken(phone, world, today() - DAY, on=today() - 9 * DAY)
    sent(phone)
    answer = tell(office, ticks(office)[op["id"]])
    assert answer.status_code == 400
    assert "no new day is known. Name one" in read(answer)
    assert "checked" in answer.content.decode()
    assert tell(office, ticks(office)[op["id"]], on=str(today() + DAY)).status_code == 302
    now = stands(op)
    assert (now.on, now.basis, now.confidence) == (today() + DAY, "by_hand", None)
    life = read(office.get(f"/office/labels/{label(op)}"))
    assert f"Promised {words(today() + DAY)}, named by hand New day told" in life
    assert "Odile Hart Promised before " + words(today() - DAY) in life
    assert f"{words(today() - DAY)}, named by hand; told {words(today() - 9 * DAY)}" in life


@pytest.mark.parametrize(
    "typed",
    ["soon", "2020-01-01", str(today() + FURTHEST + DAY), "9999-12-31"],
    ids=["no day", "past", "too far", "the end of days"],
)
def test_a_day_that_cannot_be_promised_is_said_and_the_ticks_stay(
    world: World, phone: Phone, office: Client, typed: str
) -> None:
    op = taken(phone, world, today() - DAY, on=today() - 9 * DAY)
    sent(phone)
    answer = tell(office, ticks(office)[op["id"]], on=typed)
    assert answer.status_code == 400
    assert f"“{typed}” is no day from today to 120 days ahead." in read(answer)
    assert f'value="{typed}"' in answer.content.decode()
    assert " checked" in answer.content.decode()
    assert stands(op).revises is None


def test_a_day_that_changed_since_it_was_looked_at_is_not_told_unseen(
    world: World, phone: Phone, office: Client
) -> None:
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world, (op, [6]))
    seen = ticks(office)[op["id"]]
    forecast(world, (op, [8]))
    answer = tell(office, seen)
    assert answer.status_code == 400
    assert f"its new day has changed to {words(back(8))} meanwhile" in read(answer)
    assert stands(op).on == back(3)
    assert tell(office, ticks(office)[op["id"]]).status_code == 302
    assert tell(office, seen).status_code == 302, "told before: no fault, and nothing is told"
    assert "what was ticked has moved on meanwhile" in page(office)
    assert stands(op).on == back(8)


@pytest.mark.parametrize("seen", [[], ["nonsense"], ["x y z"], ["\x00"]])
def test_what_names_no_promise_tells_nobody_anything(
    world: World, phone: Phone, office: Client, seen: list[str]
) -> None:
    op = taken(phone, world, today() - DAY, on=today() - 9 * DAY)
    sent(phone)
    answer = tell(office, *seen)
    assert answer.status_code == (302 if seen else 400)
    assert seen or "Tick at least one casing." in read(answer)
    assert stands(op).revises is None


def test_what_is_finished_and_late_is_told_its_truck_s_day_or_one_named_by_hand(
    world: World,
    phone: Phone,
    gateway: Gateway,
    office: Client,
    mail: MailServer,  # noqa: F811
) -> None:
    truck, named = (taken(phone, world, today()) for _ in range(2))
    inside = taken(phone, world, back(3))
    sent(phone)
    for op in (truck, named):
        finished(gateway, op, today())
    drained()
    forecast(world, (inside, [6]))
    text = page(office)
    assert f"Finished, and late the truck brings it on {words(today() + 2 * DAY)}" in text
    seen = ticks(office)
    tell(office, seen[truck["id"]], seen[inside["id"]])
    assert "New day told of 2. Written to now: the owners of 2." in page(office)
    assert (stands(truck).on, stands(truck).basis) == (today() + 2 * DAY, "standard_time")
    assert stands(inside).on == back(6)
    tell(office, seen[named["id"]], on=str(today() + 4 * DAY))
    assert (stands(named).on, stands(named).basis) == (today() + 4 * DAY, "by_hand")
    assert listed(office) == []
    drained()
    assert len([one for one in mail.mails if "ew day" in str(one["Subject"])]) == 2


def test_what_moved_on_between_a_look_and_the_telling_is_named(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    gone, stays = (taken(phone, world, today() - DAY, on=today() - 9 * DAY) for _ in range(2))
    sent(phone)
    seen = ticks(office)
    gateway.tell(label(gone), "rejected")
    drained()
    tell(office, seen[gone["id"]], seen[stays["id"]], on=str(today() + DAY))
    text = page(office)
    assert "New day told of 1." in text
    shown = f"{label(gone)[:4]} {label(gone)[4:]}"
    assert f"Nothing was told of {shown}: moved on meanwhile." in text


def test_where_nobody_is_written_to_it_says_so_and_whom_to_call(
    world: World, phone: Phone, office: Client
) -> None:
    world.customer.contacts.update(wants_progress=False, phone="555 0134")
    contact = world.customer.contacts.get()
    op = taken(phone, world, today() - DAY, on=today() - 9 * DAY)
    sent(phone)
    tell(office, ticks(office)[op["id"]], on=str(today() + DAY))
    text = page(office)
    assert "New day told of 1. Written to now: the owners of 0." in text
    shown = f"{label(op)[:4]} {label(op)[4:]}"
    assert f"Nobody is written to of {shown}: call {contact.name}, 555 0134" in text
    assert stands(op).on == today() + DAY


def test_what_is_on_hold_stays_on_the_list_and_nobody_knows_its_day(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    op, silent = (taken(phone, world, back(3)) for _ in range(2))
    sent(phone)
    for one in (op, silent):
        gateway.tell(label(one), "received", station="receiving")
    forecast(world, (op, [6]), (silent, [6]))
    gateway.tell(label(op), "hold")
    forecast(world)
    assert sorted(listed(office)) == sorted([label(op), label(silent)])
    text = page(office)
    assert "On hold: nobody knows whether it is back on that day" in text
    assert "At risk the plant's forecast says nothing of it now" in text
    assert tell(office, *ticks(office).values()).status_code == 400
    assert tell(office, ticks(office)[op["id"]], on=str(back(8))).status_code == 302
    assert stands(op).on == back(8)


def test_a_forecast_that_has_ended_puts_nothing_on_the_list(
    world: World, phone: Phone, office: Client
) -> None:
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world, (op, [6]))
    assert listed(office) == [label(op)]
    Forecast.objects.update(valid_until=clock.now())
    assert listed(office) == []


def test_only_who_decides_tells_new_days(
    world: World, phone: Phone, office: Client, signed_in: SignedIn
) -> None:
    op, sales = taken(phone, world, today() - DAY, on=today() - 9 * DAY), signed_in("sales")
    sent(phone)
    assert "Tell the new day" not in page(sales)
    assert tell(sales, ticks(office)[op["id"]], on=str(today())).status_code == 403
    assert stands(op).revises is None
