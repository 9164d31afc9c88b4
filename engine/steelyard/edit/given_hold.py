"""A given held by its grip: a dimension line farther off, a wider arc, a larger slope, a label elsewhere."""

from __future__ import annotations

import math
from dataclasses import replace

from ..geometry import Point, add, distance, dot, scale, subtract
from ..model import Given, Sketch
from ..statics import measuring
from ..units import factor_of, unit_of
from .change import Change, fail, find_given, put_given, tidy, tidy_point
from .context import Context
from .describe import short
from .given_placing import rounded, slope_side
from .joining import settle
from .snapping import Snapped, round_step

GRIP = "offset"


class GivenHold:
    """One hold on a given; the same to the hand as a `Gesture`. Raises `SteelyardError` for another grip."""

    def __init__(self, sketch: Sketch, of: str, grip: str, start_point: Point) -> None:
        given = find_given(sketch, of)
        if given is None or grip != GRIP:
            fail("grip", of, f'There is no grip called "{grip[:20]}" here.', "Take hold of another one.")
        self.before = sketch
        self.of = of
        self.grip = grip
        self.sketch = sketch
        self.snapped: Snapped | None = None
        self.problem = ""
        self._offset = subtract(position(sketch, given), start_point)

    @property
    def _given(self) -> Given:
        given = find_given(self.sketch, self.of)
        assert given is not None
        return given

    def at(self, point: Point, context: Context) -> Sketch:
        """The sketch with the hand at this point of the paper."""
        self.sketch = _moved(self.before, self.of, add(point, self._offset), context)
        return self.sketch

    def nudge(self, dx: float, dy: float, context: Context) -> Sketch:
        """The sketch with the grip moved on by steps of the smallest round size."""
        given = self._given
        step = round_step(context.step_m, self.sketch.settings) * factor_of("length", self.sketch.settings)
        if given.kind == "label":
            shifted = add(position(self.sketch, given), scale((dx, dy), step))
            self.sketch = _moved(self.sketch, self.of, shifted, replace(context, step_m=0.0))
            return self.sketch
        along = _outwards(self.sketch, given)
        part = dot((dx, dy), along)
        if abs(part) > 1e-9:
            by = math.copysign(max(abs(dx), abs(dy)) * step, part)
            if given.kind == "slope" and given.offset_m < 0.0:
                by = -by
            offset = tidy(given.offset_m + by)
            least = 0.0 if given.kind == "angle" else -math.inf
            self.sketch = settle(self.before, put_given(self.sketch, replace(given, offset_m=max(least, offset))))
        return self.sketch

    def change(self) -> Change:
        """What the gesture comes to, and what undo calls it."""
        return Change(self.sketch, f"Move {self._given.kind}")

    @property
    def readout(self) -> str:
        """How far off it stands."""
        given = self._given
        unit = unit_of("length", self.sketch.settings)
        if given.kind == "label":
            x, y = given.shift_m or (0.0, 0.0)
            return f"{short(self.sketch, math.hypot(x, y))}\u00a0{unit} off"
        return f"{short(self.sketch, abs(given.offset_m))}\u00a0{unit} {_MEANS[given.kind]}"


_MEANS = {"length": "off", "angle": "radius", "slope": "long side"}


def position(sketch: Sketch, given: Given) -> Point:
    """Where a given is held, in the world."""
    match given.kind:
        case "length":
            start, end = measuring.dimension_ends(measuring.length(sketch, given), given)
            return ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
        case "angle":
            return measuring.middle_of_arc(measuring.angle(sketch, given), given.offset_m)
        case "slope":
            return add(measuring.slope(sketch, given).at, scale(_outwards(sketch, given), abs(given.offset_m) / 2.0))
    assert given.start is not None
    return add(measuring.point_of(sketch, given.start), given.shift_m or (0.0, 0.0))


def _outwards(sketch: Sketch, given: Given) -> Point:
    """The direction in which a larger offset moves the grip."""
    if given.kind == "length":
        along = measuring.way(measuring.length(sketch, given), given)
        return (-along[1], along[0])
    if given.kind == "angle":
        found = measuring.angle(sketch, given)
        return subtract(measuring.middle_of_arc(found, 1.0), found.at)
    along = measuring.slope(sketch, given).along
    return scale((-along[1], along[0]), -1.0 if given.offset_m < 0.0 else 1.0)


def _moved(sketch: Sketch, of: str, point: Point, context: Context) -> Sketch:
    given = find_given(sketch, of)
    assert given is not None
    match given.kind:
        case "length":
            along = measuring.way(measuring.length(sketch, given), given)
            start = measuring.length(sketch, given).start
            offset = rounded(sketch, dot(subtract(point, start), (-along[1], along[0])), context)
            changed = replace(given, offset_m=offset)
        case "angle":
            at = measuring.angle(sketch, given).at
            changed = replace(given, offset_m=abs(rounded(sketch, distance(point, at), context)))
        case "slope":
            changed = replace(given, offset_m=slope_side(sketch, given, point, context))
        case "label":
            assert given.start is not None
            shift = tidy_point(subtract(point, measuring.point_of(sketch, given.start)))
            changed = replace(given, shift_m=(rounded(sketch, shift[0], context), rounded(sketch, shift[1], context)))
    return settle(sketch, put_given(sketch, changed))
