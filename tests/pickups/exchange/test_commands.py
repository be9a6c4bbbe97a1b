"""An operator brings lists in and takes work out by manage.py."""

import csv
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from pickups.customers.models import Customer, Yard
from pickups.exchange.models import Import
from pickups.journal.models import Entry
from tests.conftest import Enrol
from tests.pickups.exchange.files import book, text
from tests.pickups.exchange.test_take_out import casings
from tests.world import World

HEADS = ["customer", "yard", "address"]


@pytest.fixture
def yards(tmp_path: Path) -> Path:
    path = tmp_path / "yards.csv"
    path.write_bytes(text([HEADS, ["Tarn Valley Haulage", "South yard", "1 Low Lane"],
                           ["Tarn Valley Haulage", "North yard", "5 Quarry Lane"]]))  # fmt: skip
    return path


def run(*args: object) -> tuple[str, str]:
    out, wrong = StringIO(), StringIO()
    name, *rest = map(str, args)
    call_command(name, *rest, stdout=out, stderr=wrong)
    return out.getvalue(), wrong.getvalue()


def test_without_write_it_is_only_said_what_would_be(world: World, yards: Path) -> None:
    before = Entry.objects.count()
    said, _ = run("import_customers", yards)
    assert "Yards: 1 new, 1 changed, 0 same" in said
    assert "row 3, Address: '4 Quarry Lane' -> '5 Quarry Lane'" in said
    assert "Nothing was written. Add --write to write it." in said
    assert not Yard.objects.filter(name="South yard").exists()
    assert (Import.objects.count(), Entry.objects.count()) == (0, before)


def test_with_write_it_is_written_and_again_there_is_nothing_to_write(
    world: World, yards: Path
) -> None:
    said, _ = run("import_customers", yards, "--write")
    assert "Written." in said
    south = Yard.objects.get(name="South yard")
    assert south.address == "1 Low Lane"
    assert south.history.get().history_change_reason == "yards.csv"
    again, _ = run("import_customers", yards, "--write")
    assert "Yards: 0 new, 0 changed, 2 same" in again
    assert "Nothing to write." in again


def test_a_fault_is_named_on_stderr_and_ends_with_an_error(world: World, tmp_path: Path) -> None:
    path = tmp_path / "all.xlsx"
    path.write_bytes(book(Fleets=[["name", "store"], ["New Fleet", "Bramblewick store"]],
                          Places=[HEADS, ["Nobody", "x", ""]]))  # fmt: skip
    wrong = StringIO()
    with pytest.raises(CommandError, match="1 faults; nothing was written"):
        call_command("import_customers", str(path), "--write", stdout=StringIO(), stderr=wrong)
    assert "Places, row 2, customer: 'Nobody': No customer has this number" in wrong.getvalue()
    assert not Customer.objects.filter(name="New Fleet").exists()
    assert Import.objects.count() == 0


@pytest.mark.parametrize("content", [b"", b"\x00\x01", b"x" * (5 * 2**20 + 1)])
def test_what_cannot_be_read_is_said(world: World, tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "odd.csv"
    path.write_bytes(content)
    with pytest.raises(CommandError, match=r"odd\.csv"):
        run("import_customers", path)
    with pytest.raises(CommandError, match="cannot be read"):
        run("import_customers", tmp_path / "nowhere.csv")


def exported(path: Path) -> list[dict[str, Any]]:
    return list(csv.DictReader(path.read_text("utf-8-sig").splitlines()))


def test_work_goes_out_whole_or_of_one_customer(world: World, enrol: Enrol, tmp_path: Path) -> None:
    told = casings(world, enrol)
    path = tmp_path / "work.csv"
    run("export_work", path)
    assert {row["Label"] for row in exported(path)} == {told["labels"][0], told["labels"][2]}
    run("export_work", path, "--customer", "tarn valley haulage", "--language", "es")
    assert [row["Etiqueta"] for row in exported(path)] == [told["labels"][0]]
    run("export_work", path, "--scrap")
    assert [row["Count"] for row in exported(path)] == ["12"]
    run("export_work", tmp_path / "work.xlsx", "--to", "2020-01-01")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["work.csv", "work.xlsx"]


def test_work_goes_to_no_odd_place(world: World, tmp_path: Path) -> None:
    with pytest.raises(CommandError, match=r"allowed: \.csv, \.xlsx"):
        run("export_work", tmp_path / "work.pdf")
    with pytest.raises(CommandError, match="names 0 customers"):
        run("export_work", tmp_path / "work.csv", "--customer", "Nobody")
    with pytest.raises(CommandError, match="cannot be written"):
        run("export_work", tmp_path / "no" / "work.csv")
    assert list(tmp_path.iterdir()) == []
