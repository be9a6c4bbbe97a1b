"""What a customer accepts: a new number each time, nothing overwritten, told to its store."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import IntegrityError, connection, transaction

from pickups.customers import queries, services, specifying
from pickups.customers.models import Customer, SpecificationVersion
from pickups.customers.rules import REPAIRS, Terms, terms
from pickups.kernel import clock
from pickups.kernel.wire import Malformed
from tests.world import Phone, World
from tests.world.threads import at_once

AT = clock.from_ms(1_790_000_000_000)
LATER = AT + timedelta(days=1)
SEVEN, FIVE = Terms(oldest_years=7), Terms(oldest_years=5, most_caps=2)


def specify(world: World, told: Terms, **more: Any) -> SpecificationVersion:
    asked = {"customer": world.customer.uid, "by": world.dispatcher.uid, "at": AT}
    return specifying.specify(**{**asked, "terms": told, **more})


def withdraw(world: World, **more: Any) -> SpecificationVersion | None:
    asked = {"customer": world.customer.uid, "by": world.dispatcher.uid, "at": LATER}
    return specifying.withdraw_specification(**{**asked, **more})


# --- Versions -------------------------------------------------------------------------------------


@pytest.mark.django_db
def test_each_word_is_a_new_number_and_the_earlier_ones_stay(world: World) -> None:
    specify(world, SEVEN)
    specify(world, FIVE, at=LATER, by=None)
    said = queries.specification_versions(world.customer.uid, None)
    assert [(v.number, v.terms and v.terms["oldest_years"], v.by, v.at) for v in said] == [
        (2, 5, None, LATER),
        (1, 7, world.dispatcher.uid, AT),
    ]
    (stands,) = queries.specifications_standing()
    assert (stands.number, stands.terms, stands.yard) == (2, FIVE, None)


@pytest.mark.django_db
def test_the_same_terms_again_are_no_new_number(world: World) -> None:
    first = specify(world, SEVEN)
    assert specify(world, SEVEN, at=LATER) == first
    assert first.number == 1


@pytest.mark.django_db
def test_a_withdrawal_is_a_version_too_and_what_was_withdrawn_can_be_said_again(
    world: World,
) -> None:
    specify(world, SEVEN)
    gone = withdraw(world)
    assert gone is not None
    assert (gone.number, gone.terms) == (2, None)
    assert queries.specifications_standing() == []
    assert withdraw(world) == gone
    assert specify(world, SEVEN).number == 3


@pytest.mark.django_db
def test_there_is_nothing_to_withdraw_where_none_was(world: World) -> None:
    assert withdraw(world) is None
    assert not SpecificationVersion.objects.exists()


@pytest.mark.django_db
def test_a_yard_has_one_of_its_own_or_its_customers(world: World) -> None:
    specify(world, SEVEN)
    south = services.open_yard(customer=world.customer, name="South yard")
    specify(world, FIVE, yard=south.uid)

    def holds(yard: UUID) -> Terms | None:
        found = queries.specification_for(yard)
        return found.terms if found else None

    assert holds(world.yard.uid) == SEVEN
    assert holds(south.uid) == FIVE
    withdraw(world, yard=south.uid)
    assert holds(south.uid) == SEVEN
    assert holds(world.other_yard.uid) is None
    assert holds(uuid4()) is None


@pytest.mark.django_db
def test_another_customers_yard_is_named_and_nothing_is_written(world: World) -> None:
    with pytest.raises(Malformed, match="allowed: a yard of this customer"):
        specify(world, SEVEN, yard=world.other_yard.uid)
    assert not SpecificationVersion.objects.exists()


@pytest.mark.django_db
def test_who_writes_over_what_they_have_not_seen_is_told(world: World) -> None:
    specify(world, SEVEN, knowing=0)
    with pytest.raises(specifying.Outdated) as told:
        specify(world, FIVE, knowing=0)
    assert told.value.number == 1
    with pytest.raises(specifying.Outdated):
        withdraw(world, knowing=7)
    assert specify(world, FIVE, knowing=1).number == 2


@pytest.mark.django_db
@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE customers_specification_version SET terms = NULL",
        "UPDATE customers_specification_version SET number = number + 1",
        "DELETE FROM customers_specification_version",
    ],
)
def test_the_database_itself_refuses_to_change_a_version(world: World, statement: str) -> None:
    specify(world, SEVEN)
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        connection.cursor().execute(statement)


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_two_who_write_the_first_at_once_come_one_after_the_other(world: World) -> None:
    def say(years: int) -> Callable[[], int | str]:
        def job() -> int | str:
            try:
                return specify(world, Terms(oldest_years=years), knowing=0).number
            except specifying.Outdated:
                return "outdated"

        return job

    assert sorted(map(str, at_once(say(5), say(7)))) == ["1", "outdated"]
    assert Customer.objects.get(uid=world.customer.uid).specifications.count() == 1


# --- The feed -------------------------------------------------------------------------------------


def seen(phone: Phone) -> dict[str, Any]:
    """The specifications that a phone knows, by id."""
    phone.pull_all()
    return {
        key[2]: row["body"]
        for key, row in phone.rows.items()
        if key[1] == "specification" and row.get("body")
    }


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_its_store_hears_of_it_and_of_its_end(world: World, phone: Phone) -> None:
    told = terms({"oldest_years": 7, "repairs": [], "designs": {"drive": "DL-41"}})
    uid = str(specify(world, told).specification_id)
    specify(world, FIVE, customer=world.other_customer.uid)
    assert seen(phone) == {
        uid: {
            "customer": str(world.customer.uid),
            "yard": None,
            "number": 1,
            "oldest_years": 7,
            "most_caps": None,
            "most_nail_holes": None,
            "repairs": [],
            "brands": None,
            "sizes": None,
            "designs": {"drive": "DL-41"},
            "fleet_brand": "",
            "rejects": "ask",
            "pull_32nds": None,
        }
    }
    specify(world, FIVE, yard=world.yard.uid)
    assert {body["yard"] for body in seen(phone).values()} == {None, str(world.yard.uid)}
    withdraw(world)
    assert [body["yard"] for body in seen(phone).values()] == [str(world.yard.uid)]


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_it_goes_with_its_customer_to_another_store_and_back(world: World, phone: Phone) -> None:
    specify(world, SEVEN)
    specify(world, FIVE, yard=world.yard.uid)
    withdraw(world, yard=world.yard.uid)
    assert len(seen(phone)) == 1
    services.move_customer(uid=world.customer.uid, home_site=world.other_store)
    assert seen(phone) == {}
    services.move_customer(uid=world.customer.uid, home_site=world.store)
    assert [body["number"] for body in seen(phone).values()] == [1]


# --- Fields ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("told", "fault"),
    [
        ({"oldest_years": 0}, ("oldest_years", "0")),
        ({"oldest_years": 31}, ("oldest_years", "31")),
        ({"oldest_years": "7"}, ("oldest_years", "7")),
        ({"most_caps": -1}, ("most_caps", "-1")),
        ({"most_nail_holes": 21}, ("most_nail_holes", "21")),
        ({"repairs": ["cord"]}, ("repairs[0]", "cord")),
        ({"repairs": ["old_nail_repair", "old_nail_repair"]}, ("repairs", "old_nail_repair")),
        ({"brands": []}, ("brands", "[]")),
        ({"brands": ["Northroad", " "]}, ("brands[1]", " ")),
        ({"brands": ["Northroad", "NORTHROAD"]}, ("brands", "NORTHROAD")),
        ({"sizes": ["295/75R22.5\n"]}, ("sizes[0]", "295/75R22.5\N{REPLACEMENT CHARACTER}")),
        ({"designs": {"lift": "x"}}, ("designs.lift", "x")),
        ({"designs": {"drive": "x" * 41}}, ("designs.drive", "x" * 41)),
        ({"fleet_brand": "a\x00"}, ("fleet_brand", "a\N{REPLACEMENT CHARACTER}")),
        ({"rejects": "burn"}, ("rejects", "burn")),
        ({"pull_32nds": 31}, ("pull_32nds", "31")),
        ({"oldest": 7}, ("oldest", "7")),
    ],
)
def test_what_cannot_be_meant_is_named_with_its_field(
    told: dict[str, Any], fault: tuple[str, str]
) -> None:
    with pytest.raises(Malformed) as raised:
        terms(told)
    assert (raised.value.fault.field, raised.value.fault.value) == fault
    assert raised.value.fault.allowed


def test_a_closed_list_says_what_stands_in_it() -> None:
    for told, allowed in (
        ({"rejects": "burn"}, "one of ask, return, scrap, buy"),
        ({"repairs": ["cord"]}, "one of " + ", ".join(REPAIRS)),
    ):
        with pytest.raises(Malformed) as raised:
            terms(told)
        assert raised.value.fault.allowed == allowed


def test_nothing_told_is_anything_accepted() -> None:
    assert terms({}) == Terms()
    assert Terms().repairs is None
