"""What a customer reads of promises: at risk before it is broken, the new day with the first, on
what it stands, and how many of ours to them were kept."""

from typing import Any

import pytest
from django.test import Client
from pytest_django import Settings

from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.promises.models import Forecast
from tests.pickups.portal.conftest import Opened, text
from tests.pickups.promises.forecasting import DAY, back, forecast, trucks_every_day
from tests.pickups.promises.history import delivered, finished, promised
from tests.pickups.promises.promising import by_table, sent, taken, today
from tests.world import Phone, World
from tests.world.plant import Gateway


@pytest.fixture(autouse=True)
def trucks(world: World, settings: Settings) -> None:
    settings.TELLING_BEGINS_HOUR, settings.TELLING_ENDS_HOUR = 0, 24
    trucks_every_day(world)


def day(ahead: int, language: str = "en") -> str:
    return day_in_words(language, back(ahead))


def story(browser: Client, op: dict[str, Any]) -> str:
    return text(browser.get(f"/casings/{op['id']}"))


def test_a_promise_at_risk_is_seen_before_it_is_broken(
    world: World, phone: Phone, ines: Client
) -> None:
    op = taken(phone, world, back(3))
    sent(phone)
    assert f"Promised for {day(3)}" in text(ines.get("/casings/"))
    forecast(world, (op, [6]))
    said = f"May be late: promised for {day(3)}; {day(6)} is more likely"
    assert said in text(ines.get("/casings/"))
    said = f"May be late: promised for {day(3)}, as agreed; {day(6)} is more likely"
    assert said in story(ines, op)
    forecast(world, (op, [3]))
    assert "May be late" not in text(ines.get("/casings/"))


def test_a_forecast_that_has_ended_says_nothing_of_a_promise(
    world: World, phone: Phone, ines: Client
) -> None:
    op = taken(phone, world, back(3))
    sent(phone)
    forecast(world, (op, [6]))
    assert "May be late" in text(ines.get("/casings/"))
    Forecast.objects.update(valid_until=clock.now())
    assert "May be late" not in text(ines.get("/casings/"))
    assert f"Promised for {day(3)}" in text(ines.get("/casings/"))


def test_a_new_day_stands_with_the_first_one_and_the_forecast_it_comes_from(
    world: World, phone: Phone, ines: Client, opened: Opened, settings: Settings
) -> None:
    settings.PROMISE_TELL_NEW_DAYS = True
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    forecast(world, (op, [6]))
    said = f"Promised for {day(6)} (first promised for {day(3)})"
    assert said in text(ines.get("/casings/"))
    said = f"Promised for {day(6)}, by forecast (first promised for {day(3)})"
    assert said in story(ines, op)
    world.customer.contacts.update(language="es")
    es = f"{day(6, 'es')}, según el pronóstico (prometida primero para el {day(3, 'es')})"
    assert es in story(opened(), op)
    forecast(world, (op, [3]))
    assert "first promised" not in text(ines.get("/casings/"))


def test_how_many_of_ours_to_them_were_kept_is_told_and_nothing_of_anothers(
    world: World, phone: Phone, gateway: Gateway, ines: Client, opened: Opened
) -> None:
    assert "Our promises to you" not in text(ines.get("/casings/"))
    on = today() - 5 * DAY
    ops = [promised(phone, world, on=on, taken_on=on - 9 * DAY) for _ in range(4)]
    sent(phone)
    for op in ops[:3]:
        finished(gateway, op, on - 2 * DAY)
        delivered(phone, world, op, on)
    sent(phone)
    said = "Of 4 promises to you whose day came in the last 12 months, 3 were kept: 75 %."
    assert said in text(ines.get("/casings/"))
    assert "Our promises to you" not in text(opened(world.other_customer).get("/casings/"))
