"""Devices are told with the sites what the dealer has set: when a setting changes they hear of it.

Settings change with a start of the server, and nothing else says that they have: what was told last
stands in the journal. Safe to run twice and at once.
"""

from django.db import transaction

from pickups.journal import queries as journal_read
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.people import queries, services
from pickups.people.models import Site

TOLD = "settings.told"


def tell_settings() -> bool:
    """Tell every site anew where the settings are not those that were told last; whether it did."""
    with transaction.atomic():
        # The rows are the lock: of two who run at once the second finds it told.
        sites = list(Site.objects.select_for_update(no_key=True).order_by("uid"))
        now = queries.told_with_sites()
        if journal_read.last_body(TOLD, "settings") == now:
            return False
        journal.record([journal.Note(TOLD, "settings", now)], at=clock.now())
        for site in sites:
            services.publish_site(site)
    return True
