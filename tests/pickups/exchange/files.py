"""Files as dealers have them, made here; and what the office does with them through its pages."""

import csv
import io
import re
from collections.abc import Sequence
from html import unescape
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from openpyxl import Workbook, load_workbook

from pickups.journal import services as journal


def text(rows: Sequence[Sequence[object]], separator: str = ",", encoding: str = "utf-8") -> bytes:
    """Rows as CSV."""
    out = io.StringIO()
    csv.writer(out, delimiter=separator).writerows(rows)
    return out.getvalue().encode(encoding)


def book(**sheets: Sequence[Sequence[object]]) -> bytes:
    """Rows as a workbook, a sheet a name."""
    made = Workbook()
    made.remove(made.worksheets[0])
    for title, rows in sheets.items():
        sheet = made.create_sheet(title)
        for row in rows:
            sheet.append(list(row))
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def cells(raw: bytes) -> dict[str, list[list[Any]]]:
    """What stands in a workbook, by sheet."""
    opened = load_workbook(io.BytesIO(raw), read_only=True)
    return {s.title: [list(row) for row in s.iter_rows(values_only=True)] for s in opened}


def rows(raw: bytes) -> list[list[str]]:
    """What stands in a CSV that we hand out."""
    return list(csv.reader(io.StringIO(raw.decode("utf-8-sig"), newline="")))


def upload(office: Client, raw: bytes, name: str = "list.csv", wanted: str = "") -> Any:
    """Choose a file on the page; the answer after being led on."""
    data = {"file": SimpleUploadedFile(name, raw), "wanted": wanted}
    return office.post("/office/lists/read", data, follow=True)


def said(answer: Any) -> str:
    """A page as it is read, without marks."""
    body = answer.content.decode().partition('tabindex="-1">')[2]
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).split())


def agree(office: Client, answer: Any) -> Any:
    """Press the one button of a page that shows what a file would do."""
    page = answer.content.decode()
    found = re.search(r'action="(/office/lists/[0-9a-f-]+/agree)"', page)
    mark = re.search(r'name="mark" value="([0-9a-f]+)"', page)
    assert found is not None, said(answer)
    assert mark is not None
    return office.post(found[1], {"mark": mark[1]}, follow=True)


def settle() -> None:
    """Do what the journal owes, as a worker would."""
    while journal.drain():
        pass


def bring(office: Client, raw: bytes, name: str = "list.csv") -> str:
    """Choose a file, agree to what it would do, wait until it is written: the last page."""
    answer = agree(office, upload(office, raw, name))
    settle()
    return said(office.get(answer.redirect_chain[-1][0]))
