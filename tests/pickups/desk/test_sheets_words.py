"""Everything that can be said of a load sheet has words, in both languages."""

import pytest

from pickups.desk import words
from pickups.desk.api.undo import INVERSES
from pickups.desk.words import sheets_en
from pickups.runs.models import Run
from pickups.runs.rules import Refusal, Why


@pytest.mark.parametrize("language", words.LANGUAGES)
def test_every_refusal_state_and_step_has_words(language: str) -> None:
    wanted = [
        *(f"sheet_wrong_{code}" for code in Refusal),
        *(f"sheet_why_{why}" for why in Why),
        *(f"sheet_{form}_{s}" for form in ("state", "short") for s in Run.State.values),
        *(f"sheet_kind_{kind}" for kind in Run.Kind.values),
        *(f"sheet_{form}_{verb}" for form in ("did", "step") for verb in INVERSES),
    ]
    assert [key for key in wanted if key not in words.of(language)] == []


def test_no_word_of_these_pages_takes_the_place_of_another() -> None:
    from pickups.desk.words.en import EN

    assert set(sheets_en.EN) & set(EN) == set()
