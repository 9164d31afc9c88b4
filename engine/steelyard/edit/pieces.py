"""Pieces fixed to a body, with masses of their own: added, moved, sized and taken off."""

from __future__ import annotations

import re
from dataclasses import replace

from ..geometry import Point
from ..model import AddedPiece, Body, Sketch
from ..statics import shape
from .change import Change, fail, put, tidy, tidy_point
from .context import Context, candidates
from .joining import settle
from .snapping import Snapped, snap
from .typed import Typed

_GRIP = re.compile(r"^piece-(\d{1,2})$")
_FIELD = re.compile(r"^piece(\d{1,2})_(x|y|mass|shape|radius|width|height|angle)$")
# A piece weighs something at once, so that its centre shows; its author types the true mass.
NEW_PIECE_KG = 10.0
_PART = 0.1
# How large a point becomes when it is given a shape.
_SMALL_M = 0.2


def grips(body: Body) -> tuple[str, ...]:
    """The grips of a body's pieces."""
    return tuple(f"piece-{index}" for index in range(len(body.pieces)))


def piece_of(body: Body, grip: str) -> int | None:
    """Which piece a grip holds; None when it holds none."""
    found = _GRIP.match(grip)
    return int(found[1]) if found is not None and int(found[1]) < len(body.pieces) else None


def new_piece(sketch: Sketch, body: Body) -> Change:
    """One more piece: a small disc in the middle of the body, to be put where it belongs."""
    low, high = shape.extent(body)
    radius = float(f"{_PART * max(high[0] - low[0], high[1] - low[1]):.1g}")
    piece = AddedPiece(tidy_point(shape.centre_place(body)), NEW_PIECE_KG, radius_m=radius)
    added = put(sketch, replace(body, pieces=(*body.pieces, piece)))
    return Change(settle(sketch, added), f"Fix a piece to {body.name}", body.id)


def with_piece(sketch: Sketch, body: Body, index: int, piece: AddedPiece) -> Sketch:
    """The sketch with another piece in the place of one."""
    return put(sketch, replace(body, pieces=(*body.pieces[:index], piece, *body.pieces[index + 1 :])))


def without_piece(sketch: Sketch, body: Body, index: int) -> Change:
    """The body without one of its pieces; raises `SteelyardError` when there is no such piece."""
    if not 0 <= index < len(body.pieces):
        fail("piece", "piece", f"{body.name} has no piece {index + 1}.", "Choose one that is there.")
    rest = (*body.pieces[:index], *body.pieces[index + 1 :])
    return Change(settle(sketch, put(sketch, replace(body, pieces=rest))), f"Take a piece off {body.name}")


def move_piece(
    sketch: Sketch, body: Body, index: int, point: Point, context: Context, previous: Snapped | None
) -> tuple[Sketch, Snapped]:
    """A piece with its centre where the hand is, on the body or beside it."""
    caught = snap(point, candidates(sketch, context), context.catch_m, context.release_m, previous)
    place = tidy_point(shape.local(body, caught.point))
    return with_piece(sketch, body, index, replace(body.pieces[index], centre_m=place)), caught


def set_piece(sketch: Sketch, body: Body, key: str, typed: Typed) -> Sketch | None:
    """The sketch with one field of a piece changed; None when the key is no field of one."""
    found = _FIELD.match(key)
    if found is None or int(found[1]) >= len(body.pieces):
        return None
    index = int(found[1])
    return with_piece(sketch, body, index, _changed(body.pieces[index], found[2], typed))


def _changed(piece: AddedPiece, part: str, typed: Typed) -> AddedPiece:
    x, y = piece.centre_m
    match part:
        case "x":
            return replace(piece, centre_m=(typed.quantity("length"), y))
        case "y":
            return replace(piece, centre_m=(x, typed.quantity("length")))
        case "mass":
            return replace(piece, mass_kg=typed.quantity("mass", above=0.0))
        case "angle":
            return replace(piece, angle_deg=typed.quantity("angle"))
        case "shape":
            return _of_shape(piece, typed.choice(tuple(shape.PIECE_SHAPES)))
        case "radius":  # a disc has no sides, and the other way round
            return replace(piece, radius_m=typed.quantity("length", above=0.0), width_m=0.0, height_m=0.0)
        case "width":
            return replace(piece, width_m=typed.quantity("length", above=0.0), radius_m=0.0)
    return replace(piece, height_m=typed.quantity("length", above=0.0), radius_m=0.0)


def _of_shape(piece: AddedPiece, wanted: str) -> AddedPiece:
    """About as large in another shape."""
    size = tidy(max(2.0 * piece.radius_m, piece.width_m, piece.height_m)) or _SMALL_M
    radius, width, height = {
        "disc": (tidy(size / 2.0), 0.0, 0.0),
        "bar": (0.0, size, 0.0),
        "rectangle": (0.0, size, tidy(size / 2.0)),
    }.get(wanted, (0.0, 0.0, 0.0))
    return replace(piece, radius_m=radius, width_m=width, height_m=height)
