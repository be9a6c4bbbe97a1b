"""After an upgrade: devices closed before do not send for ever, and sites are told anew."""

from datetime import timedelta
from importlib import import_module

import pytest
from django.db import connection

from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import Device, Site
from pickups.sync.models import Feed
from tests.world import Phone

pytestmark = pytest.mark.django_db


def closed_once(phone: Phone) -> Device:
    Device.objects.filter(uid=phone.uid).update(status="closing", closed_at=None)
    return Device.objects.get(uid=phone.uid)


def test_their_days_begin_with_the_upgrade(phone: Phone) -> None:
    assert closed_once(phone).closing_until is None
    begin = import_module("pickups.people.migrations.0004_closing_since").begin
    with connection.schema_editor(atomic=False) as editor:
        begin(None, editor)
    device = Device.objects.get(uid=phone.uid)
    assert device.closing_until is not None
    assert not device.is_revoked
    device.closed_at = clock.now() - timedelta(days=3650)
    assert device.is_revoked


def test_closing_one_again_begins_them_and_once_only(phone: Phone) -> None:
    closed_once(phone)
    people.close_device(uid=phone.uid)
    begun = Device.objects.get(uid=phone.uid).closed_at
    assert begun is not None
    people.close_device(uid=phone.uid)
    assert Device.objects.get(uid=phone.uid).closed_at == begun


def test_sites_are_told_anew_with_the_days_of_what_waits(phone: Phone) -> None:
    site = Site.objects.order_by("uid").first()
    assert site is not None
    with connection.cursor() as c:
        c.execute(
            "INSERT INTO sync_feed (scope, entity, uid, version, gone)"
            " VALUES ('told before', 'site', %s, %s, false)",
            [site.uid, site.version],
        )
    tell = import_module("pickups.people.migrations.0005_unclaimed_days_to_devices").tell_sites
    with connection.schema_editor(atomic=False) as editor:
        tell(None, editor)
    told = Feed.objects.get(scope="told before", uid=site.uid)
    assert told.version == Site.objects.get(uid=site.uid).version == site.version + 1
