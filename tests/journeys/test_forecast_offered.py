"""A driver without signal offers the day of the plant's forecast, says how sure it is and why, and
says so when the forecast on the phone has ended."""

from datetime import date, timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from pickups.kernel import clock
from tests.journeys.barriers import both, gloved, sweep
from tests.journeys.conftest import OpenApp
from tests.journeys.promised import publish, today
from tests.journeys.test_pickup_signed import labels, told
from tests.world.stack import Stack

FORECAST_DAYS = 8
STANDARD_DAYS = 2


@pytest.fixture
def forecast(web: Stack) -> Stack:
    """A stack whose plant forecasts later days than its standard time says."""
    publish(web, days=STANDARD_DAYS)
    cast = web.cast
    web.call(f"publish_forecast({cast['store']!r}, {cast['plant']!r}, days={FORECAST_DAYS})")
    return web


def due(courses: int, *, group: int = 1) -> date:
    """The day in the yard of what is handed over today: tomorrow's truck, so long in the plant, a
    truck back and a run. courses: how late, in days, the course that counts is."""
    return today() + timedelta(days=1 + FORECAST_DAYS + courses + (group > 1) + 2)


def said_on(page: Page, day: date) -> str:
    """A day as the app says it."""
    shown: str = page.evaluate(
        """day => new Intl.DateTimeFormat("en-US", {weekday: "short", day: "numeric",
        month: "short", timeZone: "UTC"}).format(new Date(day))""",
        day.isoformat(),
    )
    return shown.replace(" ", "\u00a0")


def test_the_forecasts_day_is_offered_without_signal_with_how_sure_and_why(
    forecast: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page = app.page
    first, second = labels(forecast, 2)
    expect(page.get_by_test_id("promised")).to_contain_text("9 of 10 are back by then")
    app.set_offline(True)
    app.kill()
    page = app.open(offline=True)
    app.start_pickup(forecast.cast["yard"])
    promised = page.get_by_test_id("promised")
    expect(promised).to_contain_text(f"Promised for {said_on(page, due(1))}")
    why = page.get_by_test_id("offer-why")
    expect(why).to_contain_text("14 ahead at Shearography; by truck to this yard on ")
    expect(why).to_contain_text("Forecast of ")
    spread = page.get_by_test_id("offer-spread")
    spread.locator("summary").click()
    expect(spread).to_contain_text(
        f"Half are back by {said_on(page, due(0))}, nearly all (99 of 100)"
        f" by {said_on(page, due(3))}."
    )
    no_barrier(page, "offered by forecast, half and nearly all open")

    # A day that is named earlier stands beside what the forecast says.
    page.get_by_test_id("promised-another").click()
    page.get_by_test_id("promised-on").fill(today().isoformat())
    expect(page.locator("#promised-on-said")).to_contain_text(
        f"Earlier than the forecast, which says {said_on(page, due(1))}"
    )
    page.get_by_test_id("promised-as-offered").click()

    app.add(first, 6)
    page.get_by_test_id("label").fill(second)
    page.get_by_test_id("wanted-change").click()
    page.get_by_test_id("dual-with").select_option(first)
    expect(promised).to_contain_text(f"Promised for {said_on(page, due(1, group=2))}")
    # The first was promised before anybody spoke of a pair.
    expect(page.get_by_test_id("dual-apart")).to_contain_text(said_on(page, due(1)))
    no_barrier(page, "a dual whose mate was promised on its own")
    app.add(second, 6)
    expect(page.get_by_test_id(f"casing-{second}")).to_contain_text("dual of")
    page.get_by_test_id("finish").click()
    expect(page.get_by_test_id("sign-together")).to_have_text(
        f"All 2 back together by {said_on(page, due(1, group=2))}: 9 of 10 times"
    )
    no_barrier(page, "the list together")
    app.sign("R. Amsel", draw=False)
    page.get_by_test_id("finish-confirm").click()
    expect(page.get_by_test_id("receipt")).to_be_visible()

    app.set_offline(False)
    app.expect_waiting(0)
    assert promised_of(forecast, first) == {
        "on": str(due(1)),
        "offered": str(due(1)),
        "basis": "forecast",
        "confidence": 90,
        "ahead": [{"name": "Shearography", "name_es": "Shearografía", "count": 14}],
    }
    assert told(forecast, second)["dual_with"] == first
    assert promised_of(forecast, second)["on"] == str(due(1, group=2))
    forecast.call("settle()")
    query = """SELECT basis, confidence, "on" = expected FROM promises_promise WHERE work_order IN
        (SELECT uid FROM casings_work_order WHERE label = ANY(%s))"""
    assert forecast.rows(query, [first, second]) == [("forecast", 90, True)] * 2
    asked = "SELECT count(*) FROM questions_question WHERE kind = 'promise_too_early'"
    assert forecast.rows(asked) == [(0,)]


def no_barrier(page: Page, name: str) -> None:
    """In both languages and lights, for a glove, at twice the size."""
    assert sweep(page, name, both(page), gloved) == []


def promised_of(stack: Stack, label: str) -> dict[str, Any]:
    """What a pick_up told of its promise, without what changes from run to run."""
    said = dict(told(stack, label)["promised"])
    assert said.pop("table") > 0
    assert said.pop("forecast_at")
    return said


def test_past_its_end_the_phone_says_so_and_offers_standard_time(
    forecast: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page = app.page
    expect(page.get_by_test_id("promised")).to_contain_text("9 of 10")
    app.set_offline(True)
    page.clock.set_system_time(clock.now() + timedelta(hours=25))
    page.reload()
    ended = page.get_by_test_id("offer-ended")
    expect(ended).to_contain_text("The plant's forecast on this phone ended at ")
    promised = page.get_by_test_id("promised")
    expect(promised).to_contain_text("standard time")
    no_barrier(page, "past the forecast's end")
