"""/healthz answers whatever else is down; /readyz names the part that is not well."""

import time
from pathlib import Path

import pytest
from django.core.cache import cache
from django.test import Client
from pytest_django import Settings

from pickups.config.celery import app, seen

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def workers_seen() -> None:
    cache.set_many({seen(line): time.time() for line in ("celery", "forecast")})


def test_with_all_parts_well_it_is_ready(client: Client) -> None:
    answer = client.get("/readyz")
    assert answer.status_code == 200, answer.json()
    assert set(answer.json()["parts"]) == {
        "database",
        "broker",
        "migrations",
        "worker",
        "forecaster",
        "disk",
        "feed",
    }
    assert "no-store" in answer["Cache-Control"]


@pytest.mark.parametrize(("part", "line"), [("worker", "celery"), ("forecaster", "forecast")])
@pytest.mark.parametrize(
    ("sign", "found"), [(None, "no worker"), (-3600, "age_s is 3600"), (-60, "age_s is 60")]
)
def test_a_worker_without_a_recent_sign_of_life_is_named(
    client: Client, sign: int | None, found: str, part: str, line: str
) -> None:
    cache.delete(seen(line))
    if sign is not None:
        cache.set(seen(line), time.time() + sign)
    answer = client.get("/readyz")
    assert answer.status_code == 503
    assert answer.json()["parts"][part]["well"] is False
    assert found in answer.json()["parts"][part]["found"]
    assert [name for name, each in answer.json()["parts"].items() if not each["well"]] == [part]


def test_a_disk_that_is_nearly_full_is_named(client: Client, settings: Settings) -> None:
    settings.READY_DISK_FREE_MIN_MB = 10**9
    answer = client.get("/readyz")
    assert answer.status_code == 503
    assert "are needed" in answer.json()["parts"]["disk"]["found"]


def test_a_dead_broker_is_named_soon_and_without_its_address(
    client: Client, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    dead = f"redis+socket://{tmp_path}/nobody.sock"
    monkeypatch.setattr(app.conf, "broker_url", dead)
    monkeypatch.setattr(app.conf, "broker_write_url", dead)
    began = time.monotonic()
    answer = client.get("/readyz")
    assert time.monotonic() - began < 3
    assert answer.status_code == 503
    assert answer.json()["parts"]["broker"]["well"] is False
    assert "nobody" not in answer.content.decode()
    assert client.get("/healthz").json() == {"well": True}


def test_only_reading_is_allowed(client: Client) -> None:
    assert client.post("/readyz").status_code == 405
    assert client.post("/healthz").status_code == 405
