"""What a plate or disc is made of: outlines and holes, each an area with a sign; exact sums over them.

Areas in m², in the body's own frame. Sources: polar second moments of a polygon by Green's theorem, of a circle
π r⁴/2; several areas are put together by parallel axes, a hole counting as negative area: as any statics text has it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from ..geometry import Point, cross, distance, dot, polygon_area_and_centroid, subtract
from ..model import Body

# A plate whose holes leave less than this part of it has no centroid worth a digit.
NEXT_TO_NOTHING = 1e-9


class Patch(NamedTuple):
    """One area, negative for a hole: its centroid, and ∬r² dA about that (with the area's sign)."""

    area_m2: float
    centre_m: Point
    polar_m4: float


def patches(body: Body) -> tuple[Patch, ...]:
    """The outline of a plate or disc first, then its holes."""
    outer = _round((0.0, 0.0), body.radius_m) if body.kind == "disc" else _ring(body.points_m or ((0.0, 0.0),))
    holes = [*map(_ring, body.holes_m), *(_round(hole.centre_m, hole.radius_m) for hole in body.round_holes)]
    return (outer, *(Patch(-area, centre, -polar) for area, centre, polar in holes))


def together(parts: Sequence[Patch]) -> Patch:
    """All of them as one area. Where next to nothing is left of the first, zero area at its centroid."""
    base = parts[0].centre_m
    area = math.fsum(part.area_m2 for part in parts)
    if area <= NEXT_TO_NOTHING * parts[0].area_m2:
        return Patch(0.0, base, 0.0)
    # Differences from the first centroid, so that a shape far from its frame's origin loses no digits.
    first_x = math.fsum(part.area_m2 * (part.centre_m[0] - base[0]) for part in parts)
    first_y = math.fsum(part.area_m2 * (part.centre_m[1] - base[1]) for part in parts)
    centre = (base[0] + first_x / area, base[1] + first_y / area)
    polar = math.fsum(part.polar_m4 + part.area_m2 * distance(part.centre_m, centre) ** 2 for part in parts)
    return Patch(area, centre, polar)


def _round(centre: Point, radius_m: float) -> Patch:
    area = math.pi * radius_m * radius_m
    return Patch(area, centre, area * radius_m * radius_m / 2.0)


def _ring(ring: Sequence[Point]) -> Patch:
    signed, centre = polygon_area_and_centroid(tuple(ring))
    total = 0.0
    for start, end in pairwise((*ring, ring[0])):
        first, second = subtract(start, centre), subtract(end, centre)
        total += cross(first, second) * (dot(first, first) + dot(first, second) + dot(second, second))
    return Patch(abs(signed), centre, abs(total) / 12.0)
