"""The few pivots and axes worth trying, the best first: what is marked on the board and listed beside it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache

from ..geometry import Point, Vector, distance
from ..model import Sketch
from .advice import Advice, advice, parts
from .pivot import place_of
from .reading import ActingForce, Analysis

# More marks than this are no advice.
MOST_TRIES = 8
_SAME_PLACE = 1e-9


@dataclass(frozen=True, slots=True)
class _Layout:
    """What the advice hangs on: the lines of the unknowns. Moving the pivot or a load does not work it out again."""

    forces: tuple[ActingForce, ...]
    lever_m: float
    extra: tuple[Point, ...]
    x_axis: Vector
    analysis: Analysis = field(compare=False)


def worth_trying(sketch: Sketch, analysis: Analysis) -> tuple[Advice, ...]:
    """Supports, named points and crossings of the unknowns' lines about which an unknown drops out, best first.

    An axis is among them when no more than one unknown is left along it, or when the lines of two forces are
    square to it: parallel lines are best summed across. Known forces are left out of what drops out.
    """
    unknown = tuple(reading for reading in analysis.readings if reading.force.role == "unknown")
    lines = tuple(reading.force._replace(guess=None, guess_couple_n_m=None) for reading in unknown)
    extra = named_points(sketch, *analysis.bodies)
    only = replace(analysis, readings=unknown)
    return _found(_Layout(lines, analysis.lever_m, extra, analysis.x_axis, only))


def named_points(sketch: Sketch, *body_ids: str) -> tuple[Point, ...]:
    """Where the named points of the paper and of these bodies are."""
    places = (place_of(sketch, point.id) for point in sketch.points if point.body in (None, *body_ids))
    return tuple(place for place in places if place is not None)


def is_at(advice_: Advice, point: Point, lever_m: float) -> bool:
    """Whether a pivot is already at the point of an advice, to within rounding."""
    if advice_.point is None:
        return False
    reach = _SAME_PLACE * max(lever_m, abs(point[0]), abs(point[1]))
    return distance(advice_.point, point) <= reach


@lru_cache(maxsize=4)
def _found(layout: _Layout) -> tuple[Advice, ...]:
    lines = {part.key: part.force for part in parts(layout.analysis) if part.along is not None}
    found = []
    for each in advice(layout.analysis, layout.extra):
        square = {lines[key] for key in each.drops if key in lines}
        if each.point is not None or (square and (len(each.left) <= 1 or len(square) > 1)):
            found.append(each)
    return tuple(found[:MOST_TRIES])
