"""A worn label is still read by one of its symbols: a few, the same each time; all in the bench."""

from random import Random

import pytest

from pickups.labels import printing
from tests.pickups.labels import pictures
from tests.pickups.labels.pictures import Wear, codes, photo, rasters, texts

LINK = "HTTPS://MARROWGATE.EXAMPLE/L/"
TRIED = 8


@pytest.mark.parametrize(
    ("wear", "much", "least"),
    [
        (pictures.spots, 0.04, 7),
        (pictures.blobs, 0.12, 6),
        (pictures.torn, 0.3, 6),
        (pictures.dead_dots, 6, 7),
    ],
    ids=["spots", "mud", "torn", "dead dots"],
)
def test_a_worn_label_is_read_by_one_symbol_or_the_other(
    wear: Wear, much: float, least: int
) -> None:
    chance, labels = Random(23), codes(TRIED)
    pdf = printing.roll_pdf(
        labels, base_url="https://marrowgate.example", dealer="D", phone="555", twins=False
    )
    read = 0
    for code, page in zip(labels, rasters(pdf), strict=True):
        wear(page, much, chance)
        found = texts(photo(page, 8, chance))
        read += LINK + code in found["qr"] or code in found["bars"]
        # What is read at all is right: damage never makes another label of it.
        assert set(found["qr"]) <= {LINK + code}
        assert set(found["bars"]) <= {code}
    assert read >= least
