"""The Celery application: tasks are found in each app's tasks.py, settings in CELERY_*.

A worker leaves a sign of life in the cache for each line that it takes, for /readyz. No result is
stored: what a task did is told by the journal. Never eager, tests included.
"""

import os
import time
from typing import Any

from celery import Celery
from celery.signals import heartbeat_sent

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "pickups.config.settings")

app = Celery("yardloop")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()


def seen(line: str) -> str:
    """Under which key the sign of life of those who take a line is kept."""
    return f"config:worker-seen:{line}"


@heartbeat_sent.connect(weak=False)
def note_sign_of_life(**_: Any) -> None:
    """Sent by the worker's own loop every two seconds: a stuck worker leaves no sign."""
    from django.core.cache import cache

    signs = {seen(line): time.time() for line in app.amqp.queues.consume_from}
    cache.set_many(signs, timeout=3600)
