"""The built front end under /app/: what is kept, what is asked for anew, what is no page."""

from pathlib import Path

import pytest
from django.test import Client
from pytest_django import Settings


@pytest.fixture
def app(tmp_path: Path, settings: Settings) -> Client:
    """A client whose server was started over this build."""
    (tmp_path / "assets").mkdir()
    (tmp_path / "index.html").write_text("<!doctype html><title>the shell</title>")
    (tmp_path / "sw.js").write_text("/* the worker */")
    (tmp_path / "assets" / "main-4f5a6b7c.js").write_text("/* the page */")
    settings.APP_DIST = tmp_path
    return Client()


@pytest.mark.parametrize("path", ["/app/", "/app/pickup/new", "/app/casing/1/"])
def test_the_apps_own_addresses_answer_the_shell(app: Client, path: str) -> None:
    answer = app.get(path)
    assert answer.status_code == 200
    assert b"the shell" in answer.content
    assert answer["Cache-Control"] == "no-cache"
    assert "frame-ancestors 'none'" in answer["Content-Security-Policy"]
    assert "camera=(self)" in answer["Permissions-Policy"]


@pytest.mark.parametrize("path", ["/app/missing.js", "/app/missing.js/", "/app/assets/old-1.js"])
def test_a_missing_file_is_missing_and_never_the_shell(app: Client, path: str) -> None:
    assert app.get(path).status_code == 404


def test_the_worker_is_asked_for_anew_and_a_hashed_file_kept_for_ever(app: Client) -> None:
    worker = app.get("/app/sw.js")
    assert worker.status_code == 200
    assert worker["Content-Type"].startswith("text/javascript")
    assert worker["Cache-Control"] == "no-cache"
    assert "immutable" in app.get("/app/assets/main-4f5a6b7c.js")["Cache-Control"]


def test_every_file_carries_the_policy_that_the_service_worker_will_keep(app: Client) -> None:
    for path in ("/app/index.html", "/app/sw.js", "/app/assets/main-4f5a6b7c.js"):
        answer = app.get(path)
        assert "default-src 'none'" in answer["Content-Security-Policy"]
        assert "Access-Control-Allow-Origin" not in answer


def test_without_a_build_the_page_says_how_to_make_one(tmp_path: Path, settings: Settings) -> None:
    settings.APP_DIST = tmp_path / "none"
    answer = Client().get("/app/")
    assert answer.status_code == 503
    assert b"make run" in answer.content
