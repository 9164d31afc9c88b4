"""The working as the page shows it: the revealed steps, how many there are, and the ways it can be read."""

from __future__ import annotations

from ..geometry import Point, distance
from ..model import Sketch
from ..statics.pivot import name_of, second_point
from ..statics.reading import Analysis
from ..working.reading import Read, has_geometry
from .steps import PanelStep, PanelSteps

Data = dict[str, object]


def live_working(sketch: Sketch, analysis: Analysis, read: Read, width_px: float) -> Data:
    """`{steps}`: all of the working that follows the hand. A step not revealed is not in it.

    `width_px` is the room for a row of mathematics. The steps are written as data by the door, which knows what the
    page holds of them.
    """
    steps = tuple(PanelStep(step, _thing_at(sketch, analysis, step.point)) for step in read.working.steps)
    return {"steps": PanelSteps(steps, read.working.comma, width_px)}


# A pivot stands on a support when it is as near as rounding leaves it.
_SAME_PLACE = 1e-9


def _thing_at(sketch: Sketch, analysis: Analysis, point: Point | None) -> str:
    if point is None:
        return ""
    near = _SAME_PLACE * max(1.0, abs(point[0]), abs(point[1]))
    if distance(point, analysis.pivot) <= near:
        return "pivot"
    second = second_point(sketch)
    if second is not None and distance(point, second) <= near:
        return "second-pivot"
    for reading in analysis.readings:
        if distance(point, reading.force.point) <= near:
            return reading.force.entity
    return ""


def working(sketch: Sketch, analysis: Analysis, read: Read, order: tuple[str, ...], width_px: float) -> Data:
    """`{steps, total, geometry, sums}`; a step not revealed is only counted.

    `geometry`: there is a working by geometry too. `sums` are the sums a user may put first, `{key, text, place}` each,
    `place` 1 for the first one chosen and 0 for one left to the tool.
    """
    named = [
        ("pivot", f"{sketch.settings.turning_word}s about {name_of(sketch)}"),
        ("x", "forces along x"),
        ("y", "forces along y"),
    ]
    unknown = any(reading.force.role == "unknown" for reading in analysis.readings)
    ordered = unknown and analysis.supports.kind != "mechanism"
    return {
        **live_working(sketch, analysis, read, width_px),
        "total": read.total,
        "geometry": has_geometry(sketch, analysis),
        "sums": [
            {"key": key, "text": text, "place": order.index(key) + 1 if key in order else 0}
            for key, text in (named if ordered else [])
        ],
    }
