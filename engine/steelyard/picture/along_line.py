"""A text set along a line: in a break of it, or beside it, where it meets least."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..geometry import Point
from . import text
from .constructions import Met, turned_box
from .labels import Box
from .text import Line

# Parts of the line at which the text's middle may stand, the best first.
_PARTS = (0.5, 0.38, 0.62, 0.26, 0.74, 0.16, 0.84)
_BESIDE_PX = 4.0
# A farther place costs as much as crossing this share of an edge: it decides between equals only.
_FARTHER = 1e-3


@dataclass(frozen=True, slots=True)
class Place:
    """The middle of a text's baseline on the sheet, its turn clockwise as seen, and its corners."""

    baseline: Point
    turned_deg: float
    corners: tuple[Point, Point, Point, Point]


def places(start: Point, end: Point, content: Line, heads_px: float) -> list[Place]:
    """Where a text may stand along a line from start to end: in a break where it fits, above, below."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    size = math.hypot(dx, dy)
    angle = math.degrees(math.atan2(dy, dx)) if size > 0.0 else 0.0
    # Read from the left, or from below where the line stands upright.
    if angle > 89.9 or angle <= -90.1:
        angle += 180.0 if angle < 0.0 else -180.0
    sine, cosine = math.sin(math.radians(angle)), math.cos(math.radians(angle))
    high, low = content.size * text.ASCENT_EM, content.size * text.DESCENT_EM
    centred = (high - low) / 2.0
    shifts = [-_BESIDE_PX - low, _BESIDE_PX + high]
    if content.width + heads_px + 6.0 <= size:
        shifts.insert(0, centred)
    found = []
    for shift in shifts:
        for part in _PARTS:
            room = part * size if part <= 0.5 else (1.0 - part) * size
            if shift == centred and room < (content.width + heads_px) / 2.0:
                continue
            middle = (start[0] + dx * part - sine * shift, start[1] + dy * part + cosine * shift)
            one, two, three, four = turned_box(middle, content.width, high, low, angle)
            found.append(Place(middle, angle, (one, two, three, four)))
    return found


def best(places_: list[Place], taken: list[Met], room: Box) -> tuple[int, float]:
    """The place that meets least, and what it costs; 1 and more is too much."""
    best_index, best_cost = 0, math.inf
    for index, place in enumerate(places_):
        cost = _FARTHER * index + _cost(place.corners, taken, room, best_cost)
        if cost < best_cost:
            best_index, best_cost = index, cost
        if best_cost <= _FARTHER * (index + 1):
            break
    return best_index, best_cost


def _cost(corners: tuple[Point, ...], taken: list[Met], room: Box, enough: float) -> float:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    left, top, right, bottom = min(xs), min(ys), max(xs), max(ys)
    total = 10.0 if left < room[0] or top < room[1] or right > room[2] or bottom > room[3] else 0.0
    for box, stroke, weight in taken:
        if (
            left < box[2]
            and right > box[0]
            and top < box[3]
            and bottom > box[1]
            and meet(corners, outline(box, stroke))
        ):
            total += weight
            if total >= enough:
                break
    return total


def outline(box: Box, stroke: tuple[float, float, float, float, float] | None) -> tuple[Point, ...]:
    """The corners of an upright box, or of a stroke (x1, y1, x2, y2, half)."""
    if stroke is None:
        return ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
    x1, y1, x2, y2, half = stroke
    size = math.hypot(x2 - x1, y2 - y1) or 1.0
    x, y = (x2 - x1) / size * half, (y2 - y1) / size * half
    return ((x1 - y, y1 + x), (x2 - y, y2 + x), (x2 + y, y2 - x), (x1 + y, y1 - x))


def meet(first: tuple[Point, ...], second: tuple[Point, ...]) -> bool:
    """Whether two convex outlines overlap: no edge of either has all of the other on its far side."""
    for one, other in ((first, second), (second, first)):
        for index, (x, y) in enumerate(one):
            before = one[index - 1]
            normal = (before[1] - y, x - before[0])
            mine = [normal[0] * px + normal[1] * py for px, py in one]
            theirs = [normal[0] * px + normal[1] * py for px, py in other]
            if max(mine) <= min(theirs) or max(theirs) <= min(mine):
                return False
    return True
