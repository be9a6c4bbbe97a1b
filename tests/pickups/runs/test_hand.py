"""A sheet is handed to its driver, taken back, and the truck is back; phones see it meanwhile."""

from datetime import UTC, date, datetime
from typing import Any
from uuid import UUID

import pytest

from pickups.casings.models import WorkOrder
from pickups.journal.models import Entry
from pickups.people.models import User
from pickups.runs import services as runs
from pickups.runs.models import Drop, Run
from pickups.runs.rules import Refusal, Refused, Said, Why
from pickups.sync.models import Feed
from tests.pickups.runs.conftest import head
from tests.pickups.runs.test_sheet import refusal
from tests.pickups.runs.yard import DAY, Yard
from tests.world import World

pytestmark = pytest.mark.django_db


def feed(run: Run) -> list[tuple[str, int, bool]]:
    rows = Feed.objects.filter(entity="run", uid=run.uid)
    return [(r.scope, r.version, r.gone) for r in rows]


def notes() -> list[str]:
    kinds = Entry.objects.filter(kind__startswith="run.").order_by("id")
    return list(kinds.values_list("kind", flat=True))


@pytest.fixture
def loaded(run: Run, yard: Yard) -> tuple[Run, UUID]:
    """A sheet with one casing on it."""
    uid = yard.home()
    runs.put(run=run.uid, work_orders=[uid])
    return run, uid


def test_a_handed_sheet_is_in_the_feed_with_every_change_until_it_is_taken_back(
    loaded: tuple[Run, UUID], world: World
) -> None:
    run, _ = loaded
    scope = f"site:{world.store.uid}"
    assert feed(run) == []
    runs.hand(run=run.uid, seen=2)
    assert feed(run) == [(scope, 3, False)]
    runs.add_stop(run=run.uid, site=world.plant.uid)
    assert feed(run) == [(scope, 4, False)]
    runs.take_back(run=run.uid)
    assert feed(run) == [(scope, 5, True)]
    runs.amend(run=run.uid, head=head(world, note="later"))
    assert feed(run) == [(scope, 5, True)]
    runs.hand(run=run.uid)
    assert feed(run) == [(scope, 7, False)]
    assert notes() == ["run.handed", "run.taken_back", "run.handed"]
    told = Entry.objects.filter(kind="run.handed").earliest("id")
    assert told.subject == f"run:{run.uid}"
    assert told.body == {
        "site": str(world.store.uid),
        "on": DAY.isoformat(),
        "driver": str(world.driver.uid),
    }


def test_a_sheet_without_a_driver_or_a_stop_is_handed_to_nobody(
    world: World, run: Run, yard: Yard
) -> None:
    assert refusal(verb=runs.hand, run=run.uid).code is Refusal.NO_STOP
    runs.add_stop(run=run.uid, yard=world.yard.uid)
    Run.objects.update(driver=None)
    assert refusal(verb=runs.hand, run=run.uid).code is Refusal.NO_DRIVER
    for changed in ({"is_active": False}, {"site": world.other_store}, {"role": "sales"}):
        Run.objects.update(driver=world.driver)
        User.objects.filter(pk=world.driver.pk).update(**changed)
        refused = refusal(verb=runs.hand, run=run.uid)
        assert (refused.code, refused.facts["driver"]) == (
            Refusal.NO_DRIVER, str(world.driver.uid),
        )  # fmt: skip
        fresh = {"is_active": True, "site": world.store, "role": "driver"}
        User.objects.filter(pk=world.driver.pk).update(**fresh)
    assert (notes(), feed(run)) == ([], [])
    runs.hand(run=run.uid)


def test_a_sheet_of_a_day_that_is_over_is_not_handed(world: World, run: Run) -> None:
    runs.add_stop(run=run.uid, yard=world.yard.uid)
    runs.amend(run=run.uid, head=head(world, on=date(2026, 5, 4)))
    night = datetime(2026, 5, 5, 5, 30, tzinfo=UTC)  # half past midnight in Chicago
    with pytest.raises(Refused) as refused:
        runs.hand(run=run.uid, at=night)
    assert (refused.value.code, refused.value.facts) == (Refusal.DAY_OVER, {"on": "2026-05-04"})
    assert notes() == []
    runs.hand(run=run.uid, at=night.replace(hour=4, minute=30))  # still the 4th there


def test_casings_that_cannot_be_dropped_any_more_keep_a_sheet_from_its_driver(
    run: Run, yard: Yard
) -> None:
    good, gone, held, back = yard.home(), yard.home(), yard.finished(), yard.home()
    runs.put(run=run.uid, work_orders=[good, gone, held, back])
    yard.withdraw(gone)
    yard.at_the_plant(held, "hold")
    yard.deliver(back)
    refused = refusal(verb=runs.hand, run=run.uid)
    assert set(refused.casings) == {(gone, Why.WITHDRAWN), (held, Why.ON_HOLD)}
    runs.take_off(run=run.uid, work_orders=[gone, held])
    runs.hand(run=run.uid)  # what is back already stays on it, and the page says so


def test_a_sheet_that_is_handed_keeps_its_driver_and_a_stop(world: World, run: Run) -> None:
    stop = runs.add_stop(run=run.uid, yard=world.yard.uid)
    runs.hand(run=run.uid)
    bare = head(world)
    bare = type(bare)(bare.start, bare.on, bare.kind, bare.vehicle, None)
    assert refusal(verb=runs.amend, run=run.uid, head=bare).code is Refusal.NO_DRIVER
    assert refusal(verb=runs.remove_stop, run=run.uid, stop=stop).code is Refusal.NO_STOP


def test_undoing_what_made_the_only_stop_of_a_handed_sheet_is_refused(run: Run, yard: Yard) -> None:
    placed = runs.put(run=run.uid, work_orders=[yard.home()])
    runs.hand(run=run.uid)
    assert refusal(verb=runs.put_back, run=run.uid, placed=placed).code is Refusal.NO_STOP


def test_each_state_takes_its_own_steps_only(run: Run, world: World) -> None:
    stop = runs.add_stop(run=run.uid, yard=world.yard.uid)
    early: list[Any] = [runs.take_back, runs.come_back, runs.not_back]
    for verb in early:
        assert refusal(verb=verb, run=run.uid).code is Refusal.STATE
    runs.hand(run=run.uid)
    out: list[Any] = [runs.hand, runs.not_back, runs.throw_away]
    for verb in out:
        refused = refusal(verb=verb, run=run.uid)
        assert (refused.code, refused.facts["state"]) == (Refusal.STATE, "handed")
    runs.come_back(run=run.uid)
    over: list[Any] = [runs.hand, runs.take_back, runs.come_back, runs.throw_away]
    for verb in over:
        assert refusal(verb=verb, run=run.uid).code is Refusal.STATE
    assert refusal(verb=runs.set_stop, run=run.uid, stop=stop, said=Said()).code is Refusal.STATE


def test_when_the_truck_is_back_what_was_not_dropped_is_loose_again(
    loaded: tuple[Run, UUID], world: World, yard: Yard
) -> None:
    run, uid = loaded
    other = runs.draw_up(site=world.store.uid, head=head(world))
    runs.hand(run=run.uid)
    assert refusal(verb=runs.put, run=other.uid, work_orders=[uid]).casings == [
        (uid, Why.OTHER_SHEET)
    ]
    runs.come_back(run=run.uid)
    assert feed(run)[0][2], "no phone shows it"
    assert notes()[-1] == "run.back"
    runs.put(run=other.uid, work_orders=[uid])
    assert Drop.objects.filter(stop__run=run, active=False).count() == 1, "the sheet is kept"


def test_a_truck_said_to_be_back_by_mistake_is_out_again_with_what_nobody_took(
    loaded: tuple[Run, UUID], world: World
) -> None:
    run, uid = loaded
    runs.hand(run=run.uid)
    runs.come_back(run=run.uid)
    runs.not_back(run=run.uid)
    assert not feed(run)[0][2]
    assert Drop.objects.get(work_order=uid).active
    runs.come_back(run=run.uid)
    other = runs.draw_up(site=world.store.uid, head=head(world))
    runs.put(run=other.uid, work_orders=[uid])
    refused = refusal(verb=runs.not_back, run=run.uid)
    assert refused.casings == [(uid, Why.OTHER_SHEET)]


def test_what_happened_on_the_way_stays_told_when_a_sheet_is_taken_back(
    loaded: tuple[Run, UUID], yard: Yard
) -> None:
    run, uid = loaded
    runs.hand(run=run.uid)
    yard.load(uid)
    yard.deliver(uid)
    runs.take_back(run=run.uid)
    assert WorkOrder.objects.get(uid=uid).progress == "returned"
    runs.hand(run=run.uid)
