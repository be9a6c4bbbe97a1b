"""The words of what became of casings, in both languages; what people wrote stays theirs."""

from string import Template

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.casings import reasons
from pickups.notices.rules import (
    FINISHED,
    NOT_YOURS,
    NOTHING,
    OPEN,
    REJECTED,
    Known,
    is_news,
    news,
    sort,
)
from pickups.notices.words import LABEL_TAG
from pickups.notices.words.progress import WORDS, Before, Progress, Told, progress

EARLIER = Before(FINISHED, "Wed 6 May 2026, 08:00", "K72K54X2")
both = pytest.mark.parametrize("language", ["en", "es"])


def told(sort: str, **changed: object) -> Told:
    fields: dict[str, object] = {
        "label": "K72K54X2",
        "size": "11R22.5",
        "yard": "North yard",
        "picked_up_on": "Mon 4 May 2026, 10:30",
        "place": ("plant", "Fernhollow plant"),
    }
    if sort == REJECTED:
        fields |= {"reason": "ZIPPER", "cause": "casing", "station": "shearography"}
    return Told(sort, **(fields | changed))  # type: ignore[arg-type]


def mail(*casings: Told, language: str = "en", **changed: str) -> tuple[str, str]:
    fields = {"name": "Ines Corvo", "customer": "Tarn Valley Haulage", "dealer": "The dealer"}
    fields |= {"link": "https://yardloop.example/c/abc", "phone": "555 0100"}
    return progress(Progress(casings=casings, **(fields | changed)), language)


def test_an_english_mail_says_what_became_of_a_casing_and_why() -> None:
    subject, text = mail(told(REJECTED, zone="sidewall", before=EARLIER))
    assert subject == "Your casings: 1 rejected"
    assert text.startswith(
        "Dear Ines Corvo,\n\n"
        "News of casings of Tarn Valley Haulage.\n\n"
        "REJECTED: 1\n\n"
        "  1.  K72K 54X2   11R22.5\n"
        "      Picked up at North yard, Mon 4 May 2026, 10:30.\n"
        "      Why: the sidewall cords are tired in a line around the casing and could burst when"
        " inflated.\n"
        "      Where on it: sidewall.\n"
        "      Found at: shearography.\n"
        "      Cause: the casing itself.\n"
        "      It is at Fernhollow plant now.\n"
        "      This replaces our mail of Wed 6 May 2026, 08:00, which said that it was finished.\n"
        "\n"
        "What happens next: we will ask you what to do with each rejected casing."
    )
    assert text.endswith(
        "https://yardloop.example/c/abc\n"
        "This link works for 30 days and opens your page for whoever has it.\n\n"
        "Questions: answer this mail, or call The dealer, 555 0100."
    )


@both
def test_a_rejected_casing_comes_first_with_its_caution_and_finished_ones_have_theirs(
    language: str,
) -> None:
    subject, text = mail(
        told(FINISHED), told(REJECTED), told(FINISHED), told(OPEN, before=EARLIER),
        language=language,
    )  # fmt: skip
    words = WORDS[language]
    heads = [Template(words[f"head_{n}"]).substitute(n=c) for n, c in
             (("rejected", 1), ("finished", 2), ("correction", 1))]  # fmt: skip
    assert sorted(heads, key=text.index) == heads
    assert (
        subject
        == {
            "en": "Your casings: 1 rejected, 2 finished, 1 taken back",
            "es": "Sus carcasas: 1 rechazada, 2 terminadas, 1 rectificada",
        }[language]
    )
    assert text.count(LABEL_TAG) == 1
    assert text.count("29 CFR 1910.177") == 2
    assert LABEL_TAG not in mail(told(FINISHED), language=language)[1]
    assert "393.75(d)" not in mail(told(REJECTED), language=language)[1]


@both
@pytest.mark.parametrize("cause", [*reasons.CAUSES, ""])
def test_only_what_the_plant_spoiled_is_said_to_be_owed(language: str, cause: str) -> None:
    text = mail(told(REJECTED, cause=cause), language=language)[1]
    assert (WORDS[language]["plant_owes"] in text) == (cause == "plant")
    assert (reasons.cause(cause, language) in text) == bool(cause) or not cause


@both
@pytest.mark.parametrize("place", ["plant", "site", "road", "person", "customer", ""])
def test_where_it_is_is_said_in_words(language: str, place: str) -> None:
    text = mail(told(FINISHED, place=(place, "Fernhollow plant")), language=language)[1]
    said = Template(WORDS[language][f"at_{place}"]).substitute(name="Fernhollow plant")
    assert f" {said}" in text


@both
def test_of_a_casing_that_is_not_theirs_nothing_but_the_mistake_is_said(language: str) -> None:
    hidden = told(NOT_YOURS, size="315/80", yard="Pit gate", before=EARLIER)
    text = mail(hidden, language=language)[1]
    assert "K72K 54X2\n" in text
    assert "Pit gate" not in text
    assert "Fernhollow" not in text


@both
def test_what_was_told_before_under_another_label_names_that_label(language: str) -> None:
    before = Before(REJECTED, "Wed 6 May 2026, 08:00", "K72K6P0D")
    assert "K72K 6P0D" in mail(told(OPEN, before=before), language=language)[1]
    assert "K72K 6P0D" not in mail(told(OPEN, before=EARLIER), language=language)[1]


@both
@pytest.mark.parametrize("then", [OPEN, NOT_YOURS])
def test_news_after_something_was_taken_back_replaces_nothing(language: str, then: str) -> None:
    later = told(FINISHED, before=Before(then, "Wed 6 May 2026, 08:00", "K72K54X2"))
    assert mail(later, language=language) == mail(told(FINISHED), language=language)


def test_both_languages_say_the_same_things_with_the_same_names() -> None:
    assert {k for k in WORDS["es"] if not k.endswith("_1")} == set(WORDS["en"])
    for key, said in WORDS["en"].items():
        names = set(Template(said).get_identifiers())
        assert set(Template(WORDS["es"][key]).get_identifiers()) == names, key


def test_a_language_that_is_not_spoken_here_is_answered_in_english() -> None:
    assert mail(told(FINISHED), language="fr") == mail(told(FINISHED))


anything = st.text(max_size=40)


@given(anything, anything, anything, anything, st.sampled_from(["en", "es"]))
def test_what_people_wrote_is_never_read_as_a_template_or_a_header(
    name: str, customer: str, yard: str, size: str, language: str
) -> None:
    subject, text = mail(
        told(FINISHED, yard=yard, size=size), language=language, name=name, customer=customer
    )
    assert subject in ("Your casings: 1 finished", "Sus carcasas: 1 terminada")
    for written in (name, customer, yard, size):
        assert written in text


@pytest.mark.parametrize("name", ["$name", "${counts}", "$", "$$", "{name}", "%s", "\\1"])
def test_signs_of_templates_stay_as_they_are(name: str) -> None:
    text = mail(told(FINISHED, yard=name, place=("plant", name)), name=name)[1]
    assert text.startswith(f"Dear {name},")
    assert f"Picked up at {name}, Mon" in text
    assert f"It is at {name} now." in text


# --- What is news -------------------------------------------------------------------------------

flags = st.booleans()
knowns = st.builds(
    Known, contested=flags, on_hold=flags, yours=flags, back=flags, finished=flags, rejected=flags,
    reason=st.sampled_from(["ZIPPER", "SW_CUT"]), cause=st.sampled_from(["plant", "casing"]),
    again=st.integers(0, 2),
)  # fmt: skip
earlier = st.one_of(st.just(""), knowns.map(news))


@given(knowns)
def test_what_stands_follows_the_rules(known: Known) -> None:
    said = news(known)
    if known.contested:
        assert said == NOTHING
    elif not known.yours:
        assert said == NOT_YOURS
    elif known.on_hold:
        assert said == NOTHING
    elif known.rejected:
        assert sort(said) == REJECTED
    elif known.finished:
        assert said == (NOTHING if known.back else FINISHED)
    else:
        assert said == OPEN


@given(knowns, earlier)
def test_the_same_is_never_news_and_a_correction_needs_something_to_correct(
    known: Known, before: str
) -> None:
    now = news(known)
    assert not is_news(now, now)
    assert not is_news(NOTHING, before)
    if before == "":
        assert is_news(now, before) == (sort(now) in (FINISHED, REJECTED))
    if sort(now) in (FINISHED, REJECTED):
        assert is_news(now, before) == (now != before)
    if now == OPEN:
        assert is_news(now, before) == (sort(before) in (FINISHED, REJECTED))
    if now == NOT_YOURS:
        assert is_news(now, before) == (before not in ("", NOT_YOURS))
