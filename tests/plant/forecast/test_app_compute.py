"""From what stations told and a plant entered to what promises are made from."""

import pytest

from pickups.casings.models import WorkOrder
from pickups.kernel import clock
from pickups.promises import queries as promises
from tests.plant.forecast.plants import computed, enter, passed, picked_up
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def test_each_casing_inside_is_forecast_and_the_further_one_is_finished_first(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    enter(world.plant)
    far, near = picked_up(phone, world, 2)
    passed(gateway, near, "receiving")
    passed(gateway, far, "receiving", "initial-inspection", "enveloping", "stripping")
    stands = computed(world.plant.uid)
    assert (stands.failed_at, stands.missing, stands.replications) == (None, [], 200)
    orders = {w.label: w.uid for w in WorkOrder.objects.all()}
    found = promises.finishing(list(orders.values()), at=clock.now())
    assert set(found) == set(orders.values())
    medians = {label: sorted(found[uid].sample.minutes)[100] for label, uid in orders.items()}
    assert 0 < medians[far] < medians[near] < 24 * 60
