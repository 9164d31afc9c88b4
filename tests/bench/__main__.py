"""Prints every benchmark of this folder as a ratio with its goal beside it, all measured in this one run.

Each module `bench_*.py` here has `rows() -> list[Row]`. Words given on the command line choose modules by name.
"""

import importlib
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
for folder in (HERE.parent / "engine", HERE, HERE.parents[1] / "web", HERE.parents[1] / "engine"):
    sys.path.insert(0, str(folder))

from row import Row  # noqa: E402 - the path above must be set first

HEADINGS = ("what", "measured", "against", "ratio", "goal", "")


def cells(row: Row) -> tuple[str, ...]:
    """A row as it is printed."""
    ratio = "" if row.ratio is None else f"{row.ratio:.3f}"
    return (row.name, row.measured, row.against, ratio, row.goal, {True: "met", False: "MISSED", None: ""}[row.met])


def main(chosen: list[str]) -> int:
    """Run the modules and print the table; always 0, because a slow machine is no failure."""
    modules = [path.stem for path in sorted(HERE.glob("bench_*.py"))]
    table = [HEADINGS]
    for name in modules:
        if chosen and not any(word in name for word in chosen):
            continue
        print(f"measuring {name.removeprefix('bench_')} …", file=sys.stderr, flush=True)
        table += [cells(row) for row in importlib.import_module(name).rows()]
    widths = [max(len(line[column]) for line in table) for column in range(len(HEADINGS))]
    for line in table:
        print("  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip())
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
