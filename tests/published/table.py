"""The table of published cases: each source, then its printed figures and the computed ones side by side."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence
from typing import Any

from cases import CASES, Case, computed, source_of

HEADINGS = ("", "quantity", "printed", "computed", "unit", "relative difference", "")
WIDTH = 118
INDENT: dict[str, Any] = {"initial_indent": "     ", "subsequent_indent": "     ", "break_on_hyphens": False}


def main(words: Sequence[str]) -> int:
    """Print the table of all cases, or of those whose name or source holds every word; 1 when a figure is missed."""
    chosen = [case for case in CASES if all(word.lower() in _text(case) for word in words)]
    rows = [_rows(case) for case in chosen]
    flat = [HEADINGS, *(row for case_rows in rows for row in case_rows)]
    widths = [max(len(row[column]) for row in flat) for column in range(len(HEADINGS))]
    print(_line(HEADINGS, widths))
    for case, case_rows in zip(chosen, rows, strict=True):
        print()
        print(f"{case['id']}  {case['what']}")
        print(textwrap.fill(source_of(case), WIDTH, **INDENT))
        for row in case_rows:
            print(_line(row, widths))
    missed = sum(row[-1] != "" for case_rows in rows for row in case_rows)
    figures = sum(map(len, rows))
    print(f"\n{len(chosen)} cases, {figures} figures: {figures - missed} within the digits printed, {missed} missed.")
    return 1 if missed else 0


def _text(case: Case) -> str:
    return re.sub(r"\s+", " ", f"{case['id']} {case['what']} {source_of(case)}").lower()


def _rows(case: Case) -> list[tuple[str, ...]]:
    """One row a printed figure; the last cell says MISSED when it is off by more than the digits printed allow."""
    rows = []
    for expected in case["expected"]:
        value = computed(case, expected)
        printed = expected["value"]
        unit = expected["unit"]
        name = f"{expected['of']} {expected['quantity']}"
        if value is None:
            rows.append(("    ", name, f"{printed:.10g}", "none", unit, "", "MISSED"))
            continue
        off = abs(value - printed)
        relative = f"{off / abs(printed):.1e}" if printed else f"{off:.1e} (absolute)"
        missed = off > expected["tolerance"] + 1e-12 * abs(printed)
        rows.append(("    ", name, f"{printed:.10g}", f"{value:.8g}", unit, relative, "MISSED" if missed else ""))
    return rows


def _line(row: Sequence[str], widths: Sequence[int]) -> str:
    """Words to the left, figures to the right."""
    cells = [
        cell.rjust(width) if column in (2, 3, 5) else cell.ljust(width)
        for column, (cell, width) in enumerate(zip(row, widths, strict=True))
    ]
    return "  ".join(cells).rstrip()
