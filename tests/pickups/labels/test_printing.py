"""Labels as printed: read back from the raster of a 203 dpi print head, measured in its dots."""

import re
from itertools import groupby
from random import Random
from typing import cast

import pypdfium2
import pytest
from PIL import Image, ImageDraw

from pickups.labels import printing, rules
from pickups.labels.printing import LETTER, ROLL, Stock, roll_pdf
from tests.pickups.labels.pictures import BARS, QR, codes, photo, rasters, read, texts

BASE = "https://marrowgate.example"
LINK = "HTTPS://MARROWGATE.EXAMPLE/L/"
DEALER, PHONE = "Marrowgate Tire & Retread", "555 0100"


def printed(
    labels: list[str],
    *,
    base_url: str = BASE,
    dealer: str = DEALER,
    phone: str = PHONE,
    stock: Stock = ROLL,
    twins: bool = False,
) -> bytes:
    return roll_pdf(labels, base_url=base_url, dealer=dealer, phone=phone, stock=stock, twins=twins)


def words(pdf: bytes) -> list[list[str]]:
    """The lines of text of each page."""
    pages = pypdfium2.PdfDocument(pdf)
    return [page.get_textpage().get_text_range().split("\r\n") for page in pages]


def runs(picture: Image.Image, y: int) -> list[tuple[bool, int]]:
    """Dark and light runs of one row of dots, dark or not and how long."""
    row = [picture.getpixel((x, y)) == 0 for x in range(picture.width)]
    return [(dark, len(list(run))) for dark, run in groupby(row)]


def dark_box(picture: Image.Image, left: int, right: int) -> tuple[int, int, int, int]:
    """Where there is ink between two columns: left, top, right, bottom."""
    part = picture.crop((left, 0, right, picture.height)).point(lambda v: 255 - v)
    box = part.getbbox()
    assert box
    return box[0] + left, box[1], box[2] + left, box[3]


# --- Read back ---------------------------------------------------------------------------------


@pytest.mark.parametrize("dpi", [203, 203.2, 300])
def test_both_symbols_of_every_label_on_a_roll_are_read_back(dpi: float) -> None:
    labels = codes(40)
    pages = rasters(printed(labels), dpi)
    assert [texts(page) for page in pages] == [{"qr": [LINK + c], "bars": [c]} for c in labels]


def test_both_symbols_of_every_label_on_a_sheet_are_read_back() -> None:
    labels = codes(17)
    pages = [texts(page) for page in rasters(printed(labels, stock=LETTER))]
    assert [len(page["qr"]) for page in pages] == [10, 7]
    assert {text for page in pages for text in page["qr"]} == {LINK + c for c in labels}
    assert {text for page in pages for text in page["bars"]} == set(labels)


def test_twins_of_a_code_follow_each_other_on_a_roll_and_stand_side_by_side_on_a_sheet() -> None:
    labels = codes(3)
    roll = rasters(printed(labels, twins=True))
    assert [texts(page)["bars"] for page in roll] == [[c] for c in labels for _ in "ab"]
    (sheet,) = rasters(printed(labels, twins=True, stock=LETTER))
    for part in (
        sheet.crop((0, 0, sheet.width // 2, sheet.height)),
        sheet.crop((sheet.width // 2, 0, sheet.width, sheet.height)),
    ):
        assert sorted(texts(part)["bars"]) == sorted(labels)


def test_labels_are_read_from_a_tilted_blurred_dim_and_noisy_photo() -> None:
    chance = Random(4)
    for code, page in zip(codes(12), rasters(printed(codes(12))), strict=True):
        assert texts(photo(page, 8, chance)) == {"qr": [LINK + code], "bars": [code]}


@pytest.mark.parametrize("lost", ["qr", "bars"])
def test_either_symbol_alone_is_enough(lost: str) -> None:
    chance = Random(5)
    for code, page in zip(codes(12), rasters(printed(codes(12))), strict=True):
        half = (0, 0, 336, 400) if lost == "qr" else (336, 0, 800, 400)
        ImageDraw.Draw(page).rectangle(half, fill=70)
        seen = texts(photo(page, 8, chance))
        assert seen == {"qr": [LINK + code], "bars": [code], lost: []}
        (text,) = seen["qr"] + seen["bars"]
        assert rules.tidy(text) == code


# --- Measured ----------------------------------------------------------------------------------


def test_a_label_is_800_by_400_dots_of_an_eighth_of_a_millimetre() -> None:
    (page,) = pypdfium2.PdfDocument(printed(codes(1)))
    wide, high = page.get_size()
    assert (round(wide / 72 * 25.4, 2), round(high / 72 * 25.4, 2)) == (100, 50)


def test_modules_of_the_qr_are_whole_dots_at_least_four_with_a_quiet_zone_of_four_modules() -> None:
    (page,) = rasters(printed(codes(1)))
    left, top, right, bottom = dark_box(page, 0, 336)
    assert right - left == bottom - top == 33 * 8
    for y in range(top, bottom):
        inside = page.crop((left, y, right, y + 1))
        assert all(length % 8 == 0 for _, length in runs(inside, 0))
    # ISO/IEC 18004, 9.1: four modules of light on every side, the label's edge being dark tire.
    assert min(left, top, page.height - bottom, dark_box(page, 336, 800)[0] - right) >= 4 * 8


def test_bars_are_whole_dots_high_enough_and_have_their_quiet_zones() -> None:
    for page in rasters(printed(codes(12))):
        middle = runs(page.crop((336, 0, 800, 400)), 300)
        (_, before), *drawn, (_, after) = middle
        assert {length for _, length in drawn} <= {3, 6, 9, 12}
        wide = sum(length for _, length in drawn)
        assert 101 * 3 <= wide <= 123 * 3
        # ISO/IEC 15417: light of ten modules on either side.
        assert min(before, after) >= 10 * 3
        x = 336 + before + 1
        column = [page.getpixel((x, y)) == 0 for y in range(page.height)]
        high = max(len(list(run)) for dark, run in groupby(column) if dark)
        assert high >= wide / 4


def test_the_code_is_in_letters_of_at_least_seven_millimetres() -> None:
    (page,) = rasters(printed(codes(1)))
    rows = [y for y in range(400) if dark_in(page, y)]
    bands = [[y for _, y in run] for _, run in groupby(enumerate(rows), lambda p: p[1] - p[0])]
    # Above the bars: dealer, phone, code.
    assert len(bands) == 5
    assert len(bands[2]) >= 7 * 8


def dark_in(page: Image.Image, y: int) -> bool:
    return any(dark for dark, _ in runs(page.crop((336, 0, 800, 400)), y))


# --- What the QR holds -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("base_url", "version"),
    [("https://marrowgate.example", 4), ("http://localhost:8000", 3), ("https://t.example", 3)],
)
def test_the_link_is_in_alphanumeric_mode(base_url: str, version: int) -> None:
    """ISO/IEC 18004, table 7: at level H versions 3, 4 hold 35, 50 alphanumerics or 24, 34 bytes.

    The version read back is too small for the text in bytes, so the mode is alphanumeric.
    """
    (code,) = codes(1)
    text = f"{base_url}/L/{code}".upper()
    alphanumerics, in_bytes = {3: (35, 24), 4: (50, 34)}[version]
    assert in_bytes < len(text) <= alphanumerics
    (symbol,) = read(rasters(printed([code], base_url=base_url))[0])[QR]
    assert (symbol.text, symbol.ec_level) == (text, "H")
    assert cast(dict[str, str], symbol.extra)["Version"] == str(version)


@pytest.mark.parametrize("base_url", ["http://[::1]:8000", "https://tire_yard.example"])
def test_an_address_with_other_characters_is_still_read(base_url: str) -> None:
    (code,) = codes(1)
    seen = texts(rasters(printed([code], base_url=base_url))[0])
    assert seen == {"qr": [f"{base_url}/L/{code}".upper()], "bars": [code]}
    assert rules.tidy(seen["qr"][0]) == code


def test_bars_hold_the_bare_code() -> None:
    (code,) = codes(1)
    (symbol,) = read(rasters(printed([code]))[0])[BARS]
    assert symbol.text == code


def test_a_longer_address_makes_modules_smaller_then_correction_weaker_then_is_refused() -> None:
    (code,) = codes(1)
    found: list[tuple[str, int]] = []
    for host in (30, 60, 100, 140, 200, 230):
        base_url = "https://" + ("casings." * 30)[:host] + "x.example"
        (page,) = rasters(printed([code], base_url=base_url))
        (symbol,) = read(page)[QR]
        assert symbol.text == f"{base_url}/L/{code}".upper()
        module = runs(page, dark_box(page, 0, 336)[1])[1][1] // 7
        found.append((symbol.ec_level, module))
    levels, modules = zip(*found, strict=True)
    assert levels == tuple(sorted(levels))  # H, then Q
    assert set(levels) == {"H", "Q"}
    assert min(modules) == 4
    with pytest.raises(ValueError, match="too long for a label"):
        printed([code], base_url="https://" + "casings." * 40 + "example")


# --- What is said ------------------------------------------------------------------------------


def test_a_label_says_its_code_in_two_fours_its_dealer_and_its_kind_and_nothing_else() -> None:
    (code,) = codes(1)
    for stock, more in ((ROLL, []), (LETTER, ["Print at actual size (100 %)"])):
        (said,) = words(printed([code], stock=stock))
        said = [re.sub(", then cut.*", "", line) for line in said]
        gap = f"{code[:4]} {code[4:]}"
        assert sorted(said) == sorted([gap, DEALER, PHONE, "yard label", *more])


@pytest.mark.parametrize("dealer", ["#panic() *x* _y_ <b> $a$", "Pérez & Müller 'Reifen'", "Ж"])
def test_a_dealers_name_is_printed_as_it_is_written(dealer: str) -> None:
    (said,) = words(printed(codes(1), dealer=dealer))
    assert dealer in said


@pytest.mark.parametrize("dealer", ["Tire", "Marrowgate Tire & Retread of the Upper Valley"])
@pytest.mark.parametrize("phone", ["555 0100", "+1 312 555 0100 extension 4417 at night"])
def test_however_long_the_words_are_they_stand_apart_from_each_other_and_from_symbols(
    dealer: str, phone: str
) -> None:
    (page,) = rasters(printed(codes(1), dealer=dealer, phone=phone))
    left, top, right, _ = dark_box(page, 336, 800)
    assert min(left - 340, top - 16, 784 - right) >= 0
    bands = [dark for dark, _ in groupby(dark_in(page, y) for y in range(400))]
    (said,) = words(printed(codes(1), dealer=dealer, phone=phone))
    assert bands.count(True) == len(said) + 1  # each line of words a band of its own, and the bars
    assert texts(page)["bars"] == codes(1)


@pytest.mark.parametrize(
    ("dealer", "phone"), [("Retread " * 40, PHONE), (DEALER, "5" * 60), ("T" * 60, PHONE)]
)
def test_words_that_no_label_has_room_for_are_refused(dealer: str, phone: str) -> None:
    with pytest.raises(ValueError, match="too long for a label"):
        printed(codes(1), dealer=dealer, phone=phone)


def test_a_code_that_is_not_sound_is_never_printed() -> None:
    good = codes(2)
    with pytest.raises(ValueError, match="check_does_not_fit"):
        printed([*good, good[0][:-1] + good[1][-1]])
    with pytest.raises(ValueError, match="no codes"):
        printed([])


def test_the_same_labels_give_the_same_bytes() -> None:
    assert printed(codes(4)) == printed(codes(4))
    assert printed(codes(4)) != printed(codes(4, chance=2))
    assert printing.link("M4000AB7", BASE + "/") == LINK + "M4000AB7"
