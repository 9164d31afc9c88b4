"""Fields of a given: what it measures, how it is shown, where it stands; a number typed moves what it measures."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

from ..document.table import NAME_LIMIT, SYMBOL_LIMIT
from ..model import Given, Measured, Sketch
from ..units import read_quantity
from . import driving, naming
from .change import fail, find, put_given, tidy_point
from .typed import Typed, no_such_field

# Between the id of a thing and the number of its edge, in the choice of what an angle is measured against.
EDGE_MARK = "#"
_MEASURED: tuple[Measured, ...] = get_args(Measured)


def set_given(sketch: Sketch, given: Given, key: str, typed: Typed) -> Sketch:
    """The sketch with one field of a given changed; raises `SteelyardError` for a key or text that will not do."""
    match given.kind, key:
        case "length", "value":
            return driving.with_length(sketch, given, typed.quantity("length", above=0.0), typed.where)
        case "angle", "value":
            return driving.with_angle(sketch, given, typed.quantity("angle", least=0.0), typed.where)
        case "slope", "ratio":
            rise, run = _ratio(sketch, typed)
            return driving.with_slope(sketch, given, rise, run)
        case _, "in_extended":
            return put_given(sketch, replace(given, in_extended=typed.switch()))
        case "length" | "slope", "offset":
            return put_given(sketch, replace(given, offset_m=typed.quantity("length")))
        case "angle", "offset":
            return put_given(sketch, replace(given, offset_m=typed.quantity("length", least=0.0)))
        case "length", "measured":
            way = next(each for each in _MEASURED if each == typed.choice(_MEASURED))
            return put_given(sketch, replace(given, measured=way))
        case "angle", "against":
            return put_given(sketch, _measured_against(sketch, given, typed))
        case "angle", "other":
            return put_given(sketch, replace(given, other=typed.switch()))
        case "label", "text":
            text = typed.words(NAME_LIMIT)
            return put_given(sketch, replace(given, text=text, letter="" if text else given.letter))
        case "label", "letter":
            letter = typed.words(SYMBOL_LIMIT)
            return put_given(sketch, replace(given, letter=letter, text="" if letter else given.text))
        case "label", "shift_x" | "shift_y":
            return put_given(sketch, _shifted(given, key, typed))
        case "length" | "angle", "letter":
            letter = typed.words(SYMBOL_LIMIT)
            return put_given(sketch, replace(given, letter=letter, number=given.number or not letter))
        case "length" | "angle", "number":
            on = typed.switch()
            letter = given.letter or ("" if on else naming.given_letter(sketch, given.kind))
            return put_given(sketch, replace(given, number=on, letter=letter))
    no_such_field(typed.where, f"a {given.kind}")
    return sketch


def _ratio(sketch: Sketch, typed: Typed) -> tuple[float, float]:
    """Rise and run from "3:4" or "3 to 4", or from an angle or a single number, its rise for a run of 1."""
    words = typed.text.replace(" to ", ":").replace("/", ":").split(":")
    if len(words) > 2 or not all(word.strip() for word in words):
        fail("ratio", typed.where, f'`{typed.where}` must be a rise and a run: got "{typed.text[:40]}".', "Write 3:4.")
    rise, run = (
        read_quantity(word.strip(), "number", sketch.settings, where=typed.where) for word in (*words, "1")[:2]
    )
    if rise < 0.0 or run < 0.0 or (rise == 0.0 and run == 0.0):
        fail("ratio", typed.where, f"`{typed.where}` must be of numbers without a minus.", "Write for instance 3:4.")
    return rise, run


def _measured_against(sketch: Sketch, given: Given, typed: Typed) -> Given:
    if typed.text == "horizontal":
        return replace(given, against="horizontal", second_line=None, second_edge=0)
    if typed.text == "vertical":
        return replace(given, against="vertical", second_line=None, second_edge=0)
    line, _, edge = typed.text.partition(EDGE_MARK)
    entity = find(sketch, line)
    number = int(edge) if edge.isdigit() and len(edge) < 4 else 0
    return replace(given, against="line", second_line=entity.id, second_edge=number)


def _shifted(given: Given, key: str, typed: Typed) -> Given:
    """How far a label stands from its point; emptied, it stands where there is room."""
    value = typed.maybe("length")
    if value is None:
        return replace(given, shift_m=None)
    x, y = given.shift_m or (0.0, 0.0)
    return replace(given, shift_m=tidy_point((value, y) if key == "shift_x" else (x, value)))
