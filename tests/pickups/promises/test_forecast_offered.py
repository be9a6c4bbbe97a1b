"""What a plant forecasts becomes what devices offer, at each account's confidence, and what the
server holds a promise against."""

from datetime import date, timedelta
from typing import Any
from uuid import UUID

import pytest
from pytest_django import Settings

from pickups.customers import services as customers
from pickups.kernel import clock
from pickups.promises import offering, queries, rules, services
from pickups.promises.models import Table
from pickups.promises.offering import Asked
from pickups.promises.rules import DAYS_OFFERED, STORE
from tests.pickups.promises.forecasting import back, forecast, trucks_every_day
from tests.pickups.promises.foretold import AHEAD, foretell, spread
from tests.pickups.promises.promising import (
    asked,
    by_hand,
    by_table,
    drained,
    promise,
    sent,
    table,
    taken,
    today,
    told_again,
)
from tests.pickups.promises.trucks import publish
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]

DAY = timedelta(days=1)
EVERY = range(7)


def on_phone(phone: Phone, world: World) -> dict[str, Any]:
    """The table that a phone has of the first store, after a pull."""
    phone.pull_all()
    body: dict[str, Any] = phone.seen("promise_table")[str(world.store.uid)]
    return body


def read(body: dict[str, Any], world: World, **asks: Any) -> str | bool | None:
    """What a phone with this table offers for the first yard, handed over today."""
    asked = Asked("retread", **asks)
    now = clock.rfc3339(clock.now())
    return offering.read(body, asked, place=str(world.yard.uid), handed_over=today(), now=now)


def daily(world: World) -> None:
    """Trucks every day, so that a day more at the plant is a day more."""
    publish(world, to_plant=EVERY, to_yard=EVERY, weekdays=EVERY)


def test_a_phone_offers_the_forecasts_day_at_the_accounts_confidence(
    world: World, phone: Phone
) -> None:
    """Handed over today, at the plant tomorrow, done five days later (eight courses of ten), a day
    to the store and one to the yard."""
    daily(world)
    foretell(world)
    drained()
    body, done = on_phone(phone, world), today() + 6 * DAY
    assert body["forecast"]["percents"] == [50, 90, 99]
    assert read(body, world, percent=50) == str(done + 2 * DAY)
    assert read(body, world, percent=90) == str(done + 3 * DAY)
    assert read(body, world, percent=99) == str(done + 5 * DAY)
    assert body["forecast"]["ahead"] == [
        {"name": "Shearography", "name_es": "Shearografía", "count": 14}
    ]
    assert body["places"][STORE]["retread"][0], "what older apps read stays"
    assert phone.seen("yard")[str(world.yard.uid)]["promise_percent"] == 90

    customers.promise_with(uid=world.customer.uid, percent=80, at=clock.now())
    drained()
    body = on_phone(phone, world)
    assert body["forecast"]["percents"] == [50, 80, 90, 99]
    assert read(body, world, percent=80) == str(done + 2 * DAY)
    assert phone.seen("yard")[str(world.yard.uid)]["promise_percent"] == 80


@pytest.mark.parametrize("percent", [49, 100])
def test_a_confidence_that_nobody_can_ask_for_is_refused(world: World, percent: int) -> None:
    with pytest.raises(ValueError, match="50 to 99 are allowed"):
        customers.promise_with(uid=world.customer.uid, percent=percent, at=clock.now())


def test_where_the_forecast_is_too_far_standard_times_say_no_day_either(
    world: World, phone: Phone
) -> None:
    """Five days by standard time; by forecast the plant is done in two hundred."""
    publish(world)
    foretell(world, working=200)
    drained()
    body = on_phone(phone, world)
    assert body["places"][STORE]["retread"][0]
    assert read(body, world) is offering.NO_DAY
    op = taken(phone, world, by_hand(today() + 40 * DAY))
    sent(phone)
    assert (promise(op).expected, promise(op).expected_by) == (None, "")


def test_the_server_expects_what_the_phone_offered(world: World, phone: Phone) -> None:
    """For every hand-over day of the table that has come, at the yard and at the store."""
    publish(world)
    customers.promise_with(uid=world.customer.uid, percent=95, at=clock.now())
    foretell(world)
    drained()
    body = on_phone(phone, world)
    told = body["forecast"]
    entered = []
    for place, back_to in ((STORE, "store"), (str(world.yard.uid), "yard")):
        on = offering.read(
            body,
            Asked("retread", "standard", 1, 95),
            place=place,
            handed_over=today(),
            now=clock.rfc3339(clock.now()),
        )
        assert on is not None
        said = {
            "on": on,
            "basis": "forecast",
            "offered": on,
            "table": body["version"],
            "confidence": 95,
            "forecast_at": told["made_at"],
            "ahead": told["ahead"],
        }
        entered.append(taken(phone, world, said, version=4, size="11R22.5", back_to=back_to))
    sent(phone)
    for op in entered:
        kept = promise(op)
        assert kept.expected == kept.on
        assert (kept.basis, kept.expected_by, kept.confidence) == ("forecast", "forecast", 95)
        assert kept.forecast_at is not None
        assert clock.rfc3339(kept.forecast_at) == told["made_at"]
        assert kept.ahead == [{"name": AHEAD.name, "name_es": AHEAD.name_es, "count": 14}]
        assert asked(op) is None
    phone.pull_all()
    seen = phone.seen("work_order")[entered[0]["id"]]["promised"]
    assert seen == entered[0]["payload"]["promised"]


def test_an_earlier_day_than_the_forecast_says_is_asked_about_with_both(
    world: World, phone: Phone
) -> None:
    daily(world)
    foretell(world, working=9)
    due = today() + 13 * DAY  # tomorrow's truck, nine days and one, two more back
    early, right = taken(phone, world, due - DAY), taken(phone, world, due)
    sent(phone)
    assert asked(early) == {"promised": str(due - DAY), "expected": str(due), "by": "forecast"}
    assert asked(right) is None
    sent(phone, told_again(phone, early, promised=due))
    assert asked(early) is None


def test_inside_the_plant_its_own_sample_counts(world: World, phone: Phone) -> None:
    daily(world)
    op = taken(phone, world, by_hand(today() + 3 * DAY))
    done = today() + 2 * DAY
    foretell(world, casings={UUID(op["id"]): spread(done)})
    sent(phone)
    assert promise(op).expected == done + 3 * DAY  # 90 %: a day later, and two days back


def test_a_matched_pair_of_duals_is_promised_as_two(world: World, phone: Phone) -> None:
    daily(world)
    foretell(world, groups={1: 0, 2: 4})
    one, two = (taken(phone, world, by_hand(today() + 60 * DAY), version=4) for _ in range(2))
    pair = told_again(phone, two, version=4, dual_with=one["payload"]["label"])
    sent(phone)
    alone, both = promise(one).expected, promise(pair).expected
    assert alone is not None
    assert both == alone + 4 * DAY
    phone.pull_all()
    worn = phone.seen("work_order")
    assert worn[two["id"]]["dual_with"] == one["payload"]["label"]
    assert worn[one["id"]]["dual_with"] == ""


def test_a_forecast_that_has_ended_leaves_standard_times(world: World, phone: Phone) -> None:
    publish(world)
    foretell(world, made=clock.now() - 2 * DAY)
    drained()
    assert on_phone(phone, world)["forecast"] is None
    op = taken(phone, world, by_hand(today()))
    sent(phone)
    kept = promise(op)
    by_standard = queries.published(world.store.uid).expected(
        today(), work="retread", back_to="yard", yard=world.yard.uid
    )
    assert (kept.expected, kept.expected_by) == (by_standard, "standard_time")


def test_a_work_without_a_standard_time_is_offered_by_forecast(world: World, phone: Phone) -> None:
    publish(world, days=None)
    foretell(world, works=["retread"])
    drained()
    body = on_phone(phone, world)
    assert read(body, world) is not None
    assert body["places"][str(world.yard.uid)] == {}


def test_the_table_is_written_anew_only_where_a_day_is_another_or_the_end_is_near(
    world: World,
) -> None:
    daily(world)
    foretell(world)
    drained()
    first = table(world)
    foretell(world, ahead=[])
    drained()
    assert table(world).version == first.version, "the same days: phones need not fetch"
    foretell(world, working=6)
    drained()
    second = table(world)
    assert second.version == first.version + 1
    foretell(world, working=6, valid=timedelta(days=3))
    drained()
    third = table(world)
    assert third.version == second.version + 1, "the old one ends long before"
    earlier, later = second.forecast, third.forecast
    assert earlier is not None
    assert later is not None
    assert earlier["valid_until"] < later["valid_until"]


def test_what_lies_finished_in_our_own_stock_is_told(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    """The dealer's own, by size as it stands on a sidewall and design; no customer's, no other."""
    daily(world)
    told: dict[str, Any] = {
        "size": "11 R 22.5",
        "tread_design": " open shoulder",
        "back_to": "store",
    }
    ours, theirs = (taken(phone, world, None, basis=basis, **told) for basis in ("dealer", "own"))
    away = taken(phone, world, None, basis="dealer", **told)
    sent(phone)
    for op in (ours, theirs, away):
        label = op["payload"]["label"]
        for outcome in ("received", "finished", "shipped"):
            gateway.tell(label, outcome)
    store = f"site:{world.store.uid}"
    for op in (ours, theirs):
        phone.enter("custody.hand_over", {
            "label": op["payload"]["label"], "way": "out",
            "giver": f"plant:{world.plant.uid}", "taker": store,
        })  # fmt: skip
    sent(phone)
    services.compute_for(sites=[world.store.uid], at=clock.now())
    like = [{"size": "11R22.5", "tread_design": "open shoulder", "count": 1}]
    assert on_phone(phone, world)["stock"] == like


def test_the_table_names_each_hand_over_day(world: World) -> None:
    daily(world)
    foretell(world)
    drained()
    told = table(world).forecast
    assert told is not None
    days = told["days"]["retread"][""]["1"]
    assert {len(row) for row in days} == {DAYS_OFFERED}
    assert all(day is not None for row in days for day in row)
    assert rules.run_after(date(2026, 4, 20), [0], date(2026, 4, 20)) == date(2026, 4, 27)


def test_a_publication_for_another_plant_changes_no_table(world: World) -> None:
    daily(world)
    drained()
    before = Table.objects.get(site=world.store.uid).version
    at = clock.now()
    services.publish_forecast(
        plant=world.other_store.uid, origin=at, casings={}, arrivals=[], ahead=[],
        valid_until=at + DAY, at=at,
    )  # fmt: skip
    drained()
    assert Table.objects.get(site=world.store.uid).version == before


def test_a_new_day_reaches_the_phone_beside_the_one_that_was_promised(
    world: World, phone: Phone, settings: Settings
) -> None:
    settings.TELLING_BEGINS_HOUR, settings.TELLING_ENDS_HOUR = 0, 24
    settings.PROMISE_TELL_NEW_DAYS = True
    trucks_every_day(world)
    op, other = taken(phone, world, by_table(back(3))), taken(phone, world, by_table(back(9)))
    sent(phone)
    phone.pull_all()
    assert phone.seen("work_order")[op["id"]]["stands"] is None
    forecast(world, (op, [6]), (other, [6]))
    phone.pull_all()
    seen = phone.seen("work_order")
    assert seen[op["id"]]["promised"]["on"] == str(back(3))
    assert seen[op["id"]]["stands"] == {"on": str(back(6)), "basis": "forecast", "confidence": 90}
    assert seen[other["id"]]["stands"] is None
