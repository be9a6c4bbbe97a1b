"""A mail server and pickups whose receipts are owed."""

from collections.abc import Iterator

import pytest
from pytest_django import Settings

from pickups.journal.models import Delivery
from pickups.kernel import clock
from pickups.notices.models import Notice
from tests.world.mail import MailServer, running


@pytest.fixture
def mail(settings: Settings) -> Iterator[MailServer]:
    """The mail server that the product is told to use, listening."""
    server = MailServer()
    use(settings, server)
    with running(server):
        yield server


def use(settings: Settings, server: MailServer) -> None:
    """Point the product at a server, which need not be listening."""
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", server.port


def a_day_passes() -> None:
    """Whatever was put off or claimed is due again."""
    at = clock.now()
    Delivery.objects.filter(done_at=None).update(not_before=at, claimed_until=None)
    Notice.objects.filter(sent_at=None).update(claimed_until=None)
