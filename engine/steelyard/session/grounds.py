"""What a point of the sheet means to a hand: metres of the paper, or a vector of newtons from where an arrow starts.

Gestures work in metres with so many newtons to a metre. Where forces are drawn alone, each head has a ground of
its own: its arrow's start on the sheet stands for the force's point in the world, so the same gestures serve.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from ..errors import SteelyardError
from ..geometry import Point, add
from ..model import Force, Sketch
from ..picture.labels import Box
from ..picture.plane import Window
from ..statics import shape
from ..statics.chain import chain
from ..statics.pivot import place_of
from ..statics.reading import Analysis

# A metre of a ground that is only newtons: fine enough that no place along a body is rounded visibly.
PX_PER_M = 1e4
# Places of new forces along a body are kept to this many decimals, as that ground rounds them.
DECIMALS = 3
HEAD_GRIPS = ("head", "guess")


class Ground(Protocol):
    """From px to what gestures measure in, and back. A `Frame` is the ground of the board."""

    @property
    def px_per_m(self) -> float:
        """Px to a metre."""

    @property
    def n_per_px(self) -> float:
        """Newtons to a px of arrow."""

    def to_world(self, px: Point) -> Point:
        """Px of the sheet to metres."""

    def to_sheet(self, point: Point) -> Point:
        """Metres to px of the sheet."""


@dataclass(frozen=True, slots=True)
class Shifted:
    """A ground on which a point of the sheet stands for a given point of the world.

    `way` is −1 for an arrow that ends at its point in the world and is held there by its other end: here every
    arrow starts where it is put, and the hand is at its head.
    """

    px_per_m: float
    n_per_px: float
    origin_px: Point
    origin_m: Point
    way: float = 1.0

    def to_world(self, px: Point) -> Point:
        """Px of the sheet to metres."""
        (x, y), scale = self.origin_px, self.way / self.px_per_m
        return (self.origin_m[0] + (px[0] - x) * scale, self.origin_m[1] - (px[1] - y) * scale)

    def to_sheet(self, point: Point) -> Point:
        """Metres to px of the sheet."""
        x, y = self.origin_px
        return (x + (point[0] - self.origin_m[0]) * self.px_per_m, y - (point[1] - self.origin_m[1]) * self.px_per_m)


@dataclass(frozen=True, slots=True)
class Alone:
    """The picture of forces alone that a hand reaches into.

    `body_box` is where the small body is, `home_px` the dot or the start of the chain, `tails` where arrows start.
    """

    body_box: Box
    window: Window
    home_px: Point
    tails: Mapping[str, Point]


def of_grip(alone: Alone, sketch: Sketch, of: str, grip: str) -> Ground:
    """The ground for a grip held there."""
    if grip == "shaft":
        # In newtons from where the chain starts.
        return Shifted(1.0 / alone.window.n_per_px, alone.window.n_per_px, alone.home_px, (0.0, 0.0))
    tail = alone.tails.get(of)
    place = place_of(sketch, of)
    if grip in HEAD_GRIPS and tail is not None and place is not None:
        push = any(isinstance(load, Force) and load.id == of and load.head_at_point for load in sketch.loads)
        return Shifted(PX_PER_M, alone.window.n_per_px, tail, place, -1.0 if push and grip == "head" else 1.0)
    return alone.window.inset


def of_tool(alone: Alone, sketch: Sketch, body_id: str, tool: str, at_px: Point, tail_px: Point) -> Ground:
    """The ground for a tool put down there; a new force starts at `tail_px`. Raises SteelyardError."""
    if tool == "pivot":
        left, top, right, bottom = alone.body_box
        if not (left <= at_px[0] <= right and top <= at_px[1] <= bottom):
            message = "A pivot is a point of the paper, and here only the small body is on paper."
            raise SteelyardError("session.place", "point_px", message, "Tap under Where they act.")
        return alone.window.inset
    if tool != "force":
        message = "Only forces and the pivot can be drawn in this view."
        raise SteelyardError("session.view", "tool", message, "Go to Set-up or Extended for the others.")
    return Shifted(PX_PER_M, alone.window.n_per_px, tail_px, new_place(sketch, body_id))


def new_place(sketch: Sketch, body_id: str) -> Point:
    """Where a force drawn alone acts until it is moved: the point of the body nearest to its centre of mass."""
    body = sketch.body(body_id)
    x, y = shape.nearest_place(body, shape.centre_of_mass(body))
    return shape.world(body, (round(x, DECIMALS), round(y, DECIMALS)))


def new_tail(sketch: Sketch, analysis: Analysis) -> Point:
    """Where the next load starts in the chain, in newtons: after those in order, and before reactions not in it."""
    held = {support.id for support in sketch.supports}
    at: Point = (0.0, 0.0)
    for link in chain(sketch, analysis):
        if link.vector is not None and (link.id in sketch.order or link.reading.force.entity not in held):
            at = add(at, link.vector)
    return at
