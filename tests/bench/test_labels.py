"""Labels: 1,000 to a PDF against reportlab, and from how far away they are read.

The peer draws the same label with its own QR and Code 128, and once more with our symbols. What
survives wear is in `test_survival.py`.
"""

import io
import time
from collections.abc import Callable
from importlib.metadata import version
from random import Random

import pytest
from qrcode.constants import ERROR_CORRECT_H
from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.code128 import Code128
from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.pdfgen.canvas import Canvas

from pickups.labels import printing
from tests.bench.figures import note
from tests.pickups.labels.pictures import codes, photo, rasters, texts

BASE = "https://marrowgate.example"
LINK = "HTTPS://MARROWGATE.EXAMPLE/L/"
DEALER, PHONE = "Marrowgate Tire & Retread", "555 0100"
DOT = 72 / 25.4 / 8
COUNT = 1000
TRIED = 100


def ours(labels: list[str]) -> bytes:
    return printing.roll_pdf(labels, base_url=BASE, dealer=DEALER, phone=PHONE, twins=False)


def own_symbols(canvas: Canvas, code: str) -> None:
    qr = QrCodeWidget(LINK + code, barLevel="H", barBorder=0)
    qr.barWidth = qr.barHeight = 264 * DOT
    drawing = Drawing(264 * DOT, 264 * DOT)
    drawing.add(qr)
    renderPDF.draw(drawing, canvas, 40 * DOT, 68 * DOT)
    lines = Code128(code, barWidth=3 * DOT, barHeight=148 * DOT, quiet=False)
    lines.drawOn(canvas, 401 * DOT, 36 * DOT)


def our_symbols(canvas: Canvas, code: str) -> None:
    path = canvas.beginPath()
    rows = printing.qr_matrix(LINK + code, ERROR_CORRECT_H)
    size = 264 // len(rows)
    for y, row in enumerate(rows):
        for x, wide in printing._dark(row):
            left, low = 40 + size * x, 332 - size * (y + 1)
            path.rect(left * DOT, low * DOT, size * wide * DOT, size * DOT)
    for x, wide in printing._dark(printing.bars(code)):
        path.rect((401 + 3 * x) * DOT, 36 * DOT, 3 * wide * DOT, 148 * DOT)
    canvas.drawPath(path, stroke=0, fill=1)


def reportlab(labels: list[str], symbols: Callable[[Canvas, str], None]) -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(800 * DOT, 400 * DOT), pageCompression=1)
    for code in labels:
        symbols(canvas, code)
        for size, y, text in (
            (28, 358, DEALER),
            (40, 300, PHONE),
            (86, 201, f"{code[:4]} {code[4:]}"),
            (17, 12, "yard label"),
        ):
            canvas.setFont("Courier-Bold", size * DOT)
            canvas.drawString(344 * DOT, y * DOT, text)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def took(draw: Callable[[], bytes]) -> tuple[float, bytes]:
    began = time.perf_counter()
    made = draw()
    return time.perf_counter() - began, made


def test_a_thousand_labels_to_a_pdf() -> None:
    labels = codes(COUNT)
    ours(labels[:5])
    reportlab(labels[:5], own_symbols)
    own_s, pdf = took(lambda: ours(labels))
    peer_s, peer_pdf = took(lambda: reportlab(labels, own_symbols))
    bare_s, _ = took(lambda: reportlab(labels, our_symbols))
    seen = [texts(page) for page in rasters(pdf, 203)]
    read = {
        "qr": sum(s["qr"] == [LINK + code] for s, code in zip(seen, labels, strict=True)),
        "bars": sum(s["bars"] == [code] for s, code in zip(seen, labels, strict=True)),
    }
    note(
        "1,000 labels to PDF",
        ours_s=own_s,
        reportlab_s=peer_s,
        ratio=peer_s / own_s,
        reportlab_with_our_symbols_s=bare_s,
        ours_kb=len(pdf) / 1024,
        reportlab_kb=len(peer_pdf) / 1024,
        qr_read=read["qr"],
        bars_read=read["bars"],
        aim="under 5 s, every symbol read back at 203 dpi",
        versions={p: version(p) for p in ("typst", "qrcode", "zxing-cpp", "reportlab")},
    )
    assert read == {"qr": COUNT, "bars": COUNT}


@pytest.mark.parametrize(("pixels_mm", "least"), [(10, 98), (8, 98), (6, 90), (5, 50)])
def test_bars_of_three_dots_are_read_from_further_away_than_bars_of_two(
    pixels_mm: int, least: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    figures: dict[str, float] = {}
    for dots in (3, 2):
        monkeypatch.setattr(printing, "BAR", dots)
        chance, labels = Random(12), codes(TRIED)
        seen = [texts(photo(page, pixels_mm, chance)) for page in rasters(ours(labels))]
        hits = sum(code in s["bars"] for s, code in zip(seen, labels, strict=True))
        figures[f"bars_of_{dots}"] = 100 * hits / TRIED
        if dots == 3:
            qr = sum(LINK + code in s["qr"] for s, code in zip(seen, labels, strict=True))
            figures["qr"] = 100 * qr / TRIED
    note(f"labels read at {pixels_mm} pixels a mm", tried=TRIED, **figures)
    assert figures["bars_of_3"] >= max(least, figures["bars_of_2"])
