"""Labels as a printer's raster, worn, and photographed: the same picture for the same chance.

What a photo is: a print at 203 dpi on a dark tire, seen at some pixels a millimetre, tilted up to
12 degrees, in perspective, blurred, unevenly dim, with noise. What it is more than that, whoever
takes it says.
"""

import math
from collections.abc import Callable
from random import Random

import pypdfium2
import zxingcpp
from PIL import Image, ImageChops, ImageDraw, ImageFilter

from pickups.labels import rules

DOTS_MM = 8
TIRE = 70
Wear = Callable[[Image.Image, float, Random], None]
QR, BARS = zxingcpp.BarcodeFormat.QRCode, zxingcpp.BarcodeFormat.Code128
BOTH = zxingcpp.BarcodeFormats([QR, BARS])


def codes(count: int, chance: int = 1) -> list[str]:
    """Sound codes of one range, the first serials of it."""
    random = Random(chance)
    made: list[str] = []
    while len(made) < count:
        code = rules.code("M4", len(made), "".join(random.choice(rules.SYMBOLS) for _ in "XX"))
        made += [code] if code else []
    return made


def rasters(pdf: bytes, dpi: float = 203.2) -> list[Image.Image]:
    """Every page as a print head of that pitch gets it: black or white, nothing between."""
    document = pypdfium2.PdfDocument(pdf)
    scale = dpi / 72 - 1e-6  # the page is 800.0001 dots wide: else it is stretched to 801
    pages = [page.render(scale=scale, grayscale=True).to_pil() for page in document]
    return [page.convert("L").point(lambda v: 0 if v < 128 else 255) for page in pages]


def read(picture: Image.Image) -> dict[zxingcpp.BarcodeFormat, list[zxingcpp.Barcode]]:
    """What a reader finds that looks for the two kinds of symbols a label has."""
    found: dict[zxingcpp.BarcodeFormat, list[zxingcpp.Barcode]] = {QR: [], BARS: []}
    for symbol in zxingcpp.read_barcodes(picture, formats=BOTH):
        found[symbol.format].append(symbol)
    return found


def texts(picture: Image.Image) -> dict[str, list[str]]:
    """The texts of the two kinds of symbols."""
    found = read(picture)
    return {"qr": [s.text for s in found[QR]], "bars": [s.text for s in found[BARS]]}


def photo(
    printed: Image.Image,
    pixels_mm: float,
    chance: Random,
    *,
    tilt: float = 12,
    shear: float = 0.04,
    blur: float = 0.8,
) -> Image.Image:
    """A print in a photo, at so many pixels a millimetre.

    tilt: degrees at most, to either side; shear: at most, along either edge; blur: the Gaussian's
    standard deviation in pixels.
    """
    wide, high = printed.size
    seen = Image.new("L", (wide + 160, high + 160), TIRE)
    seen.paste(printed, (80, 80))
    scale = pixels_mm / DOTS_MM
    size = (round(seen.width * scale), round(seen.height * scale))
    seen = seen.resize(size, Image.Resampling.BOX if scale < 1 else Image.Resampling.BICUBIC)
    far = [chance.uniform(-0.06, 0.06) / max(size) for _ in "xy"]
    sheared = [chance.uniform(-shear, shear) for _ in "xy"]
    seen = seen.transform(
        size,
        Image.Transform.PERSPECTIVE,
        (1, sheared[0], 0, sheared[1], 1, 0, *far),
        Image.Resampling.BICUBIC,
        fillcolor=TIRE,
    )
    askew = chance.uniform(-tilt, tilt)
    seen = seen.rotate(askew, Image.Resampling.BICUBIC, expand=True, fillcolor=TIRE)
    seen = seen.filter(ImageFilter.GaussianBlur(blur))
    gain, floor = chance.uniform(0.55, 0.85), chance.uniform(15, 45)
    seen = seen.point(lambda v: round(v * gain + floor))
    noise = Image.frombytes("L", seen.size, chance.randbytes(seen.width * seen.height))
    # Even noise over 35 grey levels: a standard deviation of 10.
    return ImageChops.add(seen, noise.point(lambda v: v * 35 // 256), 1, -17)


def spots(printed: Image.Image, share: float, chance: Random) -> None:
    """Dirt of 0.6 to 2.5 mm, dark or pale, until that share of the label is covered."""
    _covered(printed, share, chance, least=2.5, most=10)


def blobs(printed: Image.Image, share: float, chance: Random) -> None:
    """Mud of 6 to 20 mm, dark or pale, until that share of the label is covered."""
    _covered(printed, share, chance, least=24, most=80)


def scrapes(printed: Image.Image, count: float, chance: Random) -> None:
    """So many straight scrapes of 0.5 to 2 mm, right across the label in any direction."""
    draw, reach = ImageDraw.Draw(printed), printed.width + printed.height
    for _ in range(int(count)):
        x, y = chance.uniform(0, printed.width), chance.uniform(0, printed.height)
        angle = chance.uniform(0, math.pi)
        across, along = reach * math.cos(angle), reach * math.sin(angle)
        line = (x - across, y - along, x + across, y + along)
        draw.line(line, fill=chance.choice((255, 255, 0)), width=round(chance.uniform(4, 16)))


def torn(printed: Image.Image, share: float, chance: Random) -> None:
    """That share of the label is gone, from any side, along a straight tear."""
    wide, high = printed.size
    angle = chance.uniform(0, 2 * math.pi)
    x, y = math.cos(angle), math.sin(angle)
    far = sorted(x * (i % 40) * wide / 39 + y * (i // 40) * high / 39 for i in range(1600))
    at, reach = far[int(len(far) * (1 - share))], 2 * (wide + high)
    ends = [(x * at - y * reach * s, y * at + x * reach * s) for s in (1, -1)]
    beyond = [(ex + x * reach, ey + y * reach) for ex, ey in reversed(ends)]
    ImageDraw.Draw(printed).polygon([*ends, *beyond], fill=TIRE)


def dead_dots(printed: Image.Image, count: float, chance: Random) -> None:
    """So many dead elements of the print head: lines of one dot that never print."""
    for _ in range(int(count)):
        x = chance.randrange(printed.width)
        ImageDraw.Draw(printed).line((x, 0, x, printed.height), fill=255)


def _covered(
    printed: Image.Image, share: float, chance: Random, *, least: float, most: float
) -> None:
    cover = Image.new("L", printed.size)
    masked, draw = ImageDraw.Draw(cover), ImageDraw.Draw(printed)
    lacking = share * printed.width * printed.height
    while lacking > 0:
        drawn = 0.0
        while drawn < lacking:
            r = chance.uniform(least, most)
            x, y = chance.uniform(0, printed.width), chance.uniform(0, printed.height)
            flat = r * chance.uniform(0.4, 1)
            where = (x - r, y - flat, x + r, y + flat)
            masked.ellipse(where, fill=255)
            draw.ellipse(where, fill=chance.choice((0, 255)))
            drawn += math.pi * r * flat
        lacking = share * printed.width * printed.height - cover.histogram()[-1]
