"""The demo's plan: it is over before the day on which it is loaded, and lies on working days."""

from datetime import date, time
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from pickups.config.demo import data, plan

HISTORY = data("history")
ZONE = ZoneInfo("America/Chicago")


@given(st.dates(date(2024, 1, 1), date(2032, 12, 31)))
def test_all_of_it_lies_on_working_days_before_the_day_on_which_it_is_loaded(today: date) -> None:
    acts = plan.acts(HISTORY, today=today, zone=ZONE)
    assert {act.at.weekday() for act in acts} <= set(range(5))
    assert all(act.at.date() < today for act in acts)
    assert all(time(7) <= act.at.time() <= time(18) for act in acts)
    assert acts == sorted(acts, key=lambda act: act.at)


@given(st.dates(date(2024, 1, 1), date(2032, 12, 31)))
def test_no_casing_moves_before_it_was_picked_up(today: date) -> None:
    begun = set()
    for act in plan.acts(HISTORY, today=today, zone=ZONE):
        if act.what == "pick up":
            begun.add(act.pickup)
        assert act.pickup in begun


def test_it_is_three_weeks_of_every_kind_of_way() -> None:
    assert max(pickup["day"] for pickup in HISTORY["pickups"]) == 15
    used = {casing["way"] for pickup in HISTORY["pickups"] for casing in pickup["casings"]}
    assert used == set(HISTORY["ways"])
    fleets = {fleet["name"] for fleet in data("dealer")["fleets"]}
    assert {pickup["fleet"] for pickup in HISTORY["pickups"]} == fleets
