"""What the plant wants of tread designs, in words."""

from dataclasses import dataclass
from uuid import UUID

from plant.dock import queries as dock
from plant.dock.models import TreadTarget
from plant.dock.rules import FIGURES
from plant.floor import words
from plant.floor.queries.loads import when


@dataclass(frozen=True, slots=True)
class Line:
    """One design, in one size or all. figures: each with its name; those that nobody has entered
    stand in `missing`."""

    id: int
    design: str
    size: str
    figures: list[tuple[str, str]]
    missing: str
    sheet: str
    said: str
    back_said: str


def entered(plant: UUID, language: str) -> list[Line]:
    """What the plant has entered: with who, when and from which sheet."""
    return [_line(row, language) for row in dock.tread_targets([plant])]


def last_sheet(plant: UUID) -> str:
    """The sheet that was named last: the next line is most likely of the same."""
    rows = sorted(dock.tread_targets([plant]), key=lambda row: row.entered_at)
    return rows[-1].sheet if rows else ""


def _line(row: TreadTarget, language: str) -> Line:
    told = {name: getattr(row, name) for name in FIGURES}
    return Line(
        id=row.pk,
        design=row.tread_design,
        size=row.size or words.say(language, "limits_all_sizes"),
        figures=[(words.say(language, f"targets_{name}"), f"{value:g}")
                 for name, value in told.items() if value is not None],
        missing=", ".join(words.say(language, f"targets_{name}")
                          for name, value in told.items() if value is None),
        sheet=row.sheet,
        said=words.say(language, "limits_when", who=row.entered_by,
                       when=when(language, row.entered_at)),
        back_said=words.say(language, "targets_back_of", which=row),
    )  # fmt: skip
