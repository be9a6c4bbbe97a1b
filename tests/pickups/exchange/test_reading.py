"""Files are read as spreadsheets have them: encodings, separators, headings, numbers, rows."""

import csv
import io
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook
from openpyxl.styles import Font

from pickups.exchange import services, words
from pickups.exchange.rules import csv_text
from pickups.exchange.rules.cells import bare, guarded, text_of, unguarded
from pickups.exchange.rules.reading import MOST_ROWS, Line, Unreadable
from tests.pickups.exchange.files import book, text

HEAD = ["customer", "yard", "address"]


def read(raw: bytes, wanted: str = "") -> list[Line]:
    return services.read(raw, wanted).lines


def told(raw: bytes) -> list[tuple[int, list[str]]]:
    return [(line.row, list(line.cells.values())) for line in read(raw)]


@pytest.mark.parametrize("separator", [",", ";", "\t"], ids=["comma", "semicolon", "tab"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_text_is_read_in_every_usual_form(separator: str, encoding: str) -> None:
    rows = [HEAD, ["Peña", "Patio; norte, 2", "4 Lane"]]
    assert told(text(rows, separator, encoding)) == [(2, ["Peña", "Patio; norte, 2", "4 Lane"])]


def test_windows_1252_is_said_and_utf_8_is_not() -> None:
    rows = [HEAD, ["Peña", "1", ""]]
    assert ("windows", {}) in services.read(text(rows, encoding="cp1252")).said
    assert services.read(text(rows)).said == []


def test_rows_are_numbered_as_a_spreadsheet_shows_them() -> None:
    raw = b'sep=,\r\ncustomer,yard\r\n\r\nA,"two\nlines"\r\n,\r\nB,y\r\n'
    assert told(raw) == [(4, ["A", "two lines"]), (6, ["B", "y"])]


def test_headings_stand_in_any_order_in_either_language_below_a_title() -> None:
    raw = text([["Our yards", "", ""], ["DIRECCIÓN ", "e-mail", " Patio", "cliente"],
                ["4 Lane", "x", "North", "Tarn"]])  # fmt: skip
    found = services.read(raw)
    assert found.lines == [Line("yards", "", 3, {"customer": "Tarn", "yard_name": "North",
                                                 "address": "4 Lane"})]  # fmt: skip
    assert found.unknown == [("", "e-mail")]
    assert found.headings == {
        "": {"address": "DIRECCIÓN", "yard_name": "Patio", "customer": "cliente"}
    }


def test_a_row_that_begins_with_a_number_sign_is_not_read_and_that_is_said() -> None:
    found = services.read(text([HEAD, ["# example: Tarn", "North", ""], ["Tarn", "East", ""]]))
    assert [line.row for line in found.lines] == [3]
    assert found.said == [("remarks", {"n": 1, "sheet": ""})]


def test_a_workbook_holds_every_list_and_they_come_in_the_order_of_writing() -> None:
    raw = book(
        Notes=[["whatever"]],
        Specs=[["Customer", "Most retreads"], ["Tarn", 2]],
        Places=[HEAD, ["Tarn", "North", ""]],
        Fleets=[["Customer", "Store", "Customer number"], ["Tarn", "Bramblewick store", 1001.0]],
    )
    lines = read(raw)
    assert [(x.list, x.sheet, x.row) for x in lines] == [
        ("customers", "Fleets", 2), ("yards", "Places", 2), ("specifications", "Specs", 2),
    ]  # fmt: skip
    assert lines[0].cells["number"] == "1001"
    assert lines[2].cells["most_caps"] == "2"


def test_a_workbook_with_quirks_is_read_as_it_is_seen() -> None:
    made = Workbook()
    sheet = made.active
    assert sheet is not None
    sheet.title = "Yards of 2026"
    sheet["A1"] = "Yards, all of them"
    sheet.merge_cells("A1:C1")
    sheet.append(["  Customer ", "Yard", "Address", "Since"])
    sheet.append([12.0, " North\n yard ", date(2026, 4, 21), 1])
    sheet.append(["Tarn", True, "=1+1", 2])
    sheet.row_dimensions[4].hidden = True
    sheet.append([])
    sheet.append(["Tarn", "#REF!", None, None])
    sheet["Z5000"].font = Font(bold=True)  # a cell that only looks different
    out = io.BytesIO()
    made.save(out)
    found = services.read(out.getvalue())
    assert [(x.row, list(x.cells.values())) for x in found.lines] == [
        (3, ["12", "North yard", "2026-04-21"]),
        (4, ["Tarn", "TRUE", ""]),  # nobody has shown the formula's value yet
        (6, ["Tarn", "#REF!", ""]),
    ]
    assert found.unknown == [("Yards of 2026", "Since")]
    assert ("hidden_rows", {"n": 1}) in found.said


@pytest.mark.parametrize(
    ("cell", "shown"),
    [(12.0, "12"), (12.5, "12.5"), (7, "7"), (None, ""), (datetime(2026, 4, 21), "2026-04-21"),  # noqa: DTZ001 - as a cell has it
     (datetime(2026, 4, 21, 9, 30), "2026-04-21T09:30:00"),  # noqa: DTZ001 - as above
     (" a\t b\N{NO-BREAK SPACE}", "a b"),
     (True, "TRUE"), ("\N{ZERO WIDTH SPACE}x", "x")],
    ids=["float", "half", "whole", "none", "day", "instant", "gaps", "true", "unseen"],
)  # fmt: skip
def test_a_cell_is_text_on_one_line(cell: object, shown: str) -> None:
    assert text_of(cell) == shown


@pytest.mark.parametrize(
    ("raw", "wanted", "key"),
    [
        (b"", "", "empty"),
        (b" \r\n", "", "empty"),
        (b"a,b\n1,2\n", "", "no_headings"),
        (text([["customer number", "customer"], ["1", "Tarn"]]), "", "column_missing"),
        (text([["customer", "address"], ["Tarn", "x"]]), "yards", "column_missing"),
        (b'customer,yard\nA,"never closed\n' + b"x,y\n" * 4000, "", "long_cell"),
        (b"customer,yard\nA," + b"x" * 140_000, "", "broken_row"),
        (text([HEAD, *[["A", str(n), ""] for n in range(MOST_ROWS + 1)]]), "", "too_many_rows"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "", "not_text"),
        (b"\x81\x8d\x8f", "", "not_text"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 500, "", "old_workbook"),
        (b"PK\x03\x04 and then nothing", "", "broken_workbook"),
    ],
    ids=["empty", "blank", "headings", "column", "wanted", "quote", "field", "rows", "picture",
         "bytes", "old", "cut"],
)  # fmt: skip
def test_what_cannot_be_read_is_told_apart(raw: bytes, wanted: str, key: str) -> None:
    with pytest.raises(Unreadable) as caught:
        services.read(raw, wanted)
    assert caught.value.key == key
    for language in ("en", "es"):
        assert words.unreadable(language, caught.value)


TEXT = st.text(st.characters(exclude_categories=["Cs", "Cc", "Cn", "Co"]), max_size=30)


@given(st.lists(st.tuples(TEXT, TEXT, TEXT), max_size=8), st.sampled_from(",;\t"))
def test_what_is_written_as_text_is_read_back(
    rows: list[tuple[str, str, str]], separator: str
) -> None:
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator)
    writer.writerow(HEAD)
    writer.writerows([["r", guarded(bare(a)), guarded(bare(b))] for _, a, b in rows])
    read_back = [line.cells for line in read(out.getvalue().encode())]
    kept = [{"customer": "r", "yard_name": bare(a), "address": bare(b)} for _, a, b in rows]
    assert read_back == kept


FORMULAS = ("=", "+", "-", "@")


@given(TEXT)
def test_no_text_goes_out_as_a_formula_and_each_comes_back(told: str) -> None:
    assert guarded(told)[:1] not in FORMULAS
    assert unguarded(guarded(told)) == bare(told)


@given(st.lists(st.lists(st.text("=@;\t,\"' \na", max_size=8), min_size=2, max_size=3), max_size=4))
def test_no_cell_is_a_formula_by_whatever_a_spreadsheet_parts_them(rows: list[list[str]]) -> None:
    """A spreadsheet parts by what its country does, not by what was written."""
    told = [[guarded(cell) for cell in row] for row in rows]
    raw = "".join(csv_text.write(["a", "b"], told)).removeprefix(csv_text.BOM)
    for separator in csv_text.SEPARATORS:
        seen = csv.reader(io.StringIO(raw, newline=""), delimiter=separator)
        assert not [cell for row in seen for cell in row if cell.strip().startswith(FORMULAS)]
    assert [[unguarded(c) for c in row] for row in told] == [[bare(c) for c in r] for r in rows]
