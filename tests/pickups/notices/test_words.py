"""The words of a receipt, in both languages; what people wrote stays what they wrote."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.notices.words.receipt import Receipt, ReceiptLine, receipt

LINES = [
    ReceiptLine("K72K54X2", "11R22.5", "1U3XABC1225", [6, 7, 6]),
    ReceiptLine("K72K6P0D", "", "", []),
]


def said(**changed: object) -> Receipt:
    fields: dict[str, object] = {
        "name": "Ines Corvo",
        "customer": "Tarn Valley Haulage",
        "yard": "North yard",
        "finished_on": "2026-05-04 10:30",
        "lines": LINES,
        "customer_count": None,
        "link": "https://yardloop.example/c/abc",
    }
    return Receipt(**(fields | changed))  # type: ignore[arg-type]


def test_an_english_receipt_says_what_was_taken_and_on_what_terms() -> None:
    subject, text = receipt(said(), "en")
    assert subject == "Receipt: 2 casings picked up at North yard"
    assert text == (
        "Dear Ines Corvo,\n\n"
        "On 2026-05-04 10:30 we picked up 2 casings of Tarn Valley Haulage at North yard:\n\n"
        "  1.  K72K 54X2   11R22.5   1U3XABC1225   tread 6 7 6 /32\n"
        "  2.  K72K 6P0D\n\n"
        "Counted; condition subject to plant inspection."
        " The casings stay the property of Tarn Valley Haulage.\n\n"
        "If this is not what left your yard, answer this mail.\n\n"
        "Your casings, and where each of them is:\nhttps://yardloop.example/c/abc\n"
        "This link works for 30 days and opens your page for whoever has it."
    )


def test_a_spanish_receipt_says_the_same() -> None:
    subject, text = receipt(said(), "es")
    assert subject == "Recibo: recogimos 2 carcasas en North yard"
    assert text.startswith("Estimado/a Ines Corvo:\n\nEl 2026-05-04 10:30 recogimos 2 carcasas de")
    assert "banda 6 7 6 /32" in text
    assert "Contadas; estado sujeto a inspección en planta." in text
    assert "siguen siendo propiedad de Tarn Valley Haulage" in text
    assert "Sus carcasas, y dónde está cada una:\nhttps://yardloop.example/c/abc\n" in text


@pytest.mark.parametrize(
    ("language", "one"), [("en", ": 1 casing picked up at"), ("es", ": recogimos 1 carcasa en")]
)
def test_one_casing_is_one_casing(language: str, one: str) -> None:
    subject, _ = receipt(said(lines=LINES[:1]), language)
    assert one in subject
    assert "casings" not in subject
    assert "carcasas" not in subject


def test_a_language_that_is_not_spoken_here_is_answered_in_english() -> None:
    assert receipt(said(), "fr") == receipt(said(), "en")


@pytest.mark.parametrize(
    ("language", "sentence"),
    [
        ("en", "Your count was 3, ours is 2. We will call you about it."),
        ("es", "Su cuenta fue 3, la nuestra es 2. Le llamaremos."),
    ],
)
def test_a_count_that_differs_is_said_and_one_that_agrees_is_not(
    language: str, sentence: str
) -> None:
    assert sentence in receipt(said(customer_count=3), language)[1]
    for agreed in (2, None):
        assert "cuenta fue" not in receipt(said(customer_count=agreed), language)[1]
        assert "Your count" not in receipt(said(customer_count=agreed), language)[1]
    assert "0" in receipt(said(customer_count=0), "en")[1].split("Your count was ")[1][:2]


anything = st.text(max_size=60)


@given(anything, anything, anything, st.sampled_from(["en", "es"]))
def test_what_people_wrote_is_never_read_as_a_template_or_a_header(
    name: str, customer: str, yard: str, language: str
) -> None:
    subject, text = receipt(said(name=name, customer=customer, yard=yard), language)
    assert len(subject.splitlines()) == 1
    for given_text in (name, customer, yard):
        assert given_text in text
    assert " ".join(yard.split()) in subject


@pytest.mark.parametrize("yard", ["$count", "${name}", "$", "$$", "{name}", "%s", "\\1"])
def test_signs_of_templates_stay_as_they_are(yard: str) -> None:
    subject, text = receipt(said(yard=yard), "en")
    assert subject == f"Receipt: 2 casings picked up at {yard}"
    assert f"of Tarn Valley Haulage at {yard}:" in text
