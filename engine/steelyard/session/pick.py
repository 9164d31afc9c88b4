"""What is at a point of the sheet, in pick order: for a long press and for tests of the page's own picking."""

from __future__ import annotations

import math

from ..geometry import Point, nearest_on_segment
from ..picture.record import Target


def things_at(targets: tuple[Target, ...], point: Point, catch_px: float, selected: str | None) -> list[dict[str, str]]:
    """`[{of, grip, name}]` of every target within reach, the first choice first, each thing's grip once."""
    found: dict[tuple[str, str], Target] = {}
    for target in sorted(targets, key=lambda each: each.rank):
        if target.selected_only and target.of != selected:
            continue
        if _gap(target, point) <= catch_px:
            found.setdefault((target.of, target.grip), target)
    return [{"of": each.of, "grip": each.grip, "name": each.name} for each in found.values()]


def _gap(target: Target, point: Point) -> float:
    """How far a point is from a target in px; 0 inside an area."""
    corners = target.points_px
    if target.shape == "dot" or len(corners) == 1:
        return math.dist(corners[0], point)
    if target.shape == "area":
        if _inside(corners, point):
            return 0.0
        corners = (*corners, corners[0])
    return min(
        math.dist(nearest_on_segment(point, corners[index], corners[index + 1])[0], point)
        for index in range(len(corners) - 1)
    )


def _inside(corners: tuple[Point, ...], point: Point) -> bool:
    within = False
    for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
        if (start[1] > point[1]) != (end[1] > point[1]):
            within ^= point[0] < start[0] + (point[1] - start[1]) * (end[0] - start[0]) / (end[1] - start[1])
    return within
