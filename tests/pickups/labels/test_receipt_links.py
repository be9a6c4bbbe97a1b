"""Links to receipts are made on a device; the squares are what our own encoder draws of them."""

import json
import re
from typing import Any

import pytest
import qrcode.constants
import zxingcpp
from PIL import Image

from pickups.config.places import PROJECT
from pickups.custody.wire.visits import RECEIPT_KEY
from pickups.labels.printing import qr_matrix

VECTORS = json.loads((PROJECT / "fixtures" / "vectors" / "receipt_links.json").read_text())
LEVELS = {"M": qrcode.constants.ERROR_CORRECT_M, "L": qrcode.constants.ERROR_CORRECT_L}


@pytest.mark.parametrize("link", VECTORS["links"], ids=lambda told: told["key"])
def test_the_square_is_drawn_as_qrcode_draws_it_and_reads_back(link: dict[str, Any]) -> None:
    assert re.fullmatch(RECEIPT_KEY, link["key"])
    text = f"{link['origin'].upper()}/R/{link['key']}"
    rows = ["".join(".#"[dark] for dark in row) for row in qr_matrix(text, LEVELS[link["level"]])]
    assert rows == link["qr"]
    dots = bytes(0 if module == "#" else 255 for row in rows for module in row)
    drawn = Image.frombytes("L", (len(rows), len(rows)), dots).resize((len(rows) * 4,) * 2, 0)
    picture = Image.new("L", (drawn.width + 32, drawn.width + 32), 255)
    picture.paste(drawn, (16, 16))
    assert [found.text for found in zxingcpp.read_barcodes(picture)] == [text]
