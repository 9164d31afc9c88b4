"""The window on the paper: where a metre and a newton land on the sheet."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field, replace

from ..geometry import Point, add
from ..model import Force, Sketch, SpreadLoad
from ..statics import measuring, shape, spread
from ..statics.holding import anchor
from ..statics.reading import Analysis
from . import theme

# The scale bar's length in px before the text scale: the newtons it stands for step 1-2-5.
REFERENCE_PX = 40.0
# A load diagram is as high as its load on this much of the sheet would be long as an arrow.
DIAGRAM_PX = 120.0
# A new force scale is taken so that the largest arrow fills at most this part of its room ...
LARGEST_PART = 0.40
# ... and kept for as long as it fills between these parts.
KEPT_PARTS = (0.15, 0.60)
# Sheets narrower than this are laid out like a phone's.
COMPACT_PX = 560
# Bounds on the zoom: a sheet of a tenth of a millimetre up to one of a thousand kilometres.
SMALLEST_PX_PER_M = 1e-3
LARGEST_PX_PER_M = 1e7
# Arrows and labels may not shrink the body below this part of the size it would have without them.
BODY_PART = 0.55
# The empty sheet shows at least this much paper, in metres: room for a bar, and above it for what it hangs from.
EMPTY_WIDTH_M = 8.0
EMPTY_HEIGHT_M = 5.6
EMPTY_CENTRE_M = (3.0, 0.8)


@dataclass(frozen=True, slots=True)
class Frame:
    """Sheet size in px, zoom, what of the sheet panels cover, and the force scale.

    `centre_m` is the world point in the middle of the free part of the sheet (see `room`). `covered_px` is
    (top, right, bottom, left). `n_per_px` newtons per px of arrow. `text_scale` multiplies text and the parts
    drawn at text size; `touch` widens what a finger must hit. `exact`: arrows keep their true length however short.
    """

    width_px: float
    height_px: float
    px_per_m: float
    centre_m: Point
    covered_px: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    n_per_px: float = 10.0
    text_scale: float = 1.0
    touch: bool = False
    exact: bool = False
    # What follows from these is worked out once, since every point drawn asks for it. The free part of the sheet as
    # (left, top, right, bottom) in px, not covered and inside the edges; and its middle.
    room: tuple[float, float, float, float] = field(init=False, repr=False, compare=False)
    middle_px: Point = field(init=False, repr=False, compare=False)
    # Widths of the graduated edges at the left and at the bottom.
    left_edge_px: float = field(init=False, repr=False, compare=False)
    bottom_edge_px: float = field(init=False, repr=False, compare=False)
    # Whether the sheet is laid out like a phone's; the size of heads, dots and symbols against their desktop size.
    compact: bool = field(init=False, repr=False, compare=False)
    pen: float = field(init=False, repr=False, compare=False)
    # Type sizes of labels and of their second lines.
    label_px: float = field(init=False, repr=False, compare=False)
    small_px: float = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        compact = self.width_px < COMPACT_PX
        left_edge = (38.0 if compact else 47.0) * self.text_scale
        bottom_edge = (26.0 if compact else 30.0) * self.text_scale
        top, right, bottom, left = self.covered_px
        inner_left = left + left_edge
        inner_right = max(inner_left + 1.0, self.width_px - right)
        inner_bottom = max(top + 1.0, self.height_px - bottom - bottom_edge)
        for name, value in (
            ("room", (inner_left, top, inner_right, inner_bottom)),
            ("middle_px", ((inner_left + inner_right) / 2.0, (top + inner_bottom) / 2.0)),
            ("left_edge_px", left_edge),
            ("bottom_edge_px", bottom_edge),
            ("compact", compact),
            ("pen", (0.88 if compact else 1.0) * self.text_scale),
            ("label_px", (theme.COMPACT_SIZE if compact else theme.LABEL_SIZE) * self.text_scale),
            ("small_px", theme.SMALL_SIZE * self.text_scale),
        ):
            object.__setattr__(self, name, value)

    @property
    def intensity_per_px(self) -> float:
        """Newtons on each metre to a px of a load diagram's height; it holds still as long as the frame does."""
        return self.n_per_px * self.px_per_m / DIAGRAM_PX

    def to_sheet(self, point: Point) -> Point:
        """World metres to sheet px."""
        x, y = self.middle_px
        return (
            x + (point[0] - self.centre_m[0]) * self.px_per_m,
            y - (point[1] - self.centre_m[1]) * self.px_per_m,
        )

    def to_world(self, px: Point) -> Point:
        """Sheet px to world metres."""
        x, y = self.middle_px
        return (
            self.centre_m[0] + (px[0] - x) / self.px_per_m,
            self.centre_m[1] - (px[1] - y) / self.px_per_m,
        )


def step_at_least(value: float) -> float:
    """The smallest of 1, 2 or 5 times a power of ten that is not below a positive value."""
    power = 10.0 ** math.floor(math.log10(value))
    for factor in (1.0, 2.0, 5.0):
        if factor * power >= value * (1.0 - 1e-9):
            return factor * power
    return 10.0 * power


def round_step_m(frame: Frame) -> float:
    """The 1-2-5 length in metres worth at least 8 px at this zoom, for snapping and nudging."""
    return step_at_least(8.0 / frame.px_per_m)


def largest_force_n(analysis: Analysis | None) -> float:
    """The largest size among arrows drawn to scale, in newtons; 0 when there is none."""
    sizes = [0.0]
    for reading in analysis.readings if analysis is not None else ():
        if reading.vector is not None:
            sizes.append(math.hypot(*reading.vector))
        if reading.force.guess is not None:
            sizes.append(math.hypot(*reading.force.guess))
    return max(sizes)


def with_force_scale(frame: Frame, analysis: Analysis | None, settle: bool) -> Frame:
    """The frame with newtons per px for these forces; the same frame during a gesture (`settle` false).

    Steps 1-2-5 and changes only when the largest arrow leaves 15 to 60 % of its room.
    """
    largest = largest_force_n(analysis)
    if not settle or largest <= 0.0:
        return frame
    left, top, right, bottom = frame.room
    room = min(right - left, bottom - top)
    part = largest / frame.n_per_px / room
    reference = REFERENCE_PX * frame.text_scale
    step = frame.n_per_px * reference
    on_step = math.isclose(step, step_at_least(step), rel_tol=1e-6)
    if KEPT_PARTS[0] <= part <= KEPT_PARTS[1] and on_step:
        return frame
    return replace(frame, n_per_px=step_at_least(largest / (room * LARGEST_PART) * reference) / reference)


# One thing to keep in sight: a world point with the px it needs to the left, top, right and bottom of it.
Need = tuple[Point, float, float, float, float]


def fit(
    sketch: Sketch,
    analysis: Analysis | None,
    width_px: float,
    height_px: float,
    covered_px: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0),
    text_scale: float = 1.0,
    touch: bool = False,
    also: Iterable[Point] = (),
    only: Collection[str] | None = None,
) -> Frame:
    """The frame that shows bodies, supports, anchors, arrows and their labels, all inside the graduated edges.

    `also` are further points to have in sight. `only` are the bodies to be shown with what is on them; None: all.
    """
    empty = Frame(width_px, height_px, 1.0, (0.0, 0.0), covered_px, 10.0, text_scale, touch)
    left, top, right, bottom = empty.room
    zoom = min((right - left) / EMPTY_WIDTH_M, (bottom - top) / EMPTY_HEIGHT_M)
    empty = replace(empty, px_per_m=zoom, centre_m=EMPTY_CENTRE_M)
    frame = with_force_scale(empty, analysis, settle=True)
    shown = sketch if only is None else _part(sketch, only)
    things = [*_things(shown, frame), *((point, 6.0, 6.0, 6.0, 6.0) for point in also)]
    if not things:
        return frame
    # Arrows make room for the body rather than the body for them: the force scale steps up while they crowd it.
    alone = zoom_for(things, frame)
    needs = things + list(_arrows(sketch, analysis, frame))
    zoom = zoom_for(needs, frame)
    room = min(right - left, bottom - top)
    while zoom < BODY_PART * alone and largest_force_n(analysis) / frame.n_per_px > KEPT_PARTS[0] * 2.0 * room:
        reference = REFERENCE_PX * text_scale
        frame = replace(frame, n_per_px=step_at_least(frame.n_per_px * reference * 1.5) / reference)
        needs = things + list(_arrows(sketch, analysis, frame))
        zoom = zoom_for(needs, frame)
    zoom = max(zoom, BODY_PART * alone)
    if not math.isfinite(zoom):
        zoom = frame.px_per_m
    return replace(frame, px_per_m=zoom, centre_m=centre_of(needs, zoom))


def _part(sketch: Sketch, bodies: Collection[str]) -> Sketch:
    """The sketch with some of its bodies only, and what holds them to the ground or together."""
    return replace(
        sketch,
        bodies=tuple(body for body in sketch.bodies if body.id in bodies),
        supports=tuple(each for each in sketch.supports if {each.body, each.other or each.body} <= set(bodies)),
        loads=tuple(load for load in sketch.loads if load.body in bodies),
        points=tuple(point for point in sketch.points if point.body is None or point.body in bodies),
        givens=(),
    )


def centre_of(needs: list[Need], zoom: float) -> Point:
    """The world point that stands in the middle when these things are centred at this zoom."""
    low_x, high_x = _extent(_across(needs), zoom)
    low_y, high_y = _extent(_down(needs), zoom)
    return ((low_x + high_x) / 2.0 / zoom, -(low_y + high_y) / 2.0 / zoom)


Span = tuple[float, float, float]


def _across(needs: list[Need]) -> list[Span]:
    return [(need[0][0], need[1], need[3]) for need in needs]


def _down(needs: list[Need]) -> list[Span]:
    return [(-need[0][1], need[2], need[4]) for need in needs]


def zoom_for(needs: list[Need], frame: Frame) -> float:
    """The largest px per metre at which these things fit on the free part of the sheet; infinite for one point."""
    left, top, right, bottom = frame.room
    pad = 10.0 * frame.text_scale
    return min(
        _largest_zoom(_across(needs), right - left - 2 * pad), _largest_zoom(_down(needs), bottom - top - 2 * pad)
    )


def _extent(spans: list[Span], zoom: float) -> tuple[float, float]:
    return (
        min(place * zoom - before for place, before, _ in spans),
        max(place * zoom + after for place, _, after in spans),
    )


def _largest_zoom(spans: list[Span], room_px: float) -> float:
    """Largest px per metre at which all spans fit: the width needed is convex and rising in the zoom."""
    low, high = SMALLEST_PX_PER_M, LARGEST_PX_PER_M
    start, end = _extent(spans, high)
    if end - start <= room_px:
        return math.inf
    for _ in range(60):
        middle = math.sqrt(low * high)
        start, end = _extent(spans, middle)
        if end - start <= room_px:
            low = middle
        else:
            high = middle
    return low


def _things(sketch: Sketch, frame: Frame) -> Iterable[Need]:
    unit = frame.pen
    for body in sketch.bodies:
        half = 0.0 if body.has_area else body.thickness_m / 2.0
        for x, y in shape.outermost(body):
            yield ((x - half, y - half), 4.0, 4.0, 4.0, 4.0)
            yield ((x + half, y + half), 4.0, 4.0, 4.0, 4.0)
    bodies = {body.id: body for body in sketch.bodies}
    for support in sketch.supports:
        place = shape.world(bodies[support.body], support.place_m)
        yield (place, 36.0 * unit, 36.0 * unit, 36.0 * unit, 36.0 * unit)
        far = anchor(sketch, support)
        if far is not None:
            yield (far, 24.0 * unit, 24.0 * unit, 24.0 * unit, 24.0 * unit)
        if support.over_m is not None:
            yield (support.over_m, 24.0 * unit, 40.0 * unit, 24.0 * unit, 24.0 * unit)
    for load in sketch.loads:
        if isinstance(load, SpreadLoad):
            # Its diagram stands on the side it comes from, with a label beyond.
            body = bodies[load.body]
            x, y = spread.along(load, body)
            left, top, right, bottom = (16.0 + 84.0 * max(0.0, part) for part in (x, -y, -x, y))
            for place in (load.start_m, load.end_m):
                yield (shape.world(body, place), left * unit, top * unit, right * unit, bottom * unit)
    for point in sketch.points:
        place = shape.world(bodies[point.body], point.place_m) if point.body else point.place_m
        yield (place, 20.0, 20.0, 20.0, 20.0)
    for given in sketch.givens:
        if given.kind == "label" and given.start is not None and given.shift_m is not None:
            yield (add(measuring.point_of(sketch, given.start), given.shift_m), 30.0, 16.0, 30.0, 16.0)
        if given.kind == "length":
            for end in measuring.dimension_ends(measuring.length(sketch, given), given):
                yield (end, 20.0 * unit, 22.0 * unit, 20.0 * unit, 22.0 * unit)
    for pivot in (sketch.pivot, sketch.second_pivot):
        if pivot is not None and pivot.tied_to is None:
            yield (pivot.place_m, 24.0 * unit, 30.0 * unit, 24.0 * unit, 30.0 * unit)


def _arrows(sketch: Sketch, analysis: Analysis | None, frame: Frame) -> Iterable[Need]:
    unit = frame.pen
    pushes = {load.id for load in sketch.loads if isinstance(load, Force) and load.head_at_point}
    wide, high = (96.0 if frame.compact else 132.0) * frame.text_scale, 44.0 * frame.text_scale
    for reading in analysis.readings if analysis is not None else ():
        force = reading.force
        heads = [vector for vector in (reading.vector, force.guess) if vector is not None]
        arrows = [(vector[0] / frame.n_per_px, -vector[1] / frame.n_per_px) for vector in heads]
        if not arrows and force.along is not None:
            arrows = [(force.along[0] * 60.0 * unit, -force.along[1] * 60.0 * unit)]
        for x, y in arrows:
            if force.id in pushes:
                x, y = -x, -y
            yield (
                force.point,
                max(0.0, -x) + (wide if x < -1.0 else wide / 2),
                max(0.0, -y) + high,
                max(0.0, x) + (wide if x > 1.0 else wide / 2),
                max(0.0, y) + high,
            )


def zoomed(frame: Frame, factor: float, at_px: Point) -> Frame:
    """Zoomed about a sheet point, which stays under the hand."""
    fixed = frame.to_world(at_px)
    zoom = min(LARGEST_PX_PER_M, max(SMALLEST_PX_PER_M, frame.px_per_m * factor))
    x, y = frame.middle_px
    centre = (fixed[0] - (at_px[0] - x) / zoom, fixed[1] + (at_px[1] - y) / zoom)
    return replace(frame, px_per_m=zoom, centre_m=centre)


def panned(frame: Frame, dx: float, dy: float) -> Frame:
    """The paper moved by this many px (right and down positive)."""
    x, y = frame.centre_m
    return replace(frame, centre_m=(x - dx / frame.px_per_m, y + dy / frame.px_per_m))


def resized(
    frame: Frame,
    width_px: float,
    height_px: float,
    covered_px: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0),
) -> Frame:
    """The same paper on a sheet of another size: the middle stays the middle, the zoom follows the shorter change."""
    changed = replace(frame, width_px=width_px, height_px=height_px, covered_px=covered_px)
    old_left, old_top, old_right, old_bottom = frame.room
    left, top, right, bottom = changed.room
    factor = min((right - left) / (old_right - old_left), (bottom - top) / (old_bottom - old_top))
    zoom = min(LARGEST_PX_PER_M, max(SMALLEST_PX_PER_M, frame.px_per_m * factor))
    return replace(changed, px_per_m=zoom)
