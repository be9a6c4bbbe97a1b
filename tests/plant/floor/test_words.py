"""Both languages say everything, in the trade's words."""

import re
import string

from pickups.people.models import User
from plant.floor import rules, words


def names_in(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


def test_both_languages_have_the_same_keys_and_names_in_them() -> None:
    en, es = words.of("en"), words.of("es")
    assert en.keys() == es.keys()
    assert {k for k in en if names_in(en[k]) != names_in(es[k])} == set()
    assert all(text.strip() for text in [*en.values(), *es.values()])


def test_no_key_stands_in_two_parts() -> None:
    for table in ("EN", "ES"):
        keys = [key for part in words._PARTS for key in getattr(part, table)]
        assert sorted(keys) == sorted(set(keys))


def test_no_inside_word_and_no_exclamation_reaches_a_page() -> None:
    inside = re.compile(
        r"\b(outbox|replica|fold|journal|feed|cursor|incarnation|payload|projection|epoch)\b|[!¡]",
        re.IGNORECASE,
    )
    said = [text for lang in words.LANGUAGES for text in words.of(lang).values()]
    assert [text for text in said if inside.search(text)] == []


def test_every_way_and_every_role_has_its_word() -> None:
    wanted = [word for _, word in rules.WAYS] + [f"role_{role}" for role in User.Role.values]
    assert [key for key in wanted if key not in words.of("es")] == []
