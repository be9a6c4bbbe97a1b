"""A question is open once about one subject, is brought up to date, and can be asked again."""

from datetime import timedelta

import pytest

from pickups.kernel import clock
from pickups.questions import queries
from pickups.questions.models import Question
from pickups.questions.rules import MEANING, OWNER, Kind
from pickups.questions.services import Ask, ask, settle
from tests.world.threads import at_once

NOW = clock.now()
COUNT = Ask(Kind.COUNT_DIFFERS, "pickup:1", {"ours": 3, "theirs": 4})


@pytest.mark.django_db
@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_opens_once_has_an_owner_and_is_brought_up_to_date(kind: Kind) -> None:
    ask([Ask(kind, "x:1", {"n": 1}), Ask(kind, "x:2", {"n": 1})], at=NOW)
    ask([Ask(kind, "x:1", {"n": 2}), Ask(kind, "x:1", {"n": 3})], at=NOW + timedelta(hours=1))
    first, second = queries.open_questions()
    assert (first.subject, first.facts, first.asked_at) == ("x:1", {"n": 3}, NOW)
    assert (second.subject, second.facts) == ("x:2", {"n": 1})
    assert first.owner == OWNER[kind]
    assert MEANING[kind].strip()


def test_every_kind_fits_its_column_and_is_explained() -> None:
    assert set(MEANING) == set(OWNER) == set(Kind)
    assert max(map(len, Kind)) <= 40


@pytest.mark.django_db
def test_a_settled_question_can_be_asked_again_and_both_are_kept() -> None:
    ask([COUNT], at=NOW)
    settled = settle(kinds=[COUNT.kind], subjects=[COUNT.subject], how="called", at=NOW)
    assert settled == 1
    assert queries.open_about("pickup:1") == []
    ask([COUNT], at=NOW)
    assert queries.open_about("pickup:1") == ["count_differs"]
    assert Question.objects.count() == 2


@pytest.mark.django_db
def test_settling_touches_only_what_is_named_and_open() -> None:
    other = Ask(Kind.YARD_UNKNOWN, COUNT.subject, {})
    ask([COUNT, other], at=NOW)
    assert settle(kinds=[COUNT.kind], subjects=["pickup:2"], how="x", at=NOW) == 0
    assert settle(kinds=[COUNT.kind], subjects=[COUNT.subject], how="x", at=NOW) == 1
    assert settle(kinds=[COUNT.kind], subjects=[COUNT.subject], how="y", at=NOW) == 0
    assert queries.open_about(COUNT.subject) == ["yard_unknown"]
    assert Question.objects.get(kind=COUNT.kind).settlement == "x"


@pytest.mark.django_db(transaction=True)
def test_questions_asked_at_once_in_any_order_are_open_once_each() -> None:
    asked = [Ask(Kind.COUNT_DIFFERS, f"pickup:{n}", {"n": n}) for n in range(30)]
    at_once(*[lambda: ask(asked, at=NOW), lambda: ask(asked[::-1], at=NOW)] * 3)
    assert Question.objects.count() == 30
