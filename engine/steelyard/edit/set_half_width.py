"""How far a measured number may be off: typed beside it, emptied to take it away."""

from __future__ import annotations

from dataclasses import replace

from .. import document
from ..model import HalfWidth, Sketch
from .typed import Typed

# What the key of such a field begins with; the path of the number follows.
HALF_WIDTH = "half_width:"


def set_half_width(sketch: Sketch, path: str, typed: Typed) -> Sketch:
    """Give a number a half-width in its own unit, or none when the text is empty or zero.

    Raises `SteelyardError` for a path that names no number, and for a negative half-width.
    """
    number = document.number_at(sketch, path)
    width = typed.maybe(number.kind, least=0.0)
    others = tuple(each for each in sketch.half_widths if each.path != number.path)
    if not width:
        return replace(sketch, half_widths=others)
    new = HalfWidth(number.path, width)
    if len(others) == len(sketch.half_widths):
        return replace(sketch, half_widths=(*others, new))
    return replace(sketch, half_widths=tuple(new if each.path == number.path else each for each in sketch.half_widths))
