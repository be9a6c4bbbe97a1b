"""When something was, as a customer reads it: the dealer's place and the reader's language."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.kernel import clock
from pickups.kernel.languages import day_and_time


def local(language: str, at: datetime) -> str:
    """An instant, in the dealer's time zone."""
    return day_and_time(language, clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)))
