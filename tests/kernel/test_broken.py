"""Whatever breaks under /api/ answers a problem document (RFC 9457) and tells nothing of itself."""

import logging
from collections.abc import Callable
from select import select

import pytest
from django.db import InternalError, connection, connections
from django.http import HttpRequest, HttpResponse
from django.test import Client
from pytest_django import Settings

from pickups.kernel.problems import exception_handler
from tests.sync.test_bad_batches import problem
from tests.world import Phone
from tests.world.phone import Reply

Answer = Callable[[HttpRequest], HttpResponse]


def breaks(get_response: Answer) -> Answer:
    """A middleware with a fault in it."""

    def answer(request: HttpRequest) -> HttpResponse:
        raise LookupError("the secret of the house")

    return answer


def get(address: str, host: str = "testserver") -> Reply:
    answer = Client(raise_request_exception=False).get(address, headers={"Host": host})
    return Reply(answer.status_code, dict(answer.headers), answer.content)


def test_what_nobody_foresaw_is_logged_whole_and_answered_in_our_form(
    phone: Phone, caplog: pytest.LogCaptureFixture
) -> None:
    with connection.cursor() as c:
        c.execute("ALTER TABLE sync_feed_state RENAME TO mislaid")
    with caplog.at_level(logging.ERROR, logger="pickups.kernel.problems"):
        reply = phone.pull()
    problem(reply, 500, "broken")
    assert b"sync_feed_state" not in reply.body
    (record,) = (r for r in caplog.records if r.name == "pickups.kernel.problems")
    assert record.getMessage() == "/api/sync/pull broke"
    assert "sync_feed_state" in caplog.text


@pytest.mark.parametrize("bound", ["transaction_timeout", "idle_in_transaction_session_timeout"])
def test_a_transaction_that_a_busy_machine_let_run_out_of_time_is_tried_later(
    db: None, bound: str
) -> None:
    connection.ensure_connection()
    slow = connections.create_connection("default")
    c = slow.cursor()
    c.execute(f"SET {bound} = '20ms'")
    c.execute("BEGIN")
    assert select([slow.connection], [], [], 20)[0]  # the database has ended it
    with pytest.raises(InternalError) as fault:
        c.execute("SELECT 1")
    slow.close()
    answer = exception_handler(fault.value, {})
    assert (answer.status_code, answer.data["code"]) == (503, "try_later")
    assert int(answer.headers["Retry-After"]) > 0


@pytest.mark.parametrize("address", ["/api/sync/pull", "/api/nothing", "/api/schema"])
def test_what_breaks_outside_of_every_door_is_answered_in_our_form_too(
    settings: Settings, address: str
) -> None:
    settings.MIDDLEWARE = [f"{__name__}.breaks"]
    reply = get(address)
    problem(reply, 500, "broken")
    assert b"secret" not in reply.body


def test_a_page_that_breaks_is_still_a_page(settings: Settings) -> None:
    settings.MIDDLEWARE = [f"{__name__}.breaks"]
    reply = get("/office/")
    assert (reply.status, reply.headers["Content-Type"]) == (500, "text/html; charset=utf-8")
    assert b"secret" not in reply.body


def test_a_request_that_is_not_for_this_host_is_answered_in_the_form_of_its_address() -> None:
    problem(get("/api/schema", host="elsewhere.example"), 400, "malformed")
    page = get("/office/", host="elsewhere.example")
    assert (page.status, page.headers["Content-Type"]) == (400, "text/html; charset=utf-8")
