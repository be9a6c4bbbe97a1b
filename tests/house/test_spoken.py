"""One thing has one word in Spanish, on the phone, on paper, in the mail and in the plant."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
OTHERS = {
    "pronóstico": re.compile(r"\bprevisi(ón|ones)\b", re.IGNORECASE),
    "plazo normal": re.compile(r"\btiempo normal\b", re.IGNORECASE),
    "simulaciones": re.compile(r"\bcursos\b", re.IGNORECASE),
}
"""The word that is used, and what is not said in its place; a course of a simulation is none of a
school's."""


def spoken() -> list[Path]:
    """The files of words that hold Spanish."""
    found = [*ROOT.glob("pickups/*/words/*.py"), *ROOT.glob("plant/*/words/*.py")]
    return sorted([*found, *(ROOT / "frontend/src").rglob("*words*.es.ts"),
                   *ROOT.glob("frontend/src/pickups/words/*.es.ts")])  # fmt: skip


def test_one_word_for_one_thing() -> None:
    assert len(spoken()) > 30
    said = {path: path.read_text(encoding="utf-8") for path in spoken()}
    assert {
        (path.relative_to(ROOT).as_posix(), word)
        for path, text in said.items()
        for word, other in OTHERS.items()
        if other.search(text)
    } == set()
