"""The pivot: the point torques are taken about, and the letter beside it; and the second one, where there is one."""

from __future__ import annotations

from ..geometry import Point, distance
from ..model import Pivot, Sketch
from . import shape

# Letters proposed for a pivot without a name: none is a unit, or a usual symbol for a force.
_LETTERS = ("O", "Q", "D", "E", "H", "K", "L")

# A named point lends its name to a pivot at the same place, to within the rounding of coordinates.
_SAME_PLACE = 1e-9


def pivot_point(sketch: Sketch) -> Point:
    """Where torques are taken, in the world.

    A tied pivot follows what it is tied to. Without a pivot: the first support, else the first body's
    origin, else the origin of the paper.
    """
    if sketch.pivot is not None:
        return _where(sketch, sketch.pivot)
    if sketch.supports:
        first = place_of(sketch, sketch.supports[0].id)
        if first is not None:
            return first
    return sketch.bodies[0].origin_m if sketch.bodies else (0.0, 0.0)


def second_point(sketch: Sketch) -> Point | None:
    """Where the same torques are taken again, in the world; None without a second pivot."""
    return None if sketch.second_pivot is None else _where(sketch, sketch.second_pivot)


def _where(sketch: Sketch, pivot: Pivot) -> Point:
    tied = None if pivot.tied_to is None else place_of(sketch, pivot.tied_to)
    return pivot.place_m if tied is None else tied


def name_of(sketch: Sketch) -> str:
    """The letter beside the pivot: the named point it sits on, else a free letter."""
    return _name_at(sketch, pivot_point(sketch), set())


def second_name(sketch: Sketch) -> str:
    """The letter beside the second pivot, found like the first one's and never the same; "" when there is none."""
    place = second_point(sketch)
    return "" if place is None else _name_at(sketch, place, {name_of(sketch)})


def _name_at(sketch: Sketch, place: Point, taken: set[str]) -> str:
    reach = max(1.0, abs(place[0]), abs(place[1])) * _SAME_PLACE
    for named in sketch.points:
        there = place_of(sketch, named.id)
        if there is not None and named.name and named.name not in taken and distance(there, place) <= reach:
            return named.name
    taken = taken | {named.name for named in sketch.points}
    taken.update(support.symbol for support in sketch.supports)
    taken.update(load.symbol for load in sketch.loads)
    return next((letter for letter in _LETTERS if letter not in taken), "O′")


def place_of(sketch: Sketch, entity_id: str) -> Point | None:
    """Where a support, named point, load or body (its centre of mass) is in the world; None when there is no such."""
    for entity in (*sketch.supports, *sketch.points, *sketch.loads):
        if entity.id == entity_id:
            if entity.body is None:
                return entity.place_m
            for body in sketch.bodies:
                if body.id == entity.body:
                    return shape.world(body, entity.place_m)
    for body in sketch.bodies:
        if entity_id in (body.id, f"{body.id}-weight"):
            return shape.centre_of_mass(body)
    return None
