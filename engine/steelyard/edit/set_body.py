"""Fields of a body."""

from __future__ import annotations

import re
from dataclasses import replace

from ..document.table import NAME_LIMIT, SYMBOL_LIMIT
from ..model import Body, Sketch
from ..statics import shape
from .change import put, tidy, tidy_point
from .circles import with_radius, with_round_hole
from .pieces import set_piece
from .shaping import bar_between, reshaped, with_corner
from .typed import Typed, no_such_field

_HOLE = re.compile(r"^hole(\d{1,2})_(x|y|radius)$")
_CORNER = re.compile(r"^corner(\d{1,3})_([xy])$")


def set_body(sketch: Sketch, body: Body, key: str, typed: Typed) -> Sketch:
    """The sketch with one field of a body changed; raises `SteelyardError` for a key or a text that will not do."""
    match key:
        case "x" | "y" | "start_x" | "start_y":
            return put(sketch, _moved_start(body, key, typed))
        case "end_x" | "end_y" if body.kind == "bar":
            x, y = tidy_point(shape.ends(body)[1])
            value = typed.quantity("length")
            end = (value, y) if key == "end_x" else (x, value)
            return reshaped(sketch, bar_between(body, body.origin_m, end))
        case "length" if body.kind == "bar":
            return reshaped(sketch, replace(body, length_m=typed.quantity("length", above=0.0)))
        case "radius" if body.kind == "disc":
            return with_radius(sketch, body, typed.quantity("length", above=0.0))
        case "angle":
            return put(sketch, replace(body, angle_deg=typed.quantity("angle")))
        case "thickness":
            return put(sketch, replace(body, thickness_m=typed.quantity("length", least=0.0)))
        case "name":
            return put(sketch, replace(body, name=typed.words(NAME_LIMIT, filled=True)))
        case "centre_x" | "centre_y" | "centre":
            return put(sketch, _with_centre(body, key, typed))
    if key in ("mass", "weight", "weight_symbol", "weight_symbol_only"):
        return put(sketch, _with_weight(body, key, typed))
    with_piece = set_piece(sketch, body, key, typed)
    if with_piece is not None:
        return with_piece
    hole = _HOLE.match(key)
    if hole and int(hole[1]) < len(body.round_holes):
        return _with_hole(sketch, body, int(hole[1]), hole[2], typed)
    corner = _CORNER.match(key)
    if corner and int(corner.group(1)) < len(body.points_m):
        index = int(corner.group(1))
        x, y = body.points_m[index]
        value = typed.quantity("length")
        return with_corner(sketch, body, index, (value, y) if corner.group(2) == "x" else (x, value))
    no_such_field(typed.where, body.name)
    return sketch


def _with_hole(sketch: Sketch, body: Body, index: int, part: str, typed: Typed) -> Sketch:
    hole = body.round_holes[index]
    if part == "radius":
        return with_round_hole(sketch, body, index, replace(hole, radius_m=typed.quantity("length", above=0.0)))
    x, y = hole.centre_m
    value = typed.quantity("length")
    return with_round_hole(sketch, body, index, replace(hole, centre_m=(value, y) if part == "x" else (x, value)))


def _moved_start(body: Body, key: str, typed: Typed) -> Body:
    value = typed.quantity("length")
    x, y = body.origin_m
    return replace(body, origin_m=(value, y) if key.endswith("x") else (x, value))


def _with_weight(body: Body, key: str, typed: Typed) -> Body:
    """Mass, weight and letter exclude each other; the last one given stands."""
    match key:
        case "mass":
            mass = typed.maybe("mass", least=0.0)
            return replace(body, mass_kg=mass, weight_n=None, weight_symbol_only=False)
        case "weight":
            weight = typed.maybe("force", least=0.0)
            return replace(body, weight_n=weight, mass_kg=None, weight_symbol_only=False)
        case "weight_symbol":
            return replace(body, weight_symbol=typed.words(SYMBOL_LIMIT, filled=True))
    if not typed.switch():
        return replace(body, weight_symbol_only=False)
    return replace(body, weight_symbol_only=True, mass_kg=None, weight_n=None)


def _with_centre(body: Body, key: str, typed: Typed) -> Body:
    """The centre of mass set by hand (body frame); emptied, it follows from the shape again."""
    value = typed.maybe("length")
    if value is None:
        return replace(body, centre_m=None)
    x, y = (tidy(part) for part in shape.centre_place(body))
    return replace(body, centre_m=(x, value) if key == "centre_y" else (value, y))
