"""Where labels stand: eight places each, the cheapest by overlaps, distance and change of side.

A label is a block of one or two lines beside a thing. Its place is an index: eight directions round an
anchor, over rings of growing distance; beyond 28 px it gets a leader. The index is the label's *side*: kept
in a memory, it carries the label through a gesture without being weighed again.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from operator import itemgetter

from ..geometry import Point
from . import text
from .look import PARTS_KEPT
from .record import Record
from .text import Line, number

Box = tuple[float, float, float, float]
# (left, top, right, bottom, weight, stroke or None); a stroke is (x1, y1, x2, y2, half).
Thing = tuple[float, float, float, float, float, tuple[float, float, float, float, float] | None]
_weight = itemgetter(4)

# Directions in order of liking: beside, then at the corners, then above and below. x right, y down.
DIRECTIONS = ((1, 0), (-1, 0), (1, -1), (-1, -1), (1, 1), (-1, 1), (0, -1), (0, 1))
_LIKING = (0.0, 0.5, 1.0, 1.5, 1.0, 1.5, 4.0, 4.0)
# Rings: which of the label's anchors, and the gap to it in px.
RINGS = (
    (0, 10.0),
    (1, 10.0),
    (0, 24.0),
    (2, 14.0),
    (1, 26.0),
    (0, 44.0),
    (1, 48.0),
    (0, 72.0),
    (1, 84.0),
    (0, 110.0),
    (0, 150.0),
    (0, 200.0),
    (0, 260.0),
)
# The first rings are closer than 30 px: only what is near counts there.
CLOSE_RINGS = 5
CLOSE_REACH_PX, FAR_REACH_PX = 30.0, 270.0
LEADER_PX = 28.0

# Costs. A hard overlap outweighs any number of soft ones.
HARD = 1000.0
OUTSIDE = 4000.0
EDGE_COST = 34.0
SYMBOL_COST = 400.0
CONSTRUCTION_COST = 14.0
ACTION_COST = 13.0
RING_COST = 9.0
SIDE_CHANGE_COST = 16.0
# Air kept round a label, in px.
AIR_PX = 2.5


@dataclass(frozen=True, slots=True, eq=False)
class Wanted:
    """A label asking for a place; equal only to itself, so that what is drawn of it is found at a glance.

    `anchors` are the sheet points it may stand by, the best first; `gap` is how far the thing itself reaches
    round them. `lines` come from `text.line`.
    """

    id: str
    of: str
    lines: tuple[Line, ...]
    anchors: tuple[Point, ...]
    gap: float = 0.0

    @property
    def width(self) -> float:
        """Width of the widest line."""
        return max(line.width for line in self.lines)

    @property
    def height(self) -> float:
        """From the top of the first line to the bottom of the last."""
        first, last = self.lines[0], self.lines[-1]
        between = sum(_leading(line) for line in self.lines[1:])
        return first.size * text.ASCENT_EM + between + last.size * text.DESCENT_EM


def _leading(line: Line) -> float:
    return line.size * 1.16


@dataclass(slots=True)
class Field:
    """What labels must keep clear of: weighted segments and boxes, and the room they must stay in."""

    room: Box
    things: list[Thing] = field(default_factory=list)

    def segment(self, start: Point, end: Point, half: float, weight: float) -> None:
        """A straight stroke of 2·half."""
        x1, y1 = start
        x2, y2 = end
        self.things.append(
            (
                min(x1, x2) - half,
                min(y1, y2) - half,
                max(x1, x2) + half,
                max(y1, y2) + half,
                weight,
                (x1, y1, x2, y2, half),
            )
        )

    def path(self, points: Iterable[Point], half: float, weight: float, *, closed: bool) -> None:
        """A polyline of strokes."""
        line = list(points)
        if closed and line:
            line.append(line[0])
        for start, end in pairwise(line):
            self.segment(start, end, half, weight)

    def box(self, box: Box, weight: float) -> None:
        """A filled upright box."""
        self.things.append((*box, weight, None))

    def corners(self, points: list[Point], weight: float) -> None:
        """The upright box round some points."""
        xs = [point[0] for point in points]
        ys = [point[1] for point in points]
        self.box((min(xs), min(ys), max(xs), max(ys)), weight)


def segment_meets_box(x1: float, y1: float, x2: float, y2: float, box: Box) -> bool:
    """Whether a segment touches an upright box: it is on no outer side of it, nor are all corners on one side of it."""
    left, top, right, bottom = box
    if (x1 < left and x2 < left) or (x1 > right and x2 > right):
        return False
    if (y1 < top and y2 < top) or (y1 > bottom and y2 > bottom):
        return False
    dx, dy = x2 - x1, y2 - y1
    start = dx * y1 - dy * x1
    first, second = start + dy * left - dx * top, start + dy * right - dx * top
    third, fourth = start + dy * right - dx * bottom, start + dy * left - dx * bottom
    if first > 0.0:
        return second <= 0.0 or third <= 0.0 or fourth <= 0.0
    return first == 0.0 or second >= 0.0 or third >= 0.0 or fourth >= 0.0


def box_at(wanted: Wanted, side: int, width: float, height: float) -> Box:
    """The box of a label standing on a side."""
    ring, turn = divmod(side, 8)
    anchor_index, gap = RINGS[min(ring, len(RINGS) - 1)]
    gap += wanted.gap
    x, y = wanted.anchors[min(anchor_index, len(wanted.anchors) - 1)]
    right, down = DIRECTIONS[turn]
    if right and down:
        gap *= 0.72
    left = x + gap if right > 0 else x - gap - width if right < 0 else x - width / 2.0
    top = y + gap if down > 0 else y - gap - height if down < 0 else y - height / 2.0
    return (left, top, left + width, top + height)


def _cost(box: Box, near: list[Thing], room: Box, enough: float) -> float:
    left, top, right, bottom = box
    left -= AIR_PX
    top -= AIR_PX
    right += AIR_PX
    bottom += AIR_PX
    total = 0.0
    if left < room[0] or top < room[1] or right > room[2] or bottom > room[3]:
        total = OUTSIDE + 10.0 * max(room[0] - left, room[1] - top, right - room[2], bottom - room[3])
        if total >= enough:
            return total
    for far_left, far_top, far_right, far_bottom, weight, stroke in near:
        if left < far_right and right > far_left and top < far_bottom and bottom > far_top:
            if stroke is not None:
                x1, y1, x2, y2, half = stroke
                if not segment_meets_box(x1, y1, x2, y2, (left - half, top - half, right + half, bottom + half)):
                    continue
            total += weight
            if total >= enough:
                return total
    return total


def _near(wanted: Wanted, field_: Field, placed: list[Box], reach: float) -> list[Thing]:
    """What a label could meet within a reach of its anchors, the costliest first: a bad place is soon given up."""
    reach += wanted.gap
    xs = [anchor[0] for anchor in wanted.anchors]
    ys = [anchor[1] for anchor in wanted.anchors]
    across, down = wanted.width + reach, wanted.height + reach
    round_it = (min(xs) - across, min(ys) - down, max(xs) + across, max(ys) + down)
    near = _within(field_.things, round_it)
    near.sort(key=_weight, reverse=True)
    return [*_within([(*box, HARD, None) for box in placed], round_it), *near]


def _within(things: list[Thing], box: Box) -> list[Thing]:
    left, top, right, bottom = box
    return [each for each in things if each[0] < right and each[2] > left and each[1] < bottom and each[3] > top]


def best_side(wanted: Wanted, field_: Field, placed: list[Box], old_side: int | None) -> tuple[int, float]:
    """The cheapest side for one label among those already placed, and its cost."""
    width, height, room = wanted.width, wanted.height, field_.room
    near = _near(wanted, field_, placed, CLOSE_REACH_PX)
    far: list[Thing] | None = None
    best, best_cost = 0, math.inf
    if old_side is not None:
        # Weighed first, it gives up most other places at a glance.
        if old_side >= 8 * CLOSE_RINGS:
            far = _near(wanted, field_, placed, FAR_REACH_PX)
        best = old_side
        best_cost = (old_side // 8) * RING_COST + _LIKING[old_side % 8]
        best_cost += _cost(box_at(wanted, old_side, width, height), near if far is None else far, room, math.inf)
    things = near
    for ring in range(len(RINGS)):
        for turn in range(8):
            side = ring * 8 + turn
            cost = ring * RING_COST + _LIKING[turn]
            if old_side is not None and side != old_side:
                cost += SIDE_CHANGE_COST
            if cost >= best_cost:
                continue
            if ring >= CLOSE_RINGS:
                things = far = _near(wanted, field_, placed, FAR_REACH_PX) if far is None else far
            cost += _cost(box_at(wanted, side, width, height), things, room, best_cost - cost)
            if cost < best_cost:
                best, best_cost = side, cost
        if best_cost <= (ring + 1) * RING_COST:
            break
    return best, best_cost


def place(
    wanted: list[Wanted],
    field_: Field,
    remembered: Mapping[str, int] | None = None,
    moving: frozenset[str] = frozenset(),
    *,
    settle: bool = True,
) -> dict[str, int]:
    """A side for every label.

    When settling, all are placed anew (an old side is cheaper than a change); during a gesture those
    remembered keep theirs, except labels whose `of` is in `moving` and labels not seen before.
    """
    remembered = remembered or {}
    sides: dict[str, int] = {}
    boxes: dict[str, Box] = {}
    free: list[Wanted] = []
    for each in wanted:
        side = remembered.get(each.id)
        if not settle and side is not None and each.of not in moving:
            sides[each.id] = side
            _, boxes[each.id] = _standing(each, side)
        else:
            free.append(each)
    sizes = {each.id: (each.width, each.height) for each in free}
    costs: dict[str, float] = {}
    for each in free:
        side, costs[each.id] = best_side(each, field_, list(boxes.values()), remembered.get(each.id))
        sides[each.id] = side
        boxes[each.id] = box_at(each, side, *sizes[each.id])
    # Whoever came first may stand where only a later label could: let the crowded ones choose again.
    for _ in range(3):
        crowded = [each for each in free if costs[each.id] >= SYMBOL_COST]
        if not crowded:
            break
        for each in crowded:
            _make_way(each, free, field_, boxes, sides, costs, sizes)
    return sides


def _make_way(
    crowded: Wanted,
    free: list[Wanted],
    field_: Field,
    boxes: dict[str, Box],
    sides: dict[str, int],
    costs: dict[str, float],
    sizes: dict[str, tuple[float, float]],
) -> None:
    """Place a crowded label as if alone, then those it pushes; keep the new arrangement if it is cheaper."""
    others = [box for key, box in boxes.items() if key not in {each.id for each in free}]
    side, cost = best_side(crowded, field_, others, None)
    trial = dict(boxes)
    trial[crowded.id] = box_at(crowded, side, *sizes[crowded.id])
    new_sides, new_costs = {crowded.id: side}, {crowded.id: cost}
    for each in free:
        if each.id != crowded.id and _overlap(trial[each.id], trial[crowded.id]):
            rest = [box for key, box in trial.items() if key != each.id]
            new_sides[each.id], new_costs[each.id] = best_side(each, field_, rest, None)
            trial[each.id] = box_at(each, new_sides[each.id], *sizes[each.id])
    if sum(new_costs.values()) < sum(costs[key] for key in new_costs):
        boxes.update({key: trial[key] for key in new_sides})
        sides.update(new_sides)
        costs.update(new_costs)


def _overlap(first: Box, second: Box) -> bool:
    return (
        first[0] - AIR_PX < second[2]
        and first[2] + AIR_PX > second[0]
        and first[1] - AIR_PX < second[3]
        and first[3] + AIR_PX > second[1]
    )


def draw(wanted: Wanted, side: int) -> tuple[list[Record], Box]:
    """The records of a placed label, with a leader when it stands far off; and its box."""
    records, box = _standing(wanted, side)
    return list(records), box


@lru_cache(maxsize=PARTS_KEPT)
def _standing(wanted: Wanted, side: int) -> tuple[tuple[Record, ...], Box]:
    """The same, kept for as long as the label does not change."""
    width, height = wanted.width, wanted.height
    box = box_at(wanted, side, width, height)
    left, top, right, bottom = box
    turn = side % 8
    toward = DIRECTIONS[turn][0]
    anchor = "start" if toward > 0 else "end" if toward < 0 else "middle"
    x = left if toward > 0 else right if toward < 0 else (left + right) / 2.0
    baseline = top + wanted.lines[0].size * text.ASCENT_EM
    records: list[Record] = []
    anchor_index = min(RINGS[side // 8][0], len(wanted.anchors) - 1)
    goal = wanted.anchors[anchor_index]
    near = (min(max(goal[0], left), right), min(max(goal[1], top), bottom))
    away = math.hypot(goal[0] - near[0], goal[1] - near[1])
    if away - wanted.gap > LEADER_PX:
        part = 1.0 - 6.0 / away
        start = (near[0] + (goal[0] - near[0]) * 4.0 / away, near[1] + (goal[1] - near[1]) * 4.0 / away)
        end = (near[0] + (goal[0] - near[0]) * part, near[1] + (goal[1] - near[1]) * part)
        line = f"M{number(start[0])} {number(start[1])}L{number(end[0])} {number(end[1])}"
        records.append(Record(f"{wanted.id}.leader", "path", "leader", "label", (("d", line),), (), wanted.of))
    for index, line_ in enumerate(wanted.lines):
        if index:
            baseline += _leading(line_)
        record_id = wanted.id if index == 0 else f"{wanted.id}.more{index}"
        records.append(text.record(record_id, line_, x, baseline, anchor=anchor, of=wanted.of))
    return tuple(records), box
