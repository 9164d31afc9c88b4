"""Quantities as people type them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NoReturn

from ..errors import SteelyardError
from .arithmetic import Unreadable, evaluate
from .table import DIMENSIONS, EXAMPLES, MASS, NUMBER, WORDS, Kind, Shown, factor_of
from .writing import write_exact

LONGEST = 120
LARGEST = 1e12


@dataclass(frozen=True, slots=True)
class Reading:
    """A value in stored units, and a sentence to show beside the field when the text was taken in a special way."""

    value: float
    note: str = ""


def read_quantity(text: str, kind: Kind, settings: Shown, *, where: str = "") -> float:
    """The value of a typed quantity in stored units (metres, newtons, kilograms, degrees).

    Without a unit it is in the shown unit. A decimal comma or point, any known unit, grouped digits and
    simple arithmetic are understood. Raises `SteelyardError` saying what was got and what to do.

    >>> from steelyard.model import Settings
    >>> read_quantity("2 m + 30 cm", "length", Settings())
    2.3
    """
    return read_with_note(text, kind, settings, where=where).value


def read_with_note(text: str, kind: Kind, settings: Shown, *, where: str = "") -> Reading:
    """`read_quantity` with what should be said about it: a mass typed for a force becomes its weight m·g."""
    if len(text) > LONGEST:
        _fail("too-long", where, kind, text, f"it has {len(text)} characters")
    try:
        expression = evaluate(text)
    except Unreadable as problem:
        _fail("text", where, kind, text, str(problem.args[0]))
    measured, note = expression.measured, expression.note
    value = measured.value
    if measured.dimension == NUMBER and (expression.bare or kind == "number"):
        value *= factor_of(kind, settings)
    elif measured.dimension != DIMENSIONS[kind]:
        if kind == "force" and measured.dimension == MASS:
            value *= settings.g_m_s2
            mass = write_exact(measured.value, "mass", settings)
            g = write_exact(settings.g_m_s2, "acceleration", settings)
            note = f"A mass of {mass} weighs {write_exact(value, 'force', settings)} (g = {g})."
        else:
            _fail("unit", where, kind, text, "its unit measures something else")
    if not math.isfinite(value) or abs(value) > LARGEST:
        _fail("range", where, kind, text, "it is too large")
    # Fifteen digits are all that a float keeps of what was typed; a sixteenth is conversion dust (57 cm, 80 × 9.81).
    return Reading(float(f"{value:.15g}") + 0.0, note)


def _fail(code: str, where: str, kind: Kind, text: str, reason: str) -> NoReturn:
    got = text if len(text) <= 40 else text[:39] + "…"
    named = f"`{where}`" if where else "This"
    hint = f"Enter a number, with or without a unit, such as {EXAMPLES[kind]}."
    message = f'{named} must be {WORDS[kind]}: got "{got}": {reason}.'
    if not text.strip():
        message = f"{named} must be {WORDS[kind]}: it is empty."
    if code == "unit":
        hint = f"Enter {WORDS[kind]}, such as {EXAMPLES[kind]}."
    raise SteelyardError(f"quantity.{code}", where, message, hint)
