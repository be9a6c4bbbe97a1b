"""The Celery application: tasks are found in each app's tasks.py, settings in CELERY_*.

The worker leaves a sign of life in the cache for /readyz. No result is stored: what a task
did is told by the journal. Never eager, tests included.
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

WORKER_SEEN = "config:worker-seen"


@heartbeat_sent.connect(weak=False)
def note_sign_of_life(**_: Any) -> None:
    """Sent by the worker's own loop every two seconds: a stuck worker leaves no sign."""
    from django.core.cache import cache

    cache.set(WORKER_SEEN, time.time(), timeout=3600)
