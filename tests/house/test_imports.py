"""Which way imports go: the laws of pyproject.toml hold, and each bites on a planted violation.

Two laws need more than import-linter: across apps only the public modules of another app are
imported, and its tables only to name a row in a signature, never to query them.
"""

import ast
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import grimp
import pytest

PROJECT = Path(__file__).resolve().parents[2]
AREAS = ("pickups", "plant")
# Writes, reads, and what is pure; then the ways into an app that others are meant to use:
# custody's ledger, people's doors, the registry that wiring fills, the photos that a record names,
# labels drawn for the printer, the strokes drawn for a page, hand-overs as a page tells them,
# lists written at once, what is seen of a casing, words that several pages say, cases and links to
# receipts.
PUBLIC = {"services", "queries", "rules", "wire", "fold"}
PUBLIC |= {"ledger", "doors", "registry", "photos", "tin", "tread", "reasons", "printing"}
PUBLIC |= {"strokes", "handing", "ownership", "size", "load_index"}
PUBLIC |= {"bringing", "condition", "eligibility", "specifying", "words"}
PUBLIC |= {"deciding", "disputes", "happenings", "receipt_links", "reminding", "unsent"}
PUBLIC |= {"consigning", "consignments", "closing", "comparing", "daily", "limits", "limiting"}
# Whose a casing is and which labels name it, as folded; a trace; what is worked out of a record of
# a cure, in which units; what is left of a tread that failed.
PUBLIC |= {"owning", "names", "tracing", "record", "series", "units", "equivalent", "prorata"}

TRUNK = "The trunk's apps import down only"
PLANT = "The plant's apps import down only"
BRANCH = "The trunk never imports the plant"
INSIDE = "Inside an app each module imports what stands below it"
PURE = "Rules and other pure modules know no framework"
OWN = "Only custody touches the tables of custody"


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """A copy of both areas and their laws, to plant violations in."""
    for area in AREAS:
        shutil.copytree(
            PROJECT / area, tmp_path / area, ignore=shutil.ignore_patterns("__pycache__")
        )
    shutil.copy(PROJECT / "pyproject.toml", tmp_path)
    return tmp_path


def plant(house: Path, module: str, line: str) -> None:
    file = house / module
    file.parent.mkdir(exist_ok=True)
    file.write_text((file.read_text() if file.exists() else "") + f"\n{line}\n")


def lint(house: Path) -> tuple[int, str]:
    done = subprocess.run(
        [str(Path(sys.executable).with_name("lint-imports")), "--no-cache"],
        cwd=house,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout + done.stderr


def test_every_law_is_kept() -> None:
    code, said = lint(PROJECT)
    assert code == 0, said


@pytest.mark.parametrize(
    ("module", "line", "law", "named"),
    [
        (
            "pickups/kernel/clock.py",
            "import pickups.journal.services",
            TRUNK,
            "pickups.kernel.clock -> pickups.journal.services",
        ),
        (
            "pickups/labels/services.py",
            "import pickups.customers.services",
            TRUNK,
            "pickups.labels.services -> pickups.customers.services",
        ),
        ("pickups/novel/__init__.py", "", TRUNK, "novel"),
        (
            "plant/dock/services.py",
            "import plant.inspection.services",
            PLANT,
            "plant.dock.services -> plant.inspection.services",
        ),
        ("plant/novel/__init__.py", "", PLANT, "novel"),
        (
            "pickups/journal/services.py",
            "def late():\n    from plant.dock import services",
            BRANCH,
            "pickups.journal.services -> plant.dock.services",
        ),
        (
            "pickups/journal/models.py",
            "import pickups.journal.services",
            INSIDE,
            "pickups.journal.models -> pickups.journal.services",
        ),
        (
            "plant/dock/queries.py",
            "import plant.dock.services",
            INSIDE,
            "plant.dock.queries -> plant.dock.services",
        ),
        ("pickups/journal/novel.py", "", INSIDE, "novel"),
        (
            "pickups/labels/rules.py",
            "from django.db import models",
            PURE,
            "pickups.labels.rules -> django",
        ),
        (
            "pickups/custody/fold.py",
            "from pickups.kernel import locks",
            PURE,
            "pickups.custody.fold -> pickups.kernel.locks",
        ),
        (
            "pickups/notices/services.py",
            "import pickups.custody.models",
            OWN,
            "pickups.notices.services -> pickups.custody.models",
        ),
    ],
)
def test_a_planted_violation_is_seen_and_named(
    house: Path, module: str, line: str, law: str, named: str
) -> None:
    plant(house, module, line)
    code, said = lint(house)
    assert code == 1
    assert f"{law} BROKEN" in said
    assert named in said


def app_of(module: str) -> str:
    return ".".join(module.split(".")[:2])


def crossings(root: Path) -> set[str]:
    """Imports across apps of anything but a public module; config and kernel stand apart."""
    code = (
        "import grimp, sys; graph = grimp.build_graph('pickups', 'plant', cache_dir=None)\n"
        "for a in graph.modules:\n"
        "    for b in graph.find_modules_directly_imported_by(a): print(a, b)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True
    )
    pairs = [line.split() for line in done.stdout.splitlines()]
    return {
        f"{importer} -> {imported}"
        for importer, imported in pairs
        if app_of(importer) != app_of(imported)
        and app_of(importer) != "pickups.config"
        and app_of(imported) != "pickups.kernel"
        and imported.split(".")[2:3] not in ([], ["models"])
        and imported.split(".")[2] not in PUBLIC
    }


def annotations(tree: ast.AST) -> Iterator[ast.AST]:
    for node in ast.walk(tree):
        for field in ("annotation", "returns"):
            found = getattr(node, field, None)
            if isinstance(found, ast.AST):
                yield from ast.walk(found)


def foreign_rows_used(root: Path) -> set[str]:
    """Where a table of another app is used for more than to name a row in a signature."""
    found = set()
    for file in (file for area in AREAS for file in (root / area).rglob("*.py")):
        module = ".".join(file.relative_to(root).with_suffix("").parts)
        tree = ast.parse(file.read_text())
        imports = [
            node
            for node in ast.walk(tree)
            if isinstance(node, ast.ImportFrom | ast.Import) and app_of(module) != "pickups.config"
        ]
        named = {id(node) for node in annotations(tree)}
        for node in imports:
            for alias in node.names:
                source = node.module or "" if isinstance(node, ast.ImportFrom) else ""
                whole = f"{source}.{alias.name}".strip(".")
                parts = whole.split(".")
                if parts[0] not in AREAS or parts[2:3] != ["models"]:
                    continue
                if app_of(whole) == app_of(module):
                    continue
                name = alias.asname or alias.name
                if len(parts) == 3 or any(
                    isinstance(used, ast.Name) and used.id == name and id(used) not in named
                    for used in ast.walk(tree)
                ):
                    found.add(f"{module} uses {whole}")
    return found


def test_across_apps_only_public_modules_are_imported() -> None:
    assert crossings(PROJECT) == set()


def test_a_table_of_another_app_is_only_named_in_signatures() -> None:
    assert foreign_rows_used(PROJECT) == set()


def test_a_door_imported_across_apps_is_seen(house: Path) -> None:
    before = crossings(house)
    plant(house, "pickups/notices/services.py", "import pickups.journal.tasks")
    assert crossings(house) - before == {"pickups.notices.services -> pickups.journal.tasks"}


@pytest.mark.parametrize(
    "line",
    [
        "from pickups.journal.models import Entry as E\ndef f(e: E) -> None: E.objects.all()",
        "def f():\n    from pickups.journal.models import Entry as E\n    return E.objects.all()",
    ],
)
def test_a_query_on_a_table_of_another_app_is_seen(house: Path, line: str) -> None:
    before = foreign_rows_used(house)
    plant(house, "pickups/notices/services.py", line)
    assert foreign_rows_used(house) - before == {
        "pickups.notices.services uses pickups.journal.models.Entry"
    }


def test_a_row_of_another_app_named_in_a_signature_is_fine(house: Path) -> None:
    before = foreign_rows_used(house)
    line = "from pickups.journal.models import Entry as E\ndef f(e: E, *, g: list[E]) -> E: ..."
    plant(house, "pickups/notices/services.py", line)
    assert foreign_rows_used(house) == before


def test_every_app_is_under_the_law_of_its_modules() -> None:
    """An app that nobody listed would be free of it."""
    graph = grimp.build_graph(*AREAS, cache_dir=None)
    apps = {app_of(module) for module in graph.modules if module.count(".") == 1}
    listed = (PROJECT / "pyproject.toml").read_text().split("containers = [\n")[1].split("]")[0]
    expected = apps - {"pickups.config", "pickups.kernel"}
    assert {line.strip().strip('",') for line in listed.splitlines() if line.strip()} == expected
