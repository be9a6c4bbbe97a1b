"""What the server did stands in order, with what it owes, or not at all; and for ever."""

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from django.db import DatabaseError, connection, transaction

from pickups.config import wiring
from pickups.journal import queries
from pickups.journal import services as journal
from pickups.journal.models import Delivery, Entry
from pickups.journal.services import Note

AT = datetime(2026, 4, 14, 13, 40, tzinfo=UTC)


class Poked(list[str]):
    """Counts the pokes of a worker."""

    def __call__(self) -> None:
        self.append("poked")


def looked_at(entry: Entry) -> None:
    """A reaction that does nothing."""


@pytest.fixture
def poked() -> Iterator[Poked]:
    """Two reactions to one kind; the real table comes back afterwards."""
    calls = Poked()
    journal.install({"cup.washed": {"dry": looked_at, "stack": looked_at}}, poke=calls)
    yield calls
    wiring.install()


@pytest.mark.django_db(transaction=True)
def test_entries_stand_in_their_order_each_with_what_it_owes(poked: Poked) -> None:
    notes = [
        Note("cup.washed" if n % 2 else "cup.broken", f"cup:{n}", {"n": n, "say": 'a "{,}" ü'})
        for n in range(6)
    ]
    with transaction.atomic():
        journal.record(notes, at=AT)
    entries = list(Entry.objects.order_by("id"))
    assert [e.subject for e in entries] == [f"cup:{n}" for n in range(6)]
    assert [e.body for e in entries] == [dict(n.body) for n in notes]
    assert {e.recorded_at for e in entries} == {AT}
    owed = Delivery.objects.values_list("entry__subject", "reaction")
    assert sorted(owed) == [(f"cup:{n}", r) for n in (1, 3, 5) for r in ("dry", "stack")]
    assert queries.owed() == 6


@pytest.mark.django_db(transaction=True)
def test_a_worker_is_poked_once_a_transaction_and_only_after_its_commit(poked: Poked) -> None:
    with transaction.atomic():
        for n in range(3):
            journal.record([Note("cup.washed", f"cup:{n}", {})], at=AT)
        assert poked == []
    assert poked == ["poked"]
    with transaction.atomic():
        journal.record([Note("cup.broken", "cup:9", {})], at=AT)
    assert poked == ["poked"], "nothing is owed, nobody is poked"


@pytest.mark.django_db(transaction=True)
def test_a_transaction_that_is_undone_leaves_no_entry_no_debt_and_no_poke(poked: Poked) -> None:
    with transaction.atomic():
        journal.record([Note("cup.washed", "cup:1", {})], at=AT)
        transaction.set_rollback(True)
    assert (Entry.objects.count(), queries.owed(), poked) == (0, 0, [])


@pytest.mark.django_db
def test_nothing_to_note_is_nothing_written(poked: Poked) -> None:
    journal.record([], at=AT)
    assert Entry.objects.count() == 0


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE journal_entry SET body = '{}'",
        "UPDATE journal_entry SET kind = kind",
        "DELETE FROM journal_entry",
    ],
)
@pytest.mark.django_db
def test_the_database_itself_refuses_to_change_an_entry(poked: Poked, change: str) -> None:
    journal.record([Note("cup.broken", "cup:1", {"n": 1})], at=AT)
    refused = pytest.raises(DatabaseError, match="never changed")
    with refused, transaction.atomic(), connection.cursor() as c:
        c.execute(change)
    assert Entry.objects.get().body == {"n": 1}
