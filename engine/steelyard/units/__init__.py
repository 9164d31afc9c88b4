"""Quantities read from text and written for people."""

from __future__ import annotations

from .reading import Reading, read_quantity, read_with_note
from .table import Kind, Shown, factor_of, unit_of
from .writing import MINUS, NO_BREAK_SPACE, THIN_SPACE, spoken_quantity, write_exact, write_quantity

__all__ = [
    "MINUS",
    "NO_BREAK_SPACE",
    "THIN_SPACE",
    "Kind",
    "Reading",
    "Shown",
    "factor_of",
    "read_quantity",
    "read_with_note",
    "spoken_quantity",
    "unit_of",
    "write_exact",
    "write_quantity",
]
