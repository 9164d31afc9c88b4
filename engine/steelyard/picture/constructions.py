"""Line of action, moment arm and sense of turning of a force, drawn for the lit or pinned one."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Literal

from ..geometry import Point, Vector
from ..model import Settings
from ..statics import axes
from ..statics.axes import LEVEL
from ..statics.reading import Turning
from ..units import write_quantity
from . import edge, text
from .arrows import Arrow, on_circle, turning_path
from .frame import Frame
from .labels import Box, segment_meets_box
from .look import PARTS_KEPT, Look
from .record import Record
from .text import Line, number

# Where along the arm its label may stand, and how far off, tried in this order.
_PARTS = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
_OFFSETS = (9.0, -9.0, 24.0, -24.0, 42.0, -42.0)
SENSE_RADIUS_PX = 46.0
# The letter of a moment arm, as the settings choose it; the force's letter stands below.
ARM_LETTERS: dict[str, tuple[tuple[str, str], ...]] = {
    "d": (("d", "symbol"),),
    "ℓ": (("ℓ", "symbol"),),
    "r⊥": (("r", "symbol"), ("⊥", "sub")),
}
# An arm shorter than this shows no right-angle mark, and its label stands level.
SHORT_ARM_PX = 30.0


def clipped(point: Point, along: Vector, box: Box) -> tuple[Point, Point] | None:
    """The part of a whole line inside an upright box, in px; None when it misses it."""
    low, high = -math.inf, math.inf
    for start, move, least, most in ((point[0], along[0], box[0], box[2]), (point[1], along[1], box[1], box[3])):
        if abs(move) < 1e-12:
            if not least <= start <= most:
                return None
            continue
        first, second = sorted(((least - start) / move, (most - start) / move))
        low, high = max(low, first), min(high, second)
    if low >= high:
        return None
    return (
        (point[0] + low * along[0], point[1] + low * along[1]),
        (point[0] + high * along[0], point[1] + high * along[1]),
    )


def clip_segment(start: Point, end: Point, box: Box) -> tuple[Point, Point] | None:
    """The part of a stroke inside an upright box, in px; None when there is none."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    size = math.hypot(dx, dy)
    if size == 0.0 or not segment_meets_box(*start, *end, box):
        return None
    whole = clipped(start, (dx / size, dy / size), box)
    if whole is None:
        return None
    parts = [min(1.0, max(0.0, ((x - start[0]) * dx + (y - start[1]) * dy) / (size * size))) for x, y in whole]
    first, second = ((start[0] + part * dx, start[1] + part * dy) for part in parts)
    return first, second


def action(force_id: str, at: Point, along: Vector, frame: Frame, *, always: bool) -> Record | None:
    """The line of action across the sheet, long dash-dot; `along` is a world direction."""
    line = clipped(at, (along[0], -along[1]), frame.room)
    if line is None:
        return None
    (x1, y1), (x2, y2) = line
    path = f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}"
    return Record(
        f"{force_id}.action", "path", "action", "construct", (("d", path),), (), force_id, "always" if always else "lit"
    )


def through(key: str, at: Point, along: Vector, reach: float, frame: Frame) -> Record:
    """A short piece of the line of a force or component that drops out, through the ring of the pivot."""
    x, y = along[0] * reach * frame.pen, -along[1] * reach * frame.pen
    n = number
    path = f"M{n(at[0] - x)} {n(at[1] - y)}L{n(at[0] + x)} {n(at[1] + y)}"
    return Record(f"{key}.through", "path", "action", "construct", (("d", path),), (), key.partition(".")[0])


def arm(
    force_id: str, pivot: Point, foot: Point, along: Vector, frame: Frame, *, suffix: str = "", always: bool
) -> tuple[Record | None, tuple[Point, Point] | None]:
    """The moment arm with its right-angle mark, in one path; and its visible part on the sheet.

    `suffix` is that of the second pivot's constructions, drawn with a thinner pen.
    """
    seen = clip_segment(pivot, foot, frame.room)
    if seen is None:
        return None, None
    n = number
    path = f"M{n(seen[0][0])} {n(seen[0][1])}L{n(seen[1][0])} {n(seen[1][1])}"
    size = math.hypot(foot[0] - pivot[0], foot[1] - pivot[1])
    left, top, right, bottom = frame.room
    if size > SHORT_ARM_PX and left <= foot[0] <= right and top <= foot[1] <= bottom:
        back = 11.0 * frame.pen
        bx, by = (pivot[0] - foot[0]) / size * back, (pivot[1] - foot[1]) / size * back
        # Towards the middle of the sheet: the mark then never hangs over its rim.
        ax, ay = along[0] * back, -along[1] * back
        if (foot[0] + ax - frame.middle_px[0]) ** 2 + (foot[1] + ay - frame.middle_px[1]) ** 2 > (
            foot[0] - ax - frame.middle_px[0]
        ) ** 2 + (foot[1] - ay - frame.middle_px[1]) ** 2:
            ax, ay = -ax, -ay
        path += f"M{n(foot[0] + bx)} {n(foot[1] + by)}l{n(ax)} {n(ay)}l{n(-bx)} {n(-by)}"
    role = "arm-second" if suffix else "arm"
    shown = shown_when(always=always)
    return Record(f"{force_id}.arm{suffix}", "path", role, "construct", (("d", path),), (), force_id, shown), seen


def shown_when(*, always: bool) -> Literal["always", "lit"]:
    """How a construction is shown: always while it is pinned, else only while its force is lit."""
    return "always" if always else "lit"


def _sense_arc(pivot: Point, foot: Point, frame: Frame) -> tuple[float, float]:
    """Radius in px and start angle of the arc of the sense: it leaves from the arm."""
    size = math.hypot(foot[0] - pivot[0], foot[1] - pivot[1])
    radius = min(SENSE_RADIUS_PX, max(26.0, 0.7 * size)) * frame.pen
    return radius, math.degrees(math.atan2(pivot[1] - foot[1], foot[0] - pivot[0]))


def sense(
    force_id: str, pivot: Point, foot: Point, turning: Turning, frame: Frame, *, suffix: str = "", always: bool
) -> Record | None:
    """The arc with a head that shows which way the force turns the body about the pivot."""
    if not turning.sense:
        return None
    radius, start = _sense_arc(pivot, foot, frame)
    path = turning_path(pivot, radius, start, 58.0 * turning.sense, 1.2 * frame.pen, 11.0 * frame.pen, 5.0 * frame.pen)
    shown = shown_when(always=always)
    return Record(f"{force_id}.sense{suffix}", "path", "sense-head", "construct", (("d", path),), (), force_id, shown)


def sense_boxes(pivot: Point, foot: Point, sense_sign: int, frame: Frame) -> list[Box]:
    """Boxes along the arc of the sense, for the arm's label to keep clear of."""
    if not sense_sign:
        return []
    radius, start = _sense_arc(pivot, foot, frame)
    reach = 6.0 * frame.pen
    boxes = []
    for part in (12.0, 28.0, 44.0, 60.0):
        x, y = on_circle(pivot, radius, start + part * sense_sign)
        boxes.append((x - reach, y - reach, x + reach, y + reach))
    return boxes


def arm_line(symbol: str, arm_m: float, frame: Frame, settings: Settings) -> Line:
    """The arm's label: its letter with the force's below, and its length."""
    return text.line(
        "label-pivot",
        frame.label_px,
        *ARM_LETTERS[settings.arm_letter],
        *text.subscript_pieces(symbol),
        (write_quantity(arm_m, "length", settings), "value", 6.0),
    )


def turned_box(middle: Point, width: float, ascent: float, descent: float, angle_deg: float) -> list[Point]:
    """Corners of a line of text, its baseline's middle at `middle`, turned clockwise as seen by `angle_deg`."""
    cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    half = width / 2.0
    return [
        (middle[0] + x * cosine - y * sine, middle[1] + x * sine + y * cosine)
        for x, y in ((-half, -ascent), (half, -ascent), (half, descent), (-half, descent))
    ]


def arm_label_place(pivot: Point, foot: Point, content: Line, index: int) -> tuple[Point, float, list[Point]]:
    """Where the arm's label stands for a place index: middle of its baseline, its turn, and its corners."""
    dx, dy = foot[0] - pivot[0], foot[1] - pivot[1]
    size = math.hypot(dx, dy) or 1.0
    level = size < SHORT_ARM_PX
    angle = 0.0 if level else math.degrees(math.atan2(dy, dx))
    # Read from the left, or from below when the arm stands upright.
    if angle > 89.9 or angle <= -90.1:
        angle += 180.0 if angle < 0.0 else -180.0
    ascent, descent = content.size * text.ASCENT_EM, content.size * (text.DESCENT_EM + 0.06)
    part = _PARTS[(index // len(_OFFSETS)) % len(_PARTS)]
    offset = _OFFSETS[index % len(_OFFSETS)]
    # Above the line the baseline lifts off by the descent, below it drops by the ascent.
    shift = -(offset + descent - 3.0) if offset > 0 else -offset + ascent
    cosine, sine = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    x, y = pivot[0] + dx * part - sine * shift, pivot[1] + dy * part + cosine * shift
    return (x, y), angle, turned_box((x, y), content.width, ascent, descent, angle)


# What it costs an arm's label to cross the edge of a body; meeting a label, an arrow or a symbol costs 1.
UGLY = 0.05
# Where along the arm and how far off: every place index below this is set along the arm.
ARM_PLACES = len(_PARTS) * len(_OFFSETS)


# What an arm's label may meet: an upright box on the sheet, or a stroke (x1, y1, x2, y2, half) with its box; and
# what meeting it costs.
Met = tuple[Box, tuple[float, float, float, float, float] | None, float]


def place_arm_label(
    pivot: Point, foot: Point, content: Line, taken: list[Met], room: Box, old: int | None
) -> tuple[int, float]:
    """The first place along the arm where its label meets nothing, else the one that meets least; and its cost.

    An `old` place is kept while it meets nothing but edges.
    """
    reach = content.width / 2.0 + max(_OFFSETS) + 2.0 * content.size
    left, right = min(pivot[0], foot[0]) - reach, max(pivot[0], foot[0]) + reach
    top, bottom = min(pivot[1], foot[1]) - reach, max(pivot[1], foot[1]) + reach
    near = [met for met in taken if met[0][0] < right and met[0][2] > left and met[0][1] < bottom and met[0][3] > top]
    best, best_cost = 0, math.inf
    for index in (*(() if old is None or old >= ARM_PLACES else (old,)), *range(ARM_PLACES)):
        _, angle, corners = arm_label_place(pivot, foot, content, index)
        cost = _meets(corners, angle, near, room)
        if cost < best_cost:
            best, best_cost = index, cost
        if cost == 0.0 or (best_cost < 1.0 and (index == old or index + 1 >= 2 * len(_OFFSETS))):
            break
    return best, best_cost


def _bounds(points: list[Point]) -> Box:
    xs = [point[0] for point in points]
    ys = [point[1] for point in points]
    return (min(xs), min(ys), max(xs), max(ys))


def _meets(corners: list[Point], angle_deg: float, near: list[Met], room: Box) -> float:
    """What a turned label at these corners costs.

    What overlaps it on the sheet is turned into the label's own frame: there a stroke is clipped by an upright box,
    and a box meets the label when the two overlap there too.
    """
    left, top, right, bottom = _bounds(corners)
    outside = left < room[0] or top < room[1] or right > room[2] or bottom > room[3]
    cost = 10.0 if outside else 0.0
    cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    own: Box | None = None

    def turned(x: float, y: float) -> Point:
        return (x * cosine + y * sine, y * cosine - x * sine)

    for box, stroke, weight in near:
        if left < box[2] and right > box[0] and top < box[3] and bottom > box[1]:
            if own is None:
                own = _bounds([turned(x, y) for x, y in corners])
            if stroke is not None:
                half = stroke[4]
                grown = (own[0] - half, own[1] - half, own[2] + half, own[3] + half)
                hit = segment_meets_box(*turned(stroke[0], stroke[1]), *turned(stroke[2], stroke[3]), grown)
            else:
                far = _bounds([turned(x, y) for x in (box[0], box[2]) for y in (box[1], box[3])])
                hit = own[0] < far[2] and own[2] > far[0] and own[1] < far[3] and own[3] > far[1]
            if hit:
                cost += weight
    return cost


@lru_cache(maxsize=PARTS_KEPT)
def along_line(
    force_id: str,
    at: Point,
    along: Vector,
    arrow: Arrow | None,
    look: Look,
    x_axis: Vector,
    always: bool,
    can_light: bool,
) -> tuple[tuple[Record, ...], tuple[Point, Point] | None]:
    """Line of action, components and marks on the edge of a force, and its line as far as it is seen; kept.

    Without `can_light`, what only a lit force shows is left out.
    """
    frame = look.frame
    records = [
        edge.marks(force_id, at, frame) if can_light else None,
        action(force_id, at, along, frame, always=always),
    ]
    if can_light and arrow is not None and look.settings.torque_form != "square":
        records.append(components(force_id, arrow.tail, arrow.head, arrow.kind, x_axis))
    seen = clipped(at, (along[0], -along[1]), frame.room)
    return tuple(record for record in records if record is not None), seen


@lru_cache(maxsize=PARTS_KEPT)
def arm_label(
    record_id: str, force_id: str, pivot: Point, foot: Point, content: Line, index: int, always: bool
) -> tuple[Record, Box]:
    """The arm's label as a record, set along the arm; and the upright box round it. Kept while it does not change."""
    (x, y), angle, corners = arm_label_place(pivot, foot, content, index)
    record = text.record(
        record_id,
        content,
        x,
        y,
        layer="construct",
        anchor="middle",
        of=force_id,
        lit_only=not always,
        turned_deg=angle,
    )
    return record, _bounds(corners)


def components(force_id: str, tail: Point, head: Point, kind: str, x_axis: Vector = LEVEL) -> Record | None:
    """The two components of an arrow that slants to both axes, thin and without heads, for the lit force."""
    x_part, y_part = axes.along((head[0] - tail[0], tail[1] - head[1]), x_axis)
    if abs(x_part) < 3.0 or abs(y_part) < 3.0:
        return None
    if x_axis == LEVEL:
        path = f"M{number(tail[0])} {number(tail[1])}H{number(head[0])}V{number(head[1])}"
    else:
        corner = (tail[0] + x_part * x_axis[0], tail[1] - x_part * x_axis[1])
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in (tail, corner, head))
    return Record(f"{force_id}.parts", "path", f"component-{kind}", "construct", (("d", path),), (), force_id, "lit")
