"""Rolls: every code once, sound, in the order of its serial, until the range is full."""

import pytest
from django.db import IntegrityError, transaction
from stdnum.iso7064 import mod_37_2

from pickups.kernel import clock
from pickups.labels import queries, rules, services
from pickups.labels.models import Label, Roll
from pickups.labels.services import RangeFull
from tests.world import World
from tests.world.threads import at_once


def serial(code: str) -> int:
    """The serial number in a code: its third to fifth symbol."""
    a, b, c = (rules.SYMBOLS.index(symbol) for symbol in code[2:5])
    return a * 900 + b * 30 + c


def print_roll(world: World, count: int, range_symbols: str = "M4") -> Roll:
    return services.print_roll(
        range_symbols=range_symbols, count=count, site=world.store, at=clock.now()
    )


@pytest.mark.django_db
def test_a_roll_holds_sound_codes_once_each_in_the_order_of_their_serials(world: World) -> None:
    roll = print_roll(world, 950)
    codes = queries.codes_of(roll)
    assert len(set(codes)) == 950
    assert [serial(code) for code in codes] == list(range(950))
    assert {code[:2] for code in codes} == {"M4"}
    assert all(rules.fault(code) is None and mod_37_2.is_valid(code) for code in codes)
    assert (roll.first, roll.last) == (0, 949)
    assert queries.printed([*codes[:3], "M4000000"]) == set(codes[:3])


@pytest.mark.django_db
def test_codes_of_a_roll_cannot_be_guessed_from_their_neighbours(world: World) -> None:
    codes = queries.codes_of(print_roll(world, 900))
    # Of 900 random pairs some repeat, but nowhere near all are alike or in a row.
    assert len({code[5:7] for code in codes}) > 400


@pytest.mark.django_db
def test_the_next_roll_goes_on_where_the_last_one_ended(world: World) -> None:
    first, second = print_roll(world, 10), print_roll(world, 5)
    other = print_roll(world, 5, "M5")
    assert (second.first, second.last) == (first.last + 1, first.last + 5)
    assert other.first == 0


@pytest.mark.django_db
def test_a_range_is_full_at_its_last_serial_and_says_so_before_anything_is_printed(
    world: World,
) -> None:
    last = rules.SERIALS - 1
    Roll.objects.create(
        range="M4", first=0, last=last - 10, site=world.store, printed_at=clock.now()
    )
    before = (Roll.objects.count(), Label.objects.count())
    with pytest.raises(RangeFull, match="M4"):
        print_roll(world, 11)
    assert (Roll.objects.count(), Label.objects.count()) == before
    roll = print_roll(world, 10)
    assert roll.last == last
    assert queries.codes_of(roll)[-1].startswith("M4YYY")
    with pytest.raises(RangeFull):
        print_roll(world, 1)


@pytest.mark.django_db
def test_the_database_refuses_a_roll_past_the_range(world: World) -> None:
    with pytest.raises(IntegrityError, match="roll_span"), transaction.atomic():
        Roll.objects.create(
            range="M4", first=5, last=rules.SERIALS, site=world.store, printed_at=clock.now()
        )


@pytest.mark.django_db(transaction=True)
def test_rolls_printed_at_once_do_not_overlap(world: World) -> None:
    rolls = at_once(*[lambda: print_roll(world, 40)] * 6)
    spans = sorted((roll.first, roll.last) for roll in rolls)
    assert spans == [(40 * i, 40 * i + 39) for i in range(6)]
    assert Label.objects.filter(code__startswith="M4").count() == 240


def test_check_symbol_is_that_of_the_worked_example() -> None:
    """The doctest of stdnum/iso7064/mod_37_2.py (python-stdnum): G123489654321 has check Y."""
    assert mod_37_2.calc_check_digit("G123489654321") == "Y"
    assert rules.check_symbol("G123489654321") == "Y"


def test_symbols_are_those_of_a_tire_identification_number() -> None:
    """49 CFR 574.5(f): A-H, J-N, P, R, T-Y and 0-9 without G; that is, no G I O Q S Z."""
    assert sorted(rules.SYMBOLS) == sorted("ABCDEFHJKLMNPRTUVWXY1234567890")
    assert len(rules.SYMBOLS) == 30
    assert set(rules.SLIPS) == set("GIOQSZ")
