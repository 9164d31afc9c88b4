"""The parts import in one direction only, and what a browser must not load is not loaded."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

ENGINE = Path(__file__).resolve().parents[2] / "engine"
PACKAGE = ENGINE / "steelyard"

# From the bottom up: each part may import those in earlier lines, and its own line only itself.
LAYERS: tuple[tuple[str, ...], ...] = (
    ("errors",),
    ("geometry",),
    ("units",),
    ("model",),
    ("document",),
    ("linear",),
    ("sparse",),
    ("program",),
    ("statics",),
    ("limits",),
    ("kinetics",),
    ("edit",),
    ("picture",),
    ("working",),
    ("report",),
    ("panels",),
    ("shelf", "request"),
    ("session",),
    ("bridge", "cli"),
)
RANK = {part: rank for rank, layer in enumerate(LAYERS) for part in layer}
FILES = sorted(PACKAGE.rglob("*.py"))

OUTSIDE = {"svgwrite": "picture/svg.py"}

TABLE = ENGINE.parent / "DEVELOPERS.md"


def part_of(path: Path) -> str:
    """The layer a file belongs to; "" for the package's own __init__."""
    first = path.relative_to(PACKAGE).parts[0]
    return "" if first == "__init__.py" else first.removesuffix(".py")


def imported(path: Path) -> list[str]:
    """Absolute names of all modules a file imports, wherever in the file it does so."""
    package = ["steelyard", *path.relative_to(PACKAGE).parts[:-1]]
    found: list[str] = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            module = [*base, *(node.module.split(".") if node.module else [])]
            found += [".".join([*module, alias.name]) for alias in node.names]
    return found


def test_table_for_developers_shows_these_layers_in_this_order():
    rows = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if line.startswith("| `")]
    shown = tuple(tuple(re.findall(r"`(\w+)(?:\.py|/)`", row.split("|")[1])) for row in rows[: len(LAYERS)])
    assert shown == LAYERS


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_file_imports_only_layers_below_its_own(path):
    own = part_of(path)
    assert own == "" or own in RANK, f"{own} has no layer: add it to the table here and in DEVELOPERS.md"
    for name in imported(path):
        parts = name.split(".")
        if parts[0] != "steelyard" or len(parts) == 1 or parts[1] not in RANK:
            continue
        assert own != "", f"{path.name} of the package must import nothing: it is read before every part"
        assert parts[1] == own or RANK[parts[1]] < RANK[own], f"{own} must not import {name}"


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_file_imports_nothing_but_the_standard_library_and_where_it_may_svgwrite(path):
    for name in imported(path):
        top = name.split(".")[0]
        if top in sys.stdlib_module_names or top == "steelyard":
            continue
        assert OUTSIDE.get(top) == path.relative_to(PACKAGE).as_posix(), f"{path.name} must not import {name}"


def test_answering_the_page_loads_neither_svgwrite_nor_the_command_line():
    script = "import sys, steelyard.bridge; print(*sorted(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", script], env={"PYTHONPATH": str(ENGINE)}, capture_output=True, text=True, check=True
    )
    loaded = set(done.stdout.split())
    assert "steelyard.statics" in loaded
    assert not loaded & {"svgwrite", "numpy", "argparse", "steelyard.cli"}
