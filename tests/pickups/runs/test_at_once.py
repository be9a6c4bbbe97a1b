"""Two dispatchers at once: each step is whole, and no casing is on two sheets."""

from collections.abc import Callable
from uuid import UUID

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from pickups.runs import services as runs
from pickups.runs.models import Drop, Run
from pickups.runs.rules import Refusal, Refused, Why
from tests.pickups.runs.conftest import head
from tests.pickups.runs.yard import Yard
from tests.world import World
from tests.world.threads import at_once

pytestmark = pytest.mark.django_db(transaction=True)


def trying(verb: Callable[[], object]) -> Callable[[], Refused | None]:
    def attempt() -> Refused | None:
        try:
            verb()
        except Refused as refused:
            return refused
        return None

    return attempt


def test_of_two_sheets_that_want_the_same_casings_one_gets_them_all(
    world: World, run: Run, yard: Yard
) -> None:
    other = runs.draw_up(site=world.store.uid, head=head(world))
    wanted = [yard.home() for _ in range(6)]
    for _ in range(8):
        said = at_once(
            trying(lambda: runs.put(run=run.uid, work_orders=wanted)),
            trying(lambda: runs.put(run=other.uid, work_orders=wanted[::-1])),
        )
        lost = [r for r in said if r is not None]
        assert len(lost) == 1
        assert {why for _, why in lost[0].casings} == {Why.OTHER_SHEET}
        won: UUID = (run if said[0] is None else other).uid
        assert Drop.objects.filter(stop__run=won, active=True).count() == 6
        assert Drop.objects.filter(active=True).count() == 6
        runs.take_off(run=won, work_orders=wanted)


def test_casings_are_written_in_one_order_so_that_no_two_sheets_wait_for_each_other(
    run: Run, yard: Yard
) -> None:
    wanted = sorted(yard.home() for _ in range(4))
    with CaptureQueriesContext(connection) as said:
        runs.put(run=run.uid, work_orders=wanted[::-1])
    (written,) = [q["sql"] for q in said if q["sql"].startswith('INSERT INTO "runs_drop"')]
    places = [written.replace("-", "").index(uid.hex) for uid in wanted]
    assert places == sorted(places)


def test_of_two_steps_made_on_one_page_the_second_is_told_that_it_is_behind(
    world: World, run: Run
) -> None:
    said = at_once(
        *[trying(lambda: runs.add_stop(run=run.uid, yard=world.yard.uid, seen=1)) for _ in range(4)]
    )
    assert sorted(r.code if r else "" for r in said) == ["", *[Refusal.STALE] * 3]
    run.refresh_from_db()
    assert (run.version, run.stops.count()) == (2, 1)
