"""Drawn pictures of casings and signatures for the demo: no photograph of anything real."""

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
    return _kept(_jpeg(image), device, at)


def scrawl(name: str, *, device: UUID, at: datetime) -> str:
    """Keep a signature; returns its hash."""
    return _kept(signature(name), device, at)


def signature(name: str) -> bytes:
    """Draw a signature that nobody could read, another for each name: a JPEG."""
    image = Image.new("RGB", (600, 200), PAPER)
    draw = ImageDraw.Draw(image)
    marks = [int(byte) for byte in hashlib.sha256(name.encode()).digest()]
    points = [(30 + 18 * i, 40 + mark * 120 // 255) for i, mark in enumerate(marks[:29])]
    draw.line(points, fill=INK, width=5, joint="curve")
    draw.line((40, 165, 540, 150 + marks[30] % 30), fill=INK, width=4)
    return _jpeg(image)


def _jpeg(image: Image.Image) -> bytes:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=85)
    return out.getvalue()


def _kept(data: bytes, device: UUID, at: datetime) -> str:
    sha256 = hashlib.sha256(data).hexdigest()
    photos.keep(sha256=sha256, data=data, device=device, at=at)
    return sha256
