"""Any stored number of the balance by its path: what a track moves."""

from __future__ import annotations

from .. import document
from ..model import Sketch
from .typed import Typed

# What the key of such a field begins with; the path of the number follows.
NUMBER = "number:"


def set_number(sketch: Sketch, path: str, typed: Typed) -> Sketch:
    """The sketch with another value there. Raises `SteelyardError` for no such number, and for a size below zero."""
    number = document.number_at(sketch, path)
    value = typed.quantity(number.kind, least=0.0 if number.never_negative else None)
    return document.with_number(sketch, number, value)
