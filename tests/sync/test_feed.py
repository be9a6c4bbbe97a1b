"""The cursor of the feed loses nothing, whoever commits when; lesser cursors beside it do.

Every row here is written and read over real connections, in a cluster of its own.
"""

import random
import threading
import time
from collections.abc import Callable
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import connection, connections, transaction

from pickups.kernel.problems import Code, Problem
from pickups.sync import queries
from pickups.sync.rules import Change
from pickups.sync.services import purge_gone, put
from pickups.sync.wire import PullPage
from tests.world.threads import at_once

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]

SCOPE = "site:here"
WRITERS, TRANSACTIONS = 8, 25


def write(*uids: UUID, version: int = 1, scope: str = SCOPE, gone: bool = False) -> None:
    with transaction.atomic():
        put([Change(scope, "yard", uid, version, gone=gone) for uid in uids])


class Reader:
    """A phone's way through the feed: what it was given, the newest version of each row."""

    def __init__(self, limit: int = 500, scopes: tuple[str, ...] = (SCOPE,)) -> None:
        self.cursor: str | None = None
        self.limit, self.scopes = limit, scopes
        self.seen: dict[UUID, int] = {}
        self.given: list[tuple[str, int]] = []

    def page(self) -> PullPage:
        page = queries.page(scopes=self.scopes, cursor=self.cursor, limit=self.limit)
        self.cursor = page.cursor
        for row in page.rows:
            self.given.append((row.id, row.version))
            self.seen[UUID(row.id)] = max(self.seen.get(UUID(row.id), 0), row.version)
        return page

    def to_the_end(self) -> "Reader":
        while self.page().more:
            pass
        return self


class BySequenceOnly:
    """The cursor that everybody writes first: give me what is greater than my last number."""

    def __init__(self) -> None:
        self.at = 0
        self.seen: dict[UUID, int] = {}

    def page(self) -> None:
        with connection.cursor() as c:
            c.execute(
                "SELECT uid, version, seq FROM sync_feed WHERE seq > %s ORDER BY seq LIMIT 500",
                [self.at],
            )
            for uid, version, self.at in c.fetchall():
                self.seen[uid] = version


def there() -> dict[UUID, int]:
    with connection.cursor() as c:
        c.execute("SELECT uid, version FROM sync_feed WHERE scope = %s", [SCOPE])
        return dict(c.fetchall())


def lost(seen: dict[UUID, int]) -> int:
    return sum(1 for uid, version in there().items() if seen.get(uid, 0) < version)


def writer(number: int) -> Callable[[], None]:
    """Adds rows and changes its own again, and takes its time before each commit."""
    chance = random.Random(number)
    mine: dict[UUID, int] = {}

    def work() -> None:
        for _ in range(TRANSACTIONS):
            known = chance.sample(sorted(mine), min(len(mine), 2))
            batch = [uuid4() for _ in range(chance.randint(1, 5))] + known
            for uid in batch:
                mine[uid] = mine.get(uid, 0) + 1
            with transaction.atomic():
                put([Change(SCOPE, "yard", uid, mine[uid]) for uid in batch])
                time.sleep(chance.random() * 0.02)

    return work


def test_eight_writers_lose_none_of_our_rows_and_some_of_a_sequence_only_cursor() -> None:
    """One of the writers holds its commit until the lesser cursor has passed it: no luck needed."""
    ours, lesser = Reader(limit=40), BySequenceOnly()
    written, passed = threading.Event(), threading.Event()
    overtaken = uuid4()
    working = WRITERS + 1

    def slow() -> None:
        with transaction.atomic():
            put([Change(SCOPE, "yard", overtaken, 1)])
            written.set()
            assert passed.wait(20)

    def counted(work: Callable[[], None]) -> Callable[[], None]:
        def job() -> None:
            nonlocal working
            try:
                work()
            finally:
                working -= 1

        return job

    def read() -> None:
        assert written.wait(20)
        with connection.cursor() as c:
            c.execute("SELECT last_value FROM sync_feed_seq")
            number = c.fetchone()[0]
        while working:
            ours.page()
            lesser.page()
            if lesser.at > number:
                passed.set()
        ours.to_the_end()
        lesser.page()

    at_once(read, counted(slow), *(counted(writer(n)) for n in range(WRITERS)))
    assert len(there()) > WRITERS * TRANSACTIONS
    assert lost(ours.seen) == 0
    assert lost(lesser.seen) > 0
    assert overtaken not in lesser.seen
    assert len(ours.given) == len(set(ours.given)), "a version of a row was given twice"


def test_a_row_committed_late_with_an_early_number_is_given_and_not_skipped() -> None:
    early, late = uuid4(), uuid4()
    ours, lesser = Reader(), BySequenceOnly()
    turn = [threading.Event() for _ in range(2)]

    def first() -> None:
        with transaction.atomic():
            put([Change(SCOPE, "yard", early, 1)])
            turn[0].set()
            assert turn[1].wait(10)

    def second() -> None:
        assert turn[0].wait(10)
        write(late)
        lesser.page()
        assert ours.page().rows == []
        turn[1].set()

    at_once(first, second)
    lesser.page()
    ours.page()
    assert (set(lesser.seen), set(ours.seen)) == ({late}, {early, late})


def test_a_cursor_by_the_clock_loses_the_same_row() -> None:
    """The clock of the write is no better than a number: the row was written before it was seen."""
    with connection.cursor() as c:
        c.execute("CREATE TABLE told (uid uuid, at timestamptz DEFAULT clock_timestamp())")
    try:
        seen: set[UUID] = set()
        early, late = uuid4(), uuid4()
        turn = [threading.Event() for _ in range(2)]

        def add(uid: UUID) -> None:
            with connection.cursor() as c:
                c.execute("INSERT INTO told VALUES (%s)", [uid])

        def look(after: Any) -> Any:
            with connection.cursor() as c:
                c.execute("SELECT uid, at FROM told WHERE at > %s ORDER BY at", [after])
                rows = c.fetchall()
            seen.update(row[0] for row in rows)
            return rows[-1][1] if rows else after

        def first() -> None:
            with transaction.atomic():
                add(early)
                turn[0].set()
                assert turn[1].wait(10)

        def second() -> Any:
            assert turn[0].wait(10)
            add(late)
            mark = look("-infinity")
            turn[1].set()
            return mark

        look(at_once(first, second)[1])
        assert seen == {late}
    finally:
        with connection.cursor() as c:
            c.execute("DROP TABLE told")


def test_a_transaction_id_that_gains_a_digit_is_greater_which_its_text_is_not() -> None:
    nines, hundred = uuid4(), uuid4()
    write(nines)
    write(hundred)
    with connection.cursor() as c:
        c.execute("ALTER TABLE sync_feed DISABLE TRIGGER sync_feed_order")
        try:
            for uid, xid in ((nines, "99"), (hundred, "100")):
                c.execute("UPDATE sync_feed SET xid = %s::xid8 WHERE uid = %s", [xid, uid])
        finally:
            c.execute("ALTER TABLE sync_feed ENABLE TRIGGER sync_feed_order")
        c.execute("SELECT uid FROM sync_feed WHERE xid::text > '99'")
        assert c.fetchall() == []
    reader = Reader(limit=1).to_the_end()
    assert [UUID(uid) for uid, _ in reader.given] == [nines, hundred]


@pytest.mark.parametrize(
    "holds",
    [
        "INSERT INTO sync_feed VALUES ('site:elsewhere', 'yard', gen_random_uuid(), 1, false)",
        "SELECT 1 FROM sync_feed_state FOR KEY SHARE",
    ],
    ids=["a writer", "a key share lock"],
)
def test_a_long_transaction_stalls_the_feed_shows_its_age_and_loses_nothing(holds: str) -> None:
    queries.state()
    held, waiting = threading.Event(), threading.Event()
    uid = uuid4()
    reader = Reader()

    def long() -> None:
        with transaction.atomic(), connection.cursor() as c:
            c.execute(holds)
            held.set()
            assert waiting.wait(10)

    def others() -> None:
        assert held.wait(10)
        write(uid)
        time.sleep(0.3)
        assert reader.page().rows == []
        assert 0.3 <= queries.feed_age_s() < 10
        waiting.set()

    at_once(long, others)
    assert set(reader.to_the_end().seen) == {uid}
    assert queries.feed_age_s() == 0


def test_every_size_of_page_gives_the_same_rows_in_the_same_order() -> None:
    uids = [uuid4() for _ in range(12)]
    for start in range(0, 12, 3):
        write(*uids[start : start + 3])
    write(*uids[2:5], version=2)
    whole = Reader().to_the_end().given
    assert len(whole) == 12
    for limit in range(1, 14):
        assert Reader(limit=limit).to_the_end().given == whole


def test_a_row_that_changes_between_two_pages_comes_once_more_and_never_older() -> None:
    uids = [uuid4() for _ in range(4)]
    write(*uids)
    reader = Reader(limit=2)
    reader.page()
    write(*uids, version=2)
    reader.to_the_end()
    assert reader.seen == dict.fromkeys(uids, 2)
    assert reader.given[2:] == [(str(uid), 2) for uid in sorted(uids)]


def test_a_new_scope_key_starts_at_the_beginning_and_a_lost_one_is_forgotten() -> None:
    old, new = uuid4(), uuid4()
    write(new, scope="site:new")
    write(old)
    reader = Reader().to_the_end()
    reader.scopes = ("site:new",)
    page = reader.page()
    assert [row.id for row in page.rows] == [str(new)]
    assert page.forget == [SCOPE]
    assert reader.page().forget == []


def past_horizon(reader: Reader) -> bool:
    try:
        reader.page()
    except Problem as e:
        return e.code == Code.PAST_HORIZON
    return False


def purge_everything() -> int:
    with connection.cursor() as c:
        c.execute("SELECT pg_snapshot_xmin(pg_current_snapshot())::text")
        (before,) = c.fetchone()
    return purge_gone(before=before)


def test_who_missed_a_purged_drop_starts_afresh_and_who_saw_it_goes_on() -> None:
    queries.state()
    kept, dropped = uuid4(), uuid4()
    write(kept, dropped)
    slept, awake = Reader().to_the_end(), Reader().to_the_end()
    write(dropped, version=2, gone=True)
    awake.to_the_end()
    assert purge_everything() == 1
    assert past_horizon(slept)
    assert not past_horizon(awake)
    assert set(Reader().to_the_end().seen) == {kept}


def test_a_quiet_scope_is_not_sent_back_by_drops_elsewhere() -> None:
    """Its last row lies before the horizon, yet the phone has seen all there was."""
    queries.state()
    write(uuid4())
    reader = Reader().to_the_end()
    elsewhere = uuid4()
    write(elsewhere, scope="site:elsewhere")
    write(elsewhere, scope="site:elsewhere", version=2, gone=True)
    reader.to_the_end()
    purge_everything()
    assert not past_horizon(reader)
    assert not past_horizon(Reader().to_the_end())


def test_a_first_load_of_many_pages_passes_rows_older_than_the_horizon() -> None:
    queries.state()
    uids = [uuid4() for _ in range(5)]
    for uid in uids:
        write(uid)
    gone = uuid4()
    write(gone)
    write(gone, version=2, gone=True)
    purge_everything()
    assert set(Reader(limit=2).to_the_end().seen) == set(uids)


def test_a_drop_purged_in_the_middle_of_a_first_load_sends_the_phone_back() -> None:
    queries.state()
    uids = [uuid4() for _ in range(5)]
    for uid in uids:
        write(uid)
    reader = Reader(limit=2)
    reader.page()
    write(uids[0], version=2, gone=True)
    purge_everything()
    assert past_horizon(reader)


def test_a_purge_waits_for_whoever_is_still_writing() -> None:
    """A drop that no phone could see yet is not purged, whatever the caller asks."""
    queries.state()
    uid = uuid4()
    write(uid)
    reader = Reader().to_the_end()
    held, done = threading.Event(), threading.Event()

    def long() -> None:
        with transaction.atomic(), connection.cursor() as c:
            c.execute("SELECT pg_current_xact_id()")
            held.set()
            assert done.wait(10)

    def others() -> None:
        assert held.wait(10)
        write(uid, version=2, gone=True)
        assert purge_gone(before=str(2**62)) == 0
        done.set()

    at_once(long, others)
    assert reader.to_the_end().seen == {uid: 2}
    connections.close_all()
