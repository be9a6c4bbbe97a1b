"""/healthz: this process answers. /readyz: everything behind it does, one line a part.

/readyz answers 503 when any part is not well, and names it; it tells figures, no addresses
and no secrets. Nothing here mends anything.
"""

import logging
import shutil
import time
from collections.abc import Callable
from functools import partial
from importlib import import_module
from importlib.util import find_spec
from typing import Any

from django.conf import settings
from django.core.cache import cache
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, JsonResponse
from django.urls import path
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from pickups.config.celery import app, seen

log = logging.getLogger(__name__)


class NotWell(Exception):
    """A part answers, but not as it should; the text says what was found."""


def _database() -> dict[str, Any]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return {}


def _broker() -> dict[str, Any]:
    with app.connection_for_write() as broker:
        broker.ensure_connection(max_retries=1, timeout=1)
    return {}


def _migrations() -> dict[str, Any]:
    executor = MigrationExecutor(connection)
    waiting = len(executor.migration_plan(executor.loader.graph.leaf_nodes()))
    if waiting:
        raise NotWell(f"{waiting} migrations are not applied")
    return {}


def _worker(line: str) -> dict[str, Any]:
    sign = cache.get(seen(line))
    if sign is None:
        raise NotWell("no worker has been seen")
    return _bounded("age_s", time.time() - sign, settings.READY_WORKER_AGE_MAX_S)


def _disk() -> dict[str, Any]:
    free_mb = shutil.disk_usage(settings.VAR_DIR).free // 1_000_000
    if free_mb < settings.READY_DISK_FREE_MIN_MB:
        raise NotWell(f"{free_mb} MB are free, {settings.READY_DISK_FREE_MIN_MB} are needed")
    return {"free_mb": free_mb}


def _feed() -> dict[str, Any]:
    """How long the oldest open writer has kept phones from seeing what is new."""
    if find_spec("pickups.sync.queries") is None:
        return {}
    age_s = getattr(import_module("pickups.sync.queries"), "feed_age_s", None)
    return {} if age_s is None else _bounded("age_s", age_s(), settings.READY_FEED_AGE_MAX_S)


def _bounded(name: str, found: float, most: float) -> dict[str, Any]:
    if found > most:
        raise NotWell(f"{name} is {found:.1f}, at most {most} is well")
    return {name: round(found, 1)}


PARTS: dict[str, Callable[[], dict[str, Any]]] = {
    "database": _database,
    "broker": _broker,
    "migrations": _migrations,
    "worker": partial(_worker, "celery"),
    "forecaster": partial(_worker, "forecast"),
    "disk": _disk,
    "feed": _feed,
}


def _tried(name: str, check: Callable[[], dict[str, Any]]) -> dict[str, Any]:
    try:
        return {"well": True, **check()}
    except NotWell as found:
        return {"well": False, "found": str(found)}
    except Exception as failed:  # noqa: BLE001 - whatever a dead part raises is the answer
        log.warning("readyz: %s: %s", name, failed)
        return {"well": False, "found": type(failed).__name__}


@never_cache
@require_safe
def healthz(request: HttpRequest) -> JsonResponse:
    return JsonResponse({"well": True})


@never_cache
@require_safe
def readyz(request: HttpRequest) -> JsonResponse:
    parts = {name: _tried(name, check) for name, check in PARTS.items()}
    well = all(part["well"] for part in parts.values())
    return JsonResponse({"well": well, "parts": parts}, status=200 if well else 503)


urlpatterns = [path("healthz", healthz, name="healthz"), path("readyz", readyz, name="readyz")]
