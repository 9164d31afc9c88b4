"""What is at a point of the sheet, in pick order: for a long press and for tests of the page's own picking."""

from __future__ import annotations

import math

from ..geometry import Point, nearest_on_segment
from ..model import Sketch
from ..panels.system import isolate_actions, name_of, system
from ..picture.record import Target
from ..statics.reading import Analysis


def things_at(targets: tuple[Target, ...], point: Point, catch_px: float, selected: str | None) -> list[dict[str, str]]:
    """`[{of, grip, name}]` of every target within reach, the first choice first, each thing's grip once."""
    found: dict[tuple[str, str], Target] = {}
    for target in sorted(targets, key=lambda each: each.rank):
        if target.selected_only and target.of != selected:
            continue
        if _gap(target, point) <= catch_px:
            found.setdefault((target.of, target.grip), target)
    return [{"of": each.of, "grip": each.grip, "name": each.name} for each in found.values()]


def with_systems(here: list[dict[str, str]], sketch: Sketch, analysis: Analysis | None) -> list[dict[str, object]]:
    """The same list; after the things, for each body here, what the system could be with it or without."""
    listed: list[dict[str, object]] = [dict(each) for each in here]
    shown = None if analysis is None else system(sketch, analysis)
    bodies = {body.id for body in sketch.bodies}
    for of in dict.fromkeys(each["of"] for each in here if shown is not None and each["of"] in bodies):
        for item in isolate_actions(sketch, of):
            if item["key"] != "isolate-follow":
                listed.append(
                    {
                        "of": of,
                        "grip": item["key"],
                        "name": f"{name_of(sketch, of)}: {str(item['label']).lower()}",
                        "command": {"name": item["command"], "args": item["args"]},
                    }
                )
    return listed


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
