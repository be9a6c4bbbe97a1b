"""A dispute or a pickup that somebody else is writing about just then: said, and nothing lost."""

from collections.abc import Iterator
from contextlib import contextmanager
from uuid import UUID

import psycopg
import pytest
from django.conf import settings as django_settings
from django.db import connection
from django.test import Client

from pickups.custody import disputes
from pickups.custody.models import Dispute
from tests.pickups.desk.test_disputes import opened_case, signed  # noqa: F401
from tests.pickups.portal.conftest import Opened, opened, text  # noqa: F401


@contextmanager
def held_by_another(statement: str, uid: UUID) -> Iterator[None]:
    """A row locked by another connection, for longer than this one waits."""
    database = django_settings.DATABASES["default"]
    host, user, name = (str(database[key]) for key in ("HOST", "USER", "NAME"))
    with connection.cursor() as c:
        c.execute("SET lock_timeout = '200ms'")
    try:
        with psycopg.connect(host=host, user=user, dbname=name) as other:
            other.execute(statement.encode(), [uid])
            yield
            other.rollback()
    finally:
        with connection.cursor() as c:
            c.execute("SET lock_timeout = '3s'")


@pytest.mark.django_db(transaction=True)  # the fixture's own locks have to be gone
def test_a_case_that_somebody_holds_is_said_and_what_was_typed_stays(
    office: Client,
    signed: tuple[UUID, list[str]],  # noqa: F811
) -> None:
    case = opened_case(signed[0])
    address = f"/office/disputes/{case.uid}/"
    posts = {
        "note": {"said": "typed here"},
        "assign": {"to": "", "due_on": case.due_on.isoformat()},
        "settle": {"outcome": "stands", "said": "typed here"},
    }
    held = "SELECT 1 FROM custody_dispute WHERE uid = %s FOR UPDATE"
    with held_by_another(held, case.uid):
        for post, typed in posts.items():
            answer = office.post(address + post, typed)
            assert answer.status_code == 503
            assert "Nothing was changed: somebody is just at this case." in text(answer)
            assert ("typed here" in answer.content.decode()) == ("said" in typed)
    assert [s.kind for s in disputes.steps(case.uid)] == ["opened"]


@pytest.mark.django_db(transaction=True)
def test_a_pickup_that_somebody_holds_is_said_and_what_was_typed_stays(
    office: Client,
    signed: tuple[UUID, list[str]],  # noqa: F811
    opened: Opened,  # noqa: F811
) -> None:
    pickup, browser = signed[0], opened()
    typed = {"said": "typed here", "theirs": "15"}
    with held_by_another("SELECT 1 FROM custody_pickup WHERE uid = %s FOR UPDATE", pickup):
        ours = office.post(f"/office/visits/{pickup}/dispute", typed)
        theirs = browser.post(f"/casings/receipts/{pickup}/otherwise", typed)
    for answer in (ours, theirs):
        assert answer.status_code == 503
        assert ">typed here</textarea>" in answer.content.decode()
        assert 'value="15"' in answer.content.decode()
    assert "This was not kept" in text(theirs)
    assert Dispute.objects.count() == 0
