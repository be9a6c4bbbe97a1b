"""What a plant forecasts takes the place of what it forecast before, and ends by itself."""

from datetime import timedelta
from uuid import uuid4

import pytest

from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.promises import queries, services
from pickups.promises.finishing import pack
from pickups.promises.models import Arrival, Finish, Forecast
from pickups.promises.services import Ahead
from tests.pickups.promises.promising import today
from tests.world import World

pytestmark = pytest.mark.django_db(transaction=True)
HOUR = timedelta(hours=1)


def test_a_forecast_replaces_the_one_before(world: World) -> None:
    at, plant = clock.now(), world.plant.uid
    stays, gone = uuid4(), uuid4()
    come = services.Arrival("retread", "", today(), 1, pack([60, 120]))

    def publish(**casings: int) -> None:
        services.publish_forecast(
            plant=plant,
            origin=at,
            casings={u: pack([60, casings[n]]) for n, u in named.items() if n in casings},
            arrivals=[come],
            ahead=[Ahead("shearography", "shearography", "shearografía", 14)],
            valid_until=at + HOUR,
            at=at,
        )

    named = {"stays": stays, "gone": gone}
    publish(stays=70, gone=80)
    publish(stays=90)
    assert set(Finish.objects.values_list("work_order", flat=True)) == {stays}
    assert Arrival.objects.count() == 1
    assert Forecast.objects.get().ahead[0]["count"] == 14
    assert Entry.objects.filter(kind="forecast.published").count() == 2
    found = queries.finishing([stays, gone], at=at)
    assert list(found[stays].sample.minutes) == [60, 90]
    assert set(found) == {stays}
    assert queries.finishing([stays], at=at + HOUR) == {}, "past its end it says nothing"


def test_a_stations_name_is_no_longer_than_a_promise_may_tell(world: World) -> None:
    at = clock.now()
    services.publish_forecast(
        plant=world.plant.uid, origin=at, casings={}, arrivals=[],
        ahead=[Ahead("far", "n" * 81, "ñ" * 200, 3)], valid_until=at + HOUR, at=at,
    )  # fmt: skip
    (ahead,) = Forecast.objects.get().ahead
    assert ahead == {"station": "far", "name": "n" * 80, "name_es": "ñ" * 80, "count": 3}


def test_a_casing_is_where_it_was_told_of_last(world: World) -> None:
    at, casing, other = clock.now(), uuid4(), uuid4()
    for plant in (world.plant.uid, other):
        services.publish_forecast(
            plant=plant, origin=at, casings={casing: pack([5])}, arrivals=[], ahead=[],
            valid_until=at + HOUR, at=at,
        )  # fmt: skip
    assert queries.finishing([casing], at=at)[casing].plant == other


@pytest.mark.parametrize(
    ("odd", "said"),
    [
        ({"valid_until": -HOUR}, "valid_until"),
        ({"casings": [b"\0" * 4, b"\0" * 8]}, "one length"),
        ({"casings": [b"\0" * 3]}, "one length"),
        ({"group": 3}, r"group is \[3\]"),
    ],
)
def test_what_is_no_forecast_is_refused(world: World, odd: dict[str, object], said: str) -> None:
    at = clock.now()
    casings, ends, group = odd.get("casings", []), odd.get("valid_until", HOUR), odd.get("group", 1)
    assert isinstance(casings, list)
    assert isinstance(ends, timedelta)
    assert isinstance(group, int)
    with pytest.raises(ValueError, match=said):
        services.publish_forecast(
            plant=world.plant.uid,
            origin=at,
            casings={uuid4(): packed for packed in casings},
            arrivals=[services.Arrival("retread", "", today(), group, b"\0" * 4)],
            ahead=[],
            valid_until=at + ends,
            at=at,
        )
    assert not Forecast.objects.exists()
