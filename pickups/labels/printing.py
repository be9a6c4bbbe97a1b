"""Draws labels as a PDF: for a roll of 100 x 50 mm at 203 dpi, or for a sheet of letter paper.

All places are in dots of 1/8 mm, the pitch of a 203 dpi print head, so that every bar and module
is whole dots. Two symbols say the same code, a QR at one end and a Code 128 at the other: either
is enough. What survives dirt, scrapes and torn ends is in `make bench`; no stock is promised to
stand heat or paint. Pure: knows neither tables nor HTTP, and never makes a code.
"""

import json
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

import qrcode
import qrcode.constants
import typst
import zxingcpp
from PIL import Image
from qrcode.util import ALPHA_NUM, MODE_ALPHA_NUM, QRData

from pickups.labels.rules import fault

WIDE, HIGH = 800, 400
"""A label in dots: 100 x 50 mm."""

QR_BOX, QR_SPARE = 264, 8
"""The most that a QR takes of the label, without its quiet zone of four modules all round; and
what is left beside that, should the roll run askew.
"""

LEAST_MODULE = 4
"""A camera at 5 pixels a millimetre cannot tell smaller modules apart."""

LEVELS = (qrcode.constants.ERROR_CORRECT_H, qrcode.constants.ERROR_CORRECT_Q)
"""Error correction: H, and Q for an address so long that H would need smaller modules. Under wear
the two are alike within a point, and read more often than M and L (`tests/bench/test_survival.py`).
"""

MASK = 3
"""One mask for all: scoring the eight of them costs seven times as much and reads no better."""

BAR = 3
BARS_TOP, BARS_HIGH, BARS_QUIET = 216, 148, 30
"""The Code 128: dots a module, and where it stands. Its quiet zone is ten modules. A phone at 6
pixels a millimetre reads it at 3 dots, and not at 2.
"""

TEXT_LEFT, TEXT_WIDE = 344, 440
ADVANCE = 0.602
LEADING = 1.2
"""Of the size of the monospace face: from a letter to the next, from a line to the next."""

TEMPLATE = Path(__file__).with_suffix(".typ")
FONTS = typst.Fonts(include_system_fonts=False, include_embedded_fonts=True)


@dataclass(frozen=True)
class Stock:
    """What labels are printed on: a page in mm, and how many labels it takes."""

    page_mm: tuple[float, float]
    columns: int = 1
    rows: int = 1


ROLL = Stock((100, 50))
LETTER = Stock((215.9, 279.4), columns=2, rows=5)


def roll_pdf(
    codes: Iterable[str],
    *,
    base_url: str,
    dealer: str,
    phone: str,
    stock: Stock = ROLL,
    twins: bool = True,
    kind: str = "yard label",
) -> bytes:
    """The labels of these codes, in their order, as a PDF; the same input gives the same bytes.

    With twins each code comes twice in a row, one for either sidewall, and says so. kind: what
    the label says that it is. ValueError where a code is
    not sound, or where the address, the dealer's name or phone is too long for a label.
    """
    codes = list(codes)
    if not codes:
        raise ValueError("no codes: a roll has at least one label")
    for code in codes:
        if wrong := fault(code):
            raise ValueError(f"{code!r} is not a label: {wrong}")
    name = _fitted("the dealer's name", dealer, sizes=(36, 32, 28, 24, 20, 16), high=60)
    call = _fitted("the dealer's phone", phone, sizes=(40, 36, 32, 28, 24, 20, 16), high=48)
    job = {
        "page": stock.page_mm,
        "columns": stock.columns,
        "rows": stock.rows,
        "left": TEXT_LEFT,
        "kind": f"{kind}, same code on both sides" if twins else kind,
        "dealer": name,
        "phone": call,
        "each": 2 if twins else 1,
        "labels": [{"code": [c[:4], c[4:]], "svg": _svg(c, base_url)} for c in codes],
    }
    return typst.compile(
        TEMPLATE,
        root=TEMPLATE.parent,
        font_paths=FONTS,
        format="pdf",
        sys_inputs={"job": json.dumps(job)},
        timestamp=0,
        pdf_tags=False,
    )


def link(code: str, base_url: str) -> str:
    """What the QR holds: the address behind the label in capitals; hosts do not mind them."""
    return f"{base_url.rstrip('/')}/L/{code}".upper()


def qr_matrix(text: str, level: int) -> list[list[bool]]:
    """The modules of a QR, row by row; alphanumeric mode where the characters allow it."""
    drawn = qrcode.QRCode(error_correction=level, border=0, mask_pattern=MASK)
    raw = text.encode()
    drawn.add_data(QRData(raw, MODE_ALPHA_NUM) if set(raw) <= set(ALPHA_NUM) else QRData(raw))
    drawn.make()
    return [[bool(dark) for dark in row] for row in drawn.modules]


def bars(code: str) -> list[bool]:
    """The modules of a Code 128, from its start symbol to the end of its stop symbol."""
    symbol = zxingcpp.create_barcode(code, zxingcpp.BarcodeFormat.Code128)
    drawn = Image.fromarray(symbol.to_image(scale=1, add_quiet_zones=False))
    return [dot == 0 for dot in drawn.tobytes()[: drawn.width]]


def _svg(code: str, base_url: str) -> str:
    """Both symbols of a label as one path, in dots."""
    rows, module = _largest(link(code, base_url))
    left, top = 4 * module + QR_SPARE, (HIGH - module * len(rows)) // 2
    path = [
        _bar(left + module * x, top + module * y, module * wide, module)
        for y, row in enumerate(rows)
        for x, wide in _dark(row)
    ]
    line = bars(code)
    left = WIDE - BARS_QUIET - BAR * len(line)
    path += [_bar(left + BAR * x, BARS_TOP, BAR * wide, BARS_HIGH) for x, wide in _dark(line)]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {HIGH}"'
        f' width="{WIDE}" height="{HIGH}"><path d="{"".join(path)}"/></svg>'
    )


def _largest(text: str) -> tuple[list[list[bool]], int]:
    """The QR with the strongest correction whose modules are large enough, and their dots."""
    for level in LEVELS:
        rows = qr_matrix(text, level)
        if (module := QR_BOX // len(rows)) >= LEAST_MODULE:
            return rows, module
    raise ValueError(f"the address {text!r} is too long for a label; take a shorter host")


def _dark(modules: Sequence[bool]) -> list[tuple[int, int]]:
    """Where dark runs begin and how wide they are."""
    found, at = [], 0
    for dark, run in groupby(modules):
        wide = len(list(run))
        if dark:
            found.append((at, wide))
        at += wide
    return found


def _bar(x: int, y: int, wide: int, high: int) -> str:
    return f"M{x} {y}h{wide}v{high}h-{wide}z"


def _fitted(what: str, text: str, *, sizes: Sequence[int], high: int) -> dict[str, object]:
    """A text broken into lines in the largest of these sizes that fits; sizes in dots."""
    for size in sizes:
        most = int(TEXT_WIDE / (size * ADVANCE))
        lines = textwrap.wrap(text, most, break_long_words=False)
        if all(len(line) <= most for line in lines) and len(lines) * size * LEADING <= high:
            return {"size": size, "step": size * LEADING, "lines": lines}
    raise ValueError(f"{what}, {text!r}, is too long for a label")
