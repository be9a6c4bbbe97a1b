"""The words of what became of casings, in both languages; what people wrote stays theirs."""

from dataclasses import replace
from string import Template
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.casings import reasons
from pickups.notices.rules import (
    FINISHED,
    NOT_YOURS,
    NOTHING,
    OPEN,
    READY,
    REJECTED,
    STANDS,
    Known,
    at_start,
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
        "store": "Bramblewick store",
        "phone": "555 0100",
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
        told(FINISHED), told(REJECTED), told(FINISHED), told(OPEN, before=EARLIER), told(READY),
        language=language,
    )  # fmt: skip
    words = WORDS[language]
    heads = [Template(words[f"head_{n}"]).substitute(n=c) for n, c in
             (("rejected", 1), ("ready", 1), ("finished", 2), ("correction", 1))]  # fmt: skip
    assert sorted(heads, key=text.index) == heads
    assert (
        subject
        == {
            "en": "Your casings: 1 rejected, 1 ready, 2 finished, 1 taken back",
            "es": "Sus carcasas: 1 rechazada, 1 lista, 2 terminadas, 1 rectificada",
        }[language]
    )
    assert text.count(LABEL_TAG) == 1
    assert text.count("29 CFR 1910.177") == 2
    assert LABEL_TAG not in mail(told(FINISHED), language=language)[1]
    sections = ("393.75(d)", "393.75(e)", "393.75(f)", "570.62(d)")
    finished = mail(told(FINISHED), language=language)[1]
    assert all(section in finished for section in sections)
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


def test_what_is_done_with_rejects_is_said_as_each_specification_wants_it() -> None:
    back, asked = told(REJECTED, rejects="return"), told(REJECTED, label="K72K6P0D")
    alone = mail(back)[1]
    assert "by your specification each comes back to you with the next run" in alone
    assert "we will ask you" not in alone
    both = mail(back, asked)[1]
    assert "K72K 54X2: What happens next: by your specification" in both
    assert "K72K 6P0D: What happens next: we will ask you" in both
    assert "según su especificación, vuelve" not in mail(asked, language="es")[1]
    for way in ("scrap", "buy"):
        assert "stays yours" in mail(told(REJECTED, rejects=way))[1] or way == "scrap"
        assert "según su especificación" in mail(told(REJECTED, rejects=way), language="es")[1]


# --- What is news -------------------------------------------------------------------------------

flags = st.booleans()
knowns = st.builds(
    Known, contested=flags, on_hold=flags, yours=flags, dealers=flags, back=flags, finished=flags,
    rejected=flags,
    at=st.sampled_from(["", "yard", "store 1", "store 2"]),
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
    elif known.on_hold or known.dealers:
        assert said == NOTHING
    elif known.rejected:
        assert sort(said) == REJECTED
    elif known.finished:
        assert sort(said) == (NOTHING if known.back else READY if known.at else FINISHED)
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
        assert is_news(now, before) == (sort(now) in STANDS)
    if sort(now) in (READY, REJECTED):
        assert is_news(now, before) == (now != before)
    if now == FINISHED:
        assert is_news(now, before) == (sort(before) not in (FINISHED, READY))
    if now == OPEN:
        assert is_news(now, before) == (sort(before) in STANDS)
    if now == NOT_YOURS:
        assert is_news(now, before) == (before not in ("", NOT_YOURS))


HOME, OTHER = UUID(int=1), UUID(int=2)


@pytest.mark.parametrize(
    ("holder", "told", "at"),
    [
        (f"site:{HOME}", {}, "yard"),
        (f"site:{HOME}", {"back_to": "yard", "store": str(OTHER)}, "yard"),
        (f"site:{HOME}", {"back_to": "store"}, f"store {HOME}"),
        (f"plant:{HOME}", {}, "yard"),
        (f"plant:{HOME}", {"back_to": "store"}, f"store {HOME}"),
        (f"site:{OTHER}", {"back_to": "store", "store": str(OTHER)}, f"store {OTHER}"),
        (f"site:{OTHER}", {"back_to": "store"}, ""),
        (f"site:{OTHER}", {"back_to": "yard", "store": str(OTHER)}, ""),
        (f"plant:{OTHER}", {}, ""),
        (f"road:{HOME}", {}, ""),
        (f"person:{HOME}", {}, ""),
        (f"customer:{HOME}", {}, ""),
        ("", {}, ""),
    ],
)
def test_where_a_casing_starts_from_or_is_fetched(
    holder: str, told: dict[str, str], at: str
) -> None:
    assert at_start(holder, site=HOME, told=told) == at


# --- Ready, and comes on ------------------------------------------------------------------------

SAID = {
    "en": {
        "store": "Ready to be fetched at Bramblewick store, 555 0100.",
        "yard": "Ready at Bramblewick store; goes out to North yard on Tue 12 May 2026.",
        "yard, no day": "Ready at Bramblewick store; goes out to North yard with our next run",
        "comes": "Finished; comes to North yard on Tue 12 May 2026.",
        "comes to the store": "Finished; comes to Bramblewick store on Tue 12 May 2026.",
        "promised": "Promised for Mon 11 May 2026.",
        "late": "Late: it was promised for Mon 11 May 2026.",
    },
    "es": {
        "store": "Lista para recogerla en Bramblewick store, 555 0100.",
        "yard": "Lista en Bramblewick store; sale hacia North yard el mar 12 may 2026.",
        "yard, no day": "Lista en Bramblewick store; sale hacia North yard en nuestro próximo",
        "comes": "Terminada; llega a North yard el mar 12 may 2026.",
        "comes to the store": "Terminada; llega a Bramblewick store el mar 12 may",
        "promised": "Prometida para el lun 11 may 2026.",
        "late": "Con retraso: estaba prometida para el lun 11 may 2026.",
    },
}
DAY = {"en": "Tue 12 May 2026", "es": "mar 12 may 2026"}
PROMISED = {"en": "Mon 11 May 2026", "es": "lun 11 may 2026"}


@both
@pytest.mark.parametrize(
    ("casing", "said"),
    [
        (told(READY, back_to="store"), ["store"]),
        (told(READY, comes=True), ["yard"]),
        (told(READY), ["yard, no day"]),
        (told(FINISHED, comes=True), ["comes"]),
        (told(FINISHED, comes=True, back_to="store"), ["comes to the store"]),
        (told(FINISHED, promised=True), ["promised"]),
        (told(READY, comes=True, promised=True, late=True), ["yard", "late"]),
    ],
)
def test_where_it_is_ready_or_when_it_comes_is_said(
    language: str, casing: Told, said: list[str]
) -> None:
    comes = DAY[language] if casing.comes else ""
    promised = PROMISED[language] if casing.promised else ""
    text = mail(replace(casing, comes=comes, promised=promised), language=language)[1]
    found = {name for name, sentence in SAID[language].items() if sentence in text}
    assert found == set(said)


@both
def test_what_happens_next_is_said_of_each_way_that_there_is(language: str) -> None:
    words = WORDS[language]
    fetched, brought = told(READY, back_to="store"), told(READY)
    for casings, ways in (
        ([fetched], {"store"}), ([brought], {"yard"}), ([fetched, brought], {"store", "yard"})
    ):  # fmt: skip
        text = mail(*casings, language=language)[1]
        assert {way for way in ("store", "yard") if words[f"next_ready_{way}"] in text} == ways
        assert text.count("29 CFR 1910.177") == 1


@both
def test_ready_replaces_nothing_but_what_it_contradicts(language: str) -> None:
    def after(before: str) -> str:
        earlier = Before(before, "Wed 6 May 2026, 08:00", "K72K54X2")
        return mail(told(READY, before=earlier), language=language)[1]

    assert "6 May" not in after(FINISHED)
    assert WORDS[language]["was_rejected"] in after(REJECTED)
    assert WORDS[language]["was_ready"] in after(READY)


@both
def test_a_drop_off_was_dropped_off(language: str) -> None:
    text = mail(told(FINISHED, counter="Saltmarsh store"), language=language)[1]
    taken = Template(WORDS[language]["dropped_off"]).substitute(
        counter="Saltmarsh store", on="Mon 4 May 2026, 10:30"
    )
    assert taken in text
    assert WORDS[language]["picked_up"].partition(" $")[0] not in text
