"""What scanning costs a phone: milliseconds spent reading for each second of film, in a browser."""

import re
from pathlib import Path

from playwright.sync_api import expect

from tests.bench.figures import note
from tests.journeys import film
from tests.journeys.conftest import OpenApp, open_app, stack, web
from tests.world.stack import Stack

__all__ = ["open_app", "stack", "web"]  # fixtures that the journeys have too


def test_reading_a_second_of_film(web: Stack, open_app: OpenApp, tmp_path: Path) -> None:
    """Nothing is in sight: both stages run on every picture, which is the most that it costs."""
    tire = tmp_path / "tire.mjpeg"
    tire.write_bytes(film.jpeg(film.on_a_tire(None)) * 30)
    page = open_app(flags=film.camera(tire)).page
    page.get_by_test_id("scan").click()
    video = page.get_by_test_id("scan-video")
    expect(video).to_have_attribute("data-looks", re.compile(r"^\d{2,}$"))
    note(
        "scanning",
        decode_ms_per_s_of_film=float(video.get_attribute("data-decode-ms-per-s") or ""),
        looks=int(video.get_attribute("data-looks") or ""),
        aim="under 1,000: one thread keeps up",
    )
