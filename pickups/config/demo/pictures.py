"""Drawn pictures of casings for the demo: no photograph of anything real."""

import hashlib
import io
from datetime import datetime
from uuid import UUID

from PIL import Image, ImageDraw

from pickups.sync import photos

RUBBER, WORN, GROUND, PAPER, INK = "#2e3033", "#3d4044", "#8d8a80", "#fbfaf6", "#15181b"


def picture(label: str, number: int, *, device: UUID, at: datetime) -> str:
    """Draw a casing leaning against a wall, its label on the sidewall; returns the hash."""
    image = Image.new("RGB", (800, 600), GROUND)
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, 470, 800, 600), fill="#6f6c63")
    middle, reach = (400 + 20 * (number % 3 - 1), 300), 250
    for part, fill in ((1.0, RUBBER), (0.88, WORN), (0.84, RUBBER), (0.52, "#17181a")):
        radius = reach * part
        box = (middle[0] - radius, middle[1] - radius, middle[0] + radius, middle[1] + radius)
        draw.ellipse(box, fill=fill)
    top = middle[1] - reach * 0.72
    draw.rounded_rectangle((middle[0] - 80, top - 22, middle[0] + 80, top + 22), 4, fill=PAPER)
    draw.text((middle[0], top), f"{label[:4]} {label[4:]}", INK, font_size=28, anchor="mm")
    for i in range(number):
        x = middle[0] - 150 + 34 * i
        draw.line((x, 350, x + 8, 420), fill="#f5c518", width=11)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=85)
    sha256 = hashlib.sha256(out.getvalue()).hexdigest()
    photos.keep(sha256=sha256, data=out.getvalue(), device=device, at=at)
    return sha256
