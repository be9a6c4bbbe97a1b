"""Files that were made to do harm, or are not what they are called: refused, and nothing kept."""

import io
import time
import zipfile

import pytest
from django.test import Client
from openpyxl import Workbook
from pytest_django import Settings

from pickups.exchange.models import Import
from pickups.exchange.rules.reading import MOST_COLUMNS
from pickups.kernel import uploads
from tests.pickups.exchange.files import book, said, text, upload
from tests.world import World

GOOD = book(Yards=[["customer", "yard"], ["Tarn Valley Haulage", "South"]])
SHEET = "xl/worksheets/sheet1.xml"


def changed(**parts: bytes | None) -> bytes:
    """The good workbook with parts put in the place of its own; None takes one out. A double
    underscore stands for a slash."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(GOOD)) as old, zipfile.ZipFile(out, "w", 8) as new:
        put = {name.replace("__", "/"): content for name, content in parts.items()}
        for name in {*old.namelist(), *put}:
            content = put.get(name, old.read(name) if name in old.namelist() else None)
            if content is not None:
                new.writestr(name, content)
    return out.getvalue()


def sheet(body: str, before: str = "") -> bytes:
    namespace = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    return f'{before}<worksheet xmlns="{namespace}">{body}</worksheet>'.encode()


def refused(office: Client, raw: bytes, name: str, why: str) -> None:
    began = time.monotonic()
    page = upload(office, raw, name)
    assert page.status_code == 400
    assert why in said(page)
    assert time.monotonic() - began < 20
    assert Import.objects.count() == 0


def test_a_bomb_is_not_unpacked(office: Client) -> None:
    bomb = changed(**{SHEET: b"<a>" + b"\0" * (80 * 2**20)})
    assert len(bomb) < uploads.MOST_BYTES
    refused(office, bomb, "x.xlsx", "unpacks to more than 64 MB")


def test_rows_that_never_end_take_no_longer_than_others(office: Client) -> None:
    """Many beginnings of a row and no end: each is looked at once, not to the end of the file."""
    refused(office, changed(**{SHEET: b"<row " * 100_000}), "x.xlsx", "cannot be read")


def test_many_parts_are_not_unpacked(office: Client) -> None:
    parts: dict[str, bytes | None] = {f"xl/media/{n}.png": b"" for n in range(500)}
    refused(office, changed(**parts), "x.xlsx", "unpacks to more than")


def test_a_part_that_says_it_is_small_is_read_no_further(office: Client) -> None:
    raw = bytearray(changed(**{SHEET: b"<a>" + b"x" * (3 * 2**20)}))
    claimed = (3 * 2**20 + 3).to_bytes(4, "little")
    assert raw.count(claimed) >= 1
    refused(office, bytes(raw.replace(claimed, (10).to_bytes(4, "little"))), "x.xlsx",
            "cannot be read")  # fmt: skip


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_entities_are_not_expanded(office: Client, encoding: str) -> None:
    laughs = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
    before = f'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY l0 "ha">{laughs}]>'
    cell = '<sheetData><row r="1"><c r="A1" t="str"><v>&l9;</v></c></row></sheetData>'
    hostile = sheet(cell, before).decode().encode(encoding)
    refused(office, changed(**{SHEET: hostile}), "x.xlsx", "cannot be read")


def test_no_file_of_this_machine_is_read_into_a_cell(office: Client) -> None:
    before = '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY f SYSTEM "file:///etc/hostname">]>'
    cell = '<sheetData><row r="1"><c r="A1" t="str"><v>&f;</v></c></row></sheetData>'
    refused(office, changed(**{SHEET: sheet(cell, before)}), "x.xlsx", "cannot be read")


def test_a_link_to_another_workbook_is_not_followed(office: Client, world: World) -> None:
    made = Workbook()
    page = made.worksheets[0]
    page.append(["customer", "yard", "address"])
    page.append(["Tarn Valley Haulage", "South", "='[http://evil.example/x.xlsx]S'!A1"])
    page.append(["Tarn Valley Haulage", "West", '=WEBSERVICE("http://evil.example")'])
    out = io.BytesIO()
    made.save(out)
    assert "Yards 2 0 0" in said(upload(office, out.getvalue(), "x.xlsx"))


def test_rows_and_columns_far_away_cost_nothing(office: Client) -> None:
    """A claim of 17 thousand million cells, a cell in the last column of many rows, a far row."""
    heads = ('<row r="1"><c r="A1" t="str"><v>customer</v></c><c r="B1" t="str"><v>yard</v></c>'
             '</row>')  # fmt: skip
    rows = "".join(
        f'<row r="{n}"><c r="A{n}" t="str"><v>Tarn Valley Haulage</v></c><c r="B{n}" t="str">'
        f'<v>Y{n}</v></c><c r="XFD{n}"><v>1</v></c></row>'
        for n in range(2, 2000)
    )
    far = '<row r="1048576"><c r="A1048576" t="str"><v>nobody</v></c></row>'
    body = f'<dimension ref="A1:XFD1048576"/><sheetData>{heads}{rows}{far}</sheetData>'
    began = time.monotonic()
    page = said(upload(office, changed(**{SHEET: sheet(body)}), "x.xlsx"))
    assert time.monotonic() - began < 30
    assert "row 1048576" in page


def test_a_row_that_no_sheet_has_is_refused(office: Client) -> None:
    body = '<sheetData><row r="2000000000"><c r="A1" t="str"><v>x</v></c></row></sheetData>'
    refused(office, changed(**{SHEET: sheet(body)}), "x.xlsx", "cannot be read")


@pytest.mark.parametrize(
    ("raw", "name", "why"),
    [
        (GOOD[: len(GOOD) // 2], "half.xlsx", "cannot be read"),
        (changed(**{"xl/workbook.xml": None}), "x.xlsx", "no workbook of the form .xlsx"),
        (changed(**{SHEET: b"no xml"}), "x.xlsx", "cannot be read"),
        (b"%PDF-1.7\n\x00\x01", "list.csv", "neither a workbook (.xlsx) nor text"),
        (b"MZ\x90\x00\x03", "list.xlsx", "neither a workbook (.xlsx) nor text"),
    ],
    ids=["half", "archive", "xml", "pdf", "program"],
)
def test_what_is_no_list_is_refused(office: Client, raw: bytes, name: str, why: str) -> None:
    refused(office, raw, name, why)


def test_what_a_file_is_called_does_not_matter(office: Client, world: World) -> None:
    assert "Yards 1 0 0" in said(upload(office, GOOD, "list.csv"))
    raw = text([["customer", "yard"], ["Tarn Valley Haulage", "South"]])
    assert "Yards 1 0 0" in said(upload(office, raw, "../../etc/passwd.xlsx"))


def test_more_columns_than_are_read_are_no_harm(office: Client, world: World) -> None:
    wide = [f"c{n}" for n in range(MOST_COLUMNS + 100)]
    raw = text([["customer", "yard", *wide], ["Tarn Valley Haulage", "South", *wide]])
    assert "Yards 1 0 0" in said(upload(office, raw))


def test_a_file_that_is_too_large_is_not_kept_and_the_page_says_so(office: Client) -> None:
    raw = text([["customer", "yard"]]) + b"x,y\n" * (uploads.MOST_BYTES // 4)
    page = upload(office, raw, "big.csv", wanted="yards")
    assert (page.status_code, Import.objects.count()) == (400, 0)
    assert "The file has more than 5 MB." in said(page)


def test_a_body_that_claims_a_thousand_megabytes_is_refused_unread(
    office: Client, settings: Settings
) -> None:
    settings.DEBUG = False
    office.raise_request_exception = False
    answer = office.generic(
        "POST", "/office/lists/read", b"--x\r\n", "multipart/form-data; boundary=x",
        CONTENT_LENGTH=str(10**9),
    )  # fmt: skip
    assert answer.status_code == 400


@pytest.mark.parametrize("name", ["x" * 300, "a\x00b.csv", "<script>.csv"])
def test_odd_names_of_files_are_shown_as_text(office: Client, world: World, name: str) -> None:
    raw = text([["customer", "yard"], ["Tarn Valley Haulage", "South"]])
    page = upload(office, raw, name)
    assert page.status_code in (200, 400)
    assert "<script>." not in page.content.decode()
