"""Two workers and a dispatcher at the same promise: one new day, one entry, one mail."""

from contextlib import suppress
from uuid import UUID

import pytest
from pytest_django import Settings

from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.notices import revised
from pickups.notices.models import Notice
from pickups.notices.services import Waits
from pickups.promises import watching
from pickups.promises.models import Promise, Risk
from tests.pickups.notices.conftest import mail  # noqa: F401 - a fixture
from tests.pickups.promises.forecasting import back, forecast, trucks_every_day
from tests.pickups.promises.promising import by_table, drained, sent, taken
from tests.world import Phone, World
from tests.world.mail import MailServer
from tests.world.threads import at_once

pytestmark = pytest.mark.django_db(transaction=True)


def test_however_many_look_at_it_it_is_told_once(
    world: World,
    phone: Phone,
    settings: Settings,
    mail: MailServer,  # noqa: F811
) -> None:
    settings.TELLING_BEGINS_HOUR, settings.TELLING_ENDS_HOUR = 0, 24
    trucks_every_day(world)
    ops = [taken(phone, world, by_table(back(3))) for _ in range(3)]
    sent(phone)
    forecast(world, *((op, [6]) for op in ops))
    settings.PROMISE_TELL_NEW_DAYS = True
    at, uids = clock.now(), [UUID(op["id"]) for op in ops]
    due = watching.due(uids, at=at)
    assert set(due) == set(uids)

    def watch() -> set[UUID]:
        watching.watch(plant=world.plant.uid, at=at)
        return set()

    def person() -> set[UUID]:
        return watching.revise(new_days=due, by=world.dispatcher.uid, at=at)

    at_once(watch, person, watch, person)
    assert Promise.objects.filter(revises__isnull=False).count() == 3
    assert Risk.objects.count() == 3
    entries = list(Entry.objects.filter(kind="promise.revised"))
    assert sorted(uid for e in entries for uid in e.body["work_orders"]) == sorted(map(str, uids))

    def tell() -> None:
        for entry in entries:
            with suppress(Waits):  # another worker is at it
                revised.new_day(entry)

    at_once(tell, tell, tell)
    drained()
    assert len([one for one in mail.mails if "ew day" in str(one["Subject"])]) == len(entries)
    assert Notice.objects.filter(kind="new_day", sent_at=None).count() == 0
