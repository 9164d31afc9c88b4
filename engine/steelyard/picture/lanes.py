"""Arrows that would lie on one another are moved aside into lanes, so that each can be seen and taken hold of."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..geometry import Point

# Arrows nearer than this, side by side, read as one.
ASIDE_PX = 5.0
# Touching at an end is what a chain does; only a longer stretch in common hides something.
COMMON_PX = 3.0
# Lines that differ by less than this part of a radian run side by side.
ALIKE = 0.06
# More lanes than these would run off the sheet: what comes later shares the last.
MOST_LANES = 6

Stretch = tuple[Point, Point]


def of_stretches(stretches: Sequence[Stretch]) -> list[int]:
    """A lane for each stretch of the sheet, in order: the first in which it hides no earlier one."""
    lanes: list[int] = []
    for index, stretch in enumerate(stretches):
        taken = {lanes[other] for other in range(index) if _hide(stretch, stretches[other])}
        lanes.append(_first_free(taken))
    return lanes


def of_spans(spans: Sequence[tuple[float, float]]) -> list[int]:
    """The same for spans of one line."""
    lanes: list[int] = []
    for index, (start, end) in enumerate(spans):
        taken = {
            lanes[other]
            for other in range(index)
            if min(max(start, end), max(spans[other])) - max(min(start, end), min(spans[other])) > COMMON_PX
        }
        lanes.append(_first_free(taken))
    return lanes


def _first_free(taken: set[int]) -> int:
    return next((lane for lane in range(MOST_LANES) if lane not in taken), MOST_LANES - 1)


def _hide(first: Stretch, second: Stretch) -> bool:
    """Whether two stretches run side by side over more than their ends."""
    if math.dist(*first) < math.dist(*second):
        first, second = second, first
    (x, y), end = first
    size = math.dist(*first)
    if size == 0.0:
        return False
    ux, uy = (end[0] - x) / size, (end[1] - y) / size
    across = [(px - x) * uy - (py - y) * ux for px, py in second]
    along = sorted((px - x) * ux + (py - y) * uy for px, py in second)
    if abs(across[1] - across[0]) > ALIKE * math.dist(*second) or min(abs(each) for each in across) > ASIDE_PX:
        return False
    return min(size, along[1]) - max(0.0, along[0]) > COMMON_PX


def aside(stretch: Stretch, lane: int, apart_px: float) -> Point:
    """How far a stretch is moved for its lane: always to the same side of its line, whichever way it points."""
    (x1, y1), (x2, y2) = stretch
    dx, dy = x2 - x1, y2 - y1
    if dx < 0.0 or (dx == 0.0 and dy < 0.0):
        dx, dy = -dx, -dy
    size = math.hypot(dx, dy)
    if size == 0.0 or lane == 0:
        return (0.0, 0.0)
    return (dy / size * apart_px * lane, -dx / size * apart_px * lane)


def fan(vectors_px: Sequence[Point]) -> list[int]:
    """For arrows from one dot: half-lanes to either side for those that point the same way, 0 in the middle."""
    shares = [0] * len(vectors_px)
    done: set[int] = set()
    for index, vector in enumerate(vectors_px):
        if index in done:
            continue
        alike = [other for other in range(index, len(vectors_px)) if _same_way(vector, vectors_px[other])]
        done.update(alike)
        for place, other in enumerate(alike):
            shares[other] = 2 * place - (len(alike) - 1)
    return shares


def _same_way(first: Point, second: Point) -> bool:
    sizes = math.hypot(*first) * math.hypot(*second)
    turn = first[0] * second[1] - first[1] * second[0]
    return sizes > 0.0 and first[0] * second[0] + first[1] * second[1] > 0.0 and abs(turn) <= ALIKE * sizes
