"""A film for the browser's camera: a printed label as a phone sees it on a yard.

Chromium plays a file of JPEGs laid end to end (.mjpeg) in place of a camera, at 30 pictures a
second, over and over. The label comes from the product's own print; the picture is dim, tilted,
out of focus and noisy, and the label drifts in the hand that holds it.
"""

import io
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import pypdfium2
import qrcode
from PIL import Image, ImageChops, ImageDraw, ImageFilter
from qrcode.image.pil import PilImage

from pickups.labels.printing import TEXT_LEFT, roll_pdf

# Held upright, as a hand holds a phone.
SIZE = (720, 1280)
DOTS_AN_INCH = 203.2
PICTURES_A_SECOND = 30
# How long each of the drawn pictures stands.
STANDS = 5


def camera(film: Path) -> list[str]:
    """The flags with which Chromium plays the film for its camera, and asks nobody."""
    return [
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={film}",
    ]


def printed(code: str, base_url: str) -> Image.Image:
    """The first label of a roll as the print head's dots: 203 to the inch."""
    pdf = roll_pdf([code], base_url=base_url, dealer="Any dealer", phone="555 0100")
    page = pypdfium2.PdfDocument(pdf)[0]
    dots: Image.Image = page.render(scale=DOTS_AN_INCH / 72).to_pil()
    return dots.convert("L")


def torn(label: Image.Image) -> Image.Image:
    """What is left of a label whose square is torn off: the end with the bars."""
    return label.crop((TEXT_LEFT, 0, label.width, label.height))


def foreign() -> Image.Image:
    """A square that is no label of ours, though its last part is a sound code."""
    code = qrcode.QRCode(box_size=8, border=4, image_factory=PilImage)
    code.add_data("https://elsewhere.example/item/K72K54X2")
    drawn: Image.Image = code.make_image().get_image()
    return drawn.convert("L")


@dataclass(frozen=True)
class Held:
    """How a paper is held before the camera: so wide in the picture, so much askew, how clear.

    light: of full daylight; motion_px: how far the hand moves sideways while a picture is taken.
    """

    width: float = 0.8
    tilt: float = 12
    blur_px: float = 1.2
    noise: float = 14
    light: float = 0.55
    motion_px: int = 0


# Near, in bad light: the half-size picture evens the noise out.
NEAR = Held()
# Far off, in better light: bars as thin as these are told apart in the whole picture only.
FAR = Held(width=0.42, blur_px=0.7, noise=6)


# At dusk, in a hand that moves.
DUSK = Held(width=0.9, tilt=20, blur_px=0.8, noise=5, light=0.22, motion_px=5)


def on_a_tire(paper: Image.Image | None, held: Held = NEAR, *, drift: int = 0) -> Image.Image:
    """One picture: rubber, and on it perhaps a paper."""
    wide, high = SIZE
    picture = Image.new("L", SIZE, 95)
    ImageDraw.Draw(picture).ellipse((-280, 80, wide + 280, high - 80), outline=45, width=150)
    if paper is not None:
        size = round(wide * held.width), round(wide * held.width * paper.height / paper.width)
        sheet = paper.resize(size, Image.Resampling.LANCZOS)
        shape = Image.new("L", size, 255).rotate(held.tilt, expand=True)
        sheet = sheet.rotate(held.tilt, expand=True, resample=Image.Resampling.BICUBIC)
        place = ((wide - sheet.width) // 2 + drift, (high - sheet.height) // 2 + drift // 2)
        picture.paste(sheet, place, shape)
    unsharp = smeared(picture, held.motion_px).filter(ImageFilter.GaussianBlur(held.blur_px))
    dim = unsharp.point(lambda light: int(light * held.light))
    return ImageChops.add(dim, Image.effect_noise(SIZE, held.noise), 1, -128)


def smeared(picture: Image.Image, far: int) -> Image.Image:
    """The mean of the picture and itself moved sideways, one pixel after the other."""
    mean = picture
    for at in range(1, far + 1):
        mean = Image.blend(mean, ImageChops.offset(picture, at, 0), 1 / (at + 1))
    return mean


def jpeg(picture: Image.Image) -> bytes:
    out = io.BytesIO()
    picture.convert("RGB").save(out, "JPEG", quality=80)
    return out.getvalue()


def write(film: Path, label: Image.Image, held: Held = NEAR) -> Path:
    """Half a second of tire, a second and a half of a foreign square, then the label."""
    film.write_bytes(b"".join(pictures(label, held)))
    return film


def pictures(label: Image.Image, held: Held) -> Iterator[bytes]:
    yield jpeg(on_a_tire(None)) * (PICTURES_A_SECOND // 2)
    yield jpeg(on_a_tire(foreign(), Held(width=0.4, tilt=-8))) * (PICTURES_A_SECOND * 3 // 2)
    for at in range(10):
        askew = replace(held, tilt=held.tilt + at % 3)
        yield jpeg(on_a_tire(label, askew, drift=round(40 * math.sin(at)))) * STANDS


def after_another(codes: Sequence[str], base_url: str) -> Iterator[bytes]:
    """Printed labels held into the picture, each for some two seconds, with a tire between."""
    for code in codes:
        yield jpeg(on_a_tire(None)) * PICTURES_A_SECOND
        paper = printed(code, base_url)
        for at in range(10):
            yield jpeg(on_a_tire(paper, replace(NEAR, tilt=NEAR.tilt + at % 3))) * STANDS
