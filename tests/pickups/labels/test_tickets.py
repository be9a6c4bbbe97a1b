"""Tickets of drop-offs are made on a device; their squares and checks are what ours would be."""

import json
from typing import Any
from uuid import UUID

import pytest
import zxingcpp
from PIL import Image
from qrcode.constants import ERROR_CORRECT_H
from stdnum.iso7064 import mod_37_2

from pickups.config.places import PROJECT
from pickups.labels.printing import qr_matrix
from pickups.labels.rules import LETTERS, SYMBOLS, ticket_number

VECTORS = json.loads((PROJECT / "fixtures" / "vectors" / "tickets.json").read_text())
NUMBERS = [told["number"] for told in (*VECTORS["tickets"], *VECTORS["numbers"])]


@pytest.mark.parametrize("ticket", VECTORS["tickets"], ids=lambda told: told["number"])
def test_the_square_is_drawn_as_qrcode_draws_it_and_reads_back(ticket: dict[str, Any]) -> None:
    text = f"T/{ticket['number']}"
    rows = [
        "".join("#" if dark else "." for dark in row) for row in qr_matrix(text, ERROR_CORRECT_H)
    ]
    assert rows == ticket["qr"]
    side = (len(rows) + 8) * 4
    picture = Image.new("L", (side, side), 255)
    for y, row in enumerate(ticket["qr"]):
        for x, module in enumerate(row):
            if module == "#":
                picture.paste(0, ((x + 4) * 4, (y + 4) * 4, (x + 5) * 4, (y + 5) * 4))
    assert [found.text for found in zxingcpp.read_barcodes(picture)] == [text]


def test_numbers_are_checked_as_labels_are_and_are_none() -> None:
    assert len(set(NUMBERS)) == len(NUMBERS) > 20
    for number in NUMBERS:
        assert len(number) == 7
        assert set(number) <= set(SYMBOLS)
        assert number[0] in LETTERS
        assert mod_37_2.is_valid(number)


@pytest.mark.parametrize(
    "told", [*VECTORS["tickets"], *VECTORS["numbers"]], ids=lambda told: told["number"]
)
def test_the_number_is_the_one_that_the_device_made(told: dict[str, Any]) -> None:
    assert ticket_number(UUID(told["pickup"])) == told["number"]
