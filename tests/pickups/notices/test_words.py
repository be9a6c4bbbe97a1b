"""The words of a receipt, in both languages; what people wrote stays what they wrote."""

from dataclasses import replace
from string import Template
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.custody.wire import Basis, Work
from pickups.notices.words.receipt import WORDS, Receipt, ReceiptLine, receipt

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


# --- What is wanted, promised and signed --------------------------------------------------------

WANTED = ReceiptLine("K72K54X2", "", "", [], work="retread", basis="own")
both = pytest.mark.parametrize("language", ["en", "es"])


def word(language: str, key: str, **names: str) -> str:
    return Template(WORDS[language][key]).substitute(names)


def test_both_languages_say_the_same_things_with_the_same_names() -> None:
    assert WORDS["es"].keys() == WORDS["en"].keys()
    for key, said_in_english in WORDS["en"].items():
        names = set(Template(said_in_english).get_identifiers())
        assert set(Template(WORDS["es"][key]).get_identifiers()) == names, key


@both
@pytest.mark.parametrize("work", get_args(Work))
@pytest.mark.parametrize("basis", get_args(Basis))
def test_every_work_and_basis_has_words_and_own_needs_none(
    language: str, work: str, basis: str
) -> None:
    text = receipt(said(lines=[replace(WANTED, work=work, basis=basis)]), language)[1]
    assert f"\n      {word(language, f'work_{work}')}\n" in text
    bases = {b for b in get_args(Basis) if WORDS[language].get(f"basis_{b}", "?!") in text}
    assert bases == {basis} - {"own"}


@both
@pytest.mark.parametrize(("basis", "mixed"), [("own", False), ("pool", False), ("exchange", True)])
def test_the_terms_say_where_not_all_of_them_hold_for_every_line(
    language: str, basis: str, mixed: bool
) -> None:
    lines = [WANTED, replace(WANTED, basis=basis)]
    text = receipt(said(lines=lines), language)[1]
    terms = "terms_mixed" if mixed else "terms"
    assert word(language, terms, customer="Tarn Valley Haulage") in text


@both
def test_a_repair_has_no_tread_design(language: str) -> None:
    text = receipt(said(lines=[replace(WANTED, work="repair", tread_design="lug")]), language)[1]
    assert "lug" not in text


@both
def test_an_older_line_says_nothing_of_what_nobody_asked(language: str) -> None:
    old = replace(WANTED, work="", promised="Tue 28 Apr 2026", unit="T-118")
    text = receipt(said(lines=[old]), language)[1]
    assert "K72K 54X2\n\n" in text


@both
@pytest.mark.parametrize(
    ("signed", "key"),
    [
        ({"signed": True, "signer": "R. Amsel"}, "signed_by"),
        ({"signed": True}, "signed"),
        ({"unsigned": "nobody there"}, "unsigned"),
        ({}, ""),
    ],
)
def test_who_signed_or_why_nobody_did(language: str, signed: dict[str, object], key: str) -> None:
    text = receipt(said(**signed), language)[1]
    names = {"signer": "R. Amsel", "why": "nobody there"}
    keys = ("signed_by", "signed", "unsigned")
    assert {k for k in keys if word(language, k, **names) in text} == ({key} - {""})
    assert word(language, "put_right") not in text
    again = receipt(said(**signed, put_right=True), language)[1]
    assert (word(language, "put_right") in again) == bool(signed.get("signed"))
