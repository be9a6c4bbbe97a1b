"""What a phone is given of load sheets: those that are handed, of its own store."""

import pytest

from pickups.runs import services as runs
from pickups.runs.models import Run
from tests.conftest import Enrol
from tests.pickups.runs.yard import Yard
from tests.world import World

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]


def test_the_stores_phones_show_a_sheet_while_it_is_handed_and_no_other_store_ever_does(
    world: World, enrol: Enrol, run: Run, yard: Yard
) -> None:
    mine, other = enrol(), enrol(world.other_driver)
    uid = yard.home()
    runs.put(run=run.uid, work_orders=[uid])
    mine.pull_all()
    assert mine.seen("run") == {}
    runs.hand(run=run.uid)
    mine.pull_all()
    body = mine.seen("run")[str(run.uid)]
    assert (body["state"], body["driver"]) == ("handed", str(world.driver.uid))
    assert [(s["yard"], s["drop"]) for s in body["stops"]] == [(str(world.yard.uid), [str(uid)])]
    runs.take_off(run=run.uid, work_orders=[uid])
    mine.pull_all()
    assert mine.seen("run")[str(run.uid)]["stops"][0]["drop"] == []
    runs.come_back(run=run.uid)
    mine.pull_all()
    other.pull_all()
    assert (mine.seen("run"), other.seen("run")) == ({}, {})
