"""A mailed link: kept as a hash, good for 30 days, revocable, gone with the contact."""

import hashlib
from datetime import timedelta
from uuid import UUID

import pytest
from django.db import connection

from pickups.customers import queries, services
from pickups.customers.models import Contact, Link
from pickups.journal.models import Entry
from pickups.kernel import clock
from tests.world import World

AT = clock.from_ms(1_790_000_000_000)
DAY = timedelta(days=1)


@pytest.fixture
def ines(world: World) -> UUID:
    return Contact.objects.get(customer=world.customer).uid


def token_of(path: str) -> str:
    return path.removeprefix("/c/")


def test_a_link_is_a_path_with_a_token_that_is_kept_only_as_its_hash(ines: UUID) -> None:
    path = services.new_link(contact=ines, at=AT)
    token = token_of(path)
    assert path == f"/c/{token}"
    assert len(token) == 43  # 256 bits
    link = Link.objects.get()
    assert bytes(link.token_hash) == hashlib.sha256(token.encode()).digest()
    with connection.cursor() as c:
        c.execute("SELECT l::text FROM customers_link l")
        assert token not in c.fetchone()[0]


def test_a_link_opens_for_thirty_days_and_not_a_moment_longer(ines: UUID) -> None:
    token = token_of(services.new_link(contact=ines, at=AT))
    last = AT + 30 * DAY - timedelta(microseconds=1)
    for at in (AT, last):
        found = queries.contact_by_link(token, at=at)
        assert found is not None
        assert found.uid == ines
    assert queries.contact_by_link(token, at=AT + 30 * DAY) is None
    assert services.open_link(token=token, at=AT + 30 * DAY) is None


def test_a_link_opens_as_often_as_it_is_wanted_and_says_when_last(ines: UUID) -> None:
    token = token_of(services.new_link(contact=ines, at=AT))
    assert Link.objects.get().used_at is None
    for at in (AT, AT + DAY):
        assert services.open_link(token=token, at=at) is not None
        assert Link.objects.get().used_at == at


def test_every_mail_has_its_own_link_and_the_earlier_ones_stay(ines: UUID) -> None:
    tokens = [token_of(services.new_link(contact=ines, at=AT)) for _ in range(3)]
    assert len(set(tokens)) == 3
    assert all(queries.contact_by_link(token, at=AT) for token in tokens)


def test_revoking_ends_every_link_of_the_contact_and_nobody_elses(world: World, ines: UUID) -> None:
    abel = Contact.objects.get(customer=world.other_customer)
    mine = [token_of(services.new_link(contact=ines, at=AT)) for _ in range(2)]
    his = token_of(services.new_link(contact=abel.uid, at=AT))
    before = queries.contact_behind(Link.objects.earliest("id").id, at=AT)
    assert before is not None
    assert services.revoke_links(contact=ines, at=AT + DAY) == 2
    assert [queries.contact_by_link(token, at=AT + DAY) for token in mine] == [None, None]
    assert queries.contact_behind(Link.objects.earliest("id").id, at=AT + DAY) is None
    assert queries.contact_by_link(his, at=AT + DAY) == abel


def test_a_revocation_is_in_the_journal_once_and_by_id_only(ines: UUID) -> None:
    services.new_link(contact=ines, at=AT)
    services.revoke_links(contact=ines, at=AT)
    assert services.revoke_links(contact=ines, at=AT) == 0
    entry = Entry.objects.get(kind="contact.links_revoked")
    assert (entry.subject, entry.body) == (f"contact:{ines}", {"links": 1})


def test_an_erased_contact_leaves_no_link(ines: UUID) -> None:
    token = token_of(services.new_link(contact=ines, at=AT))
    Contact.objects.get(uid=ines).delete()
    assert queries.contact_by_link(token, at=AT) is None
    assert not Link.objects.exists()


@pytest.mark.django_db
@pytest.mark.parametrize("token", ["", "x", "a" * 5000, "ñ", "a\x00b", "../../etc"])
def test_a_text_that_is_no_token_opens_nothing(token: str) -> None:
    assert queries.contact_by_link(token, at=AT) is None
    assert services.open_link(token=token, at=AT) is None
