"""Draws a receipt as a PDF on letter paper, one sheet a language, in the fonts that come with the
typesetter. Pure: knows neither tables nor HTTP, and the same input gives the same bytes."""

import json
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

import typst

from pickups.notices.words.sheet import Sheet

TEMPLATE = Path(__file__).with_suffix(".typ")
FONTS = typst.Fonts(include_system_fonts=False, include_embedded_fonts=True)


def receipt_pdf(sheets: Sequence[Sheet], *, dealer: str, phone: str) -> bytes:
    """The receipt in these languages, in their order."""
    job = {"dealer": dealer, "phone": phone, "sheets": [asdict(sheet) for sheet in sheets]}
    return typst.compile(
        TEMPLATE,
        root=TEMPLATE.parent,
        font_paths=FONTS,
        format="pdf",
        sys_inputs={"job": json.dumps(job)},
        timestamp=0,
    )
