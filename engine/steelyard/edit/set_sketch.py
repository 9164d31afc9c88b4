"""Fields of the sketch itself: title, question, caution, answers, settings, and the pivot."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from ..document.table import SETTINGS, SKETCH_TEXTS
from ..model import Pivot, Sketch
from ..units import Kind
from .change import tidy_point
from .grips import SECOND_PIVOT, pivot_place
from .moving import with_pivot
from .typed import Typed, no_such_field

_LONGEST = {field.key: field.longest for field in SKETCH_TEXTS}


def set_sketch(sketch: Sketch, key: str, typed: Typed) -> Sketch:
    """Title, question or caution."""
    match key:
        case "title":
            return replace(sketch, title=typed.words(_LONGEST["title"]) or "Untitled sketch")
        case "question":
            return replace(sketch, question=typed.words(_LONGEST["question"]))
        case "caution":
            return replace(sketch, caution=typed.words(_LONGEST["caution"]))
    no_such_field(typed.where, "the sketch")
    return sketch


def set_setting(sketch: Sketch, key: str, typed: Typed) -> Sketch:
    """One setting, or whether answers are kept back or shown."""
    if key == "answers":
        # Whether shown or kept back, none is told apart from the others any more.
        return replace(sketch, answers="kept" if typed.choice(("kept", "shown")) == "kept" else "shown", told=())
    field = next((one for one in SETTINGS.fields if one.key == key), None)
    if field is None:
        no_such_field(typed.where, "the settings")
        return sketch
    value: Any
    match field.shape:
        case "number":
            kind: Kind = "angle" if key == "axes_deg" else "acceleration"
            value = typed.quantity(kind, above=field.above, most=field.most)
        case "reference":
            value = typed.choice(("", *(body.id for body in sketch.bodies))) or None
        case "integer":
            value = int(
                typed.choice(tuple(str(count) for count in range(int(field.least or 2), int(field.most or 8) + 1)))
            )
        case "switch":
            value = typed.switch()
        case _:
            value = typed.choice(field.choices)
    return replace(sketch, settings=replace(sketch.settings, **{key: value}))


def set_pivot(sketch: Sketch, of: str, key: str, typed: Typed) -> Sketch:
    """The pivot's place (or the second one's), which frees it, or what it is tied to."""
    second = of == SECOND_PIVOT
    x, y = tidy_point(pivot_place(sketch, of))
    match key:
        case "x":
            return with_pivot(sketch, Pivot((typed.quantity("length"), y)), second=second)
        case "y":
            return with_pivot(sketch, Pivot((x, typed.quantity("length"))), second=second)
        case "tied_to":
            ties = ("", *(entity.id for entity in (*sketch.supports, *sketch.points, *sketch.loads)))
            tied = typed.choice(ties)
            return with_pivot(sketch, Pivot((x, y), tied or None), second=second)
    no_such_field(typed.where, "the pivot")
    return sketch
