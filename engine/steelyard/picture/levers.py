"""How one force turns about one pivot, drawn in the form a torque is written in.

F·d: the perpendicular arm with its right angle. r·F sin φ: the line to the point of application, and the part of the
force across it. x·F_y − y·F_x: the two offsets, the two components, and the torque of each.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from ..geometry import Point, Vector
from ..model import Settings
from ..statics.levers import lever
from ..statics.reading import ActingForce, Turning
from ..units import write_quantity
from . import constructions, text
from .arrows import Arrow
from .constructions import SHORT_ARM_PX, clip_segment, shown_when
from .frame import Frame
from .labels import Box, Wanted
from .look import PARTS_KEPT, Look
from .record import Record
from .text import Line, number

# A stroke shorter than this is none that could be seen.
SHORT_PX = 3.0
RIGHT_ANGLE_PX = 11.0


class Lever(NamedTuple):
    """A stroke about a pivot with its label: an arm, a distance or an offset.

    `id` is that of the label; `arc` are boxes along the arc of the sense, for labels to keep clear of.
    """

    id: str
    of: str
    start: Point
    end: Point
    content: Line
    always: bool
    arc: tuple[Box, ...]


class Turned(NamedTuple):
    """One force about one pivot: its unit line (world), what it does, its vector and arrow where they are known."""

    force: ActingForce
    along: Vector
    turning: Turning
    vector: Vector | None
    arrow: Arrow | None


@lru_cache(maxsize=PARTS_KEPT)
def levers(turned: Turned, pivot: Point, look: Look, x_axis: Vector, second: bool, always: bool) -> Levers:
    """What a force shows about a pivot, kept for as long as nothing of it changes: never changed once made."""
    return Levers(turned, pivot, look.settings, look.frame, x_axis, second=second, always=always)


class Levers:
    """What a force shows about a pivot when it is lit, or always: strokes, those with a label, and level labels.

    About the `second` pivot the strokes are thinner, and the parts of the force are not drawn again.
    """

    def __init__(
        self,
        turned: Turned,
        pivot: Point,
        settings: Settings,
        frame: Frame,
        x_axis: Vector,
        *,
        second: bool = False,
        always: bool = False,
    ) -> None:
        self.records: list[Record] = []
        self.strokes: list[Lever] = []
        self.notes: list[Wanted] = []
        self._turned = turned
        self._force = turned.force
        self._settings = settings
        self._frame = frame
        self._x_axis = x_axis
        self._suffix = "-second" if second else ""
        self._always = always
        turning = turned.turning
        if turning.drops_out or turning.foot is None or turning.arm_m is None:
            return
        self._pivot, self._at = frame.to_sheet(pivot), frame.to_sheet(self._force.point)
        self._forms = lever(pivot, self._force.point, turned.vector or turned.along, x_axis)
        foot = frame.to_sheet(turning.foot)
        by_arm = settings.torque_form == "arm"
        towards = foot if by_arm else self._at
        sense = constructions.sense(
            self._force.id, self._pivot, towards, turning, frame, suffix=self._suffix, always=always
        )
        if sense is not None:
            self.records.append(sense)
        self._arc = tuple(constructions.sense_boxes(self._pivot, towards, turning.sense or 0, frame))
        if by_arm:
            self._arm(foot, turning.arm_m)
            return
        with_parts = not second and not always and turned.arrow is not None
        if settings.torque_form == "square":
            self._stroke("r", self._forms.distance_m, self._pivot, self._at, "")
            if with_parts and turned.arrow is not None:
                self._across(turned.arrow)
        else:
            self._offsets()
            if with_parts and turned.arrow is not None:
                self._components(turned.arrow)
        if not second and not always and turned.vector is not None:
            wanted = Wanted(
                f"{self._force.id}.torque-label", self._force.id, self._torques(), (self._pivot,), 18.0 * frame.pen
            )
            self.notes.append(wanted)

    def _arm(self, foot: Point, arm_m: float) -> None:
        of, frame = self._force.id, self._frame
        along, suffix, always = self._turned.along, self._suffix, self._always
        record, seen = constructions.arm(of, self._pivot, foot, along, frame, suffix=suffix, always=always)
        if record is not None and seen is not None:
            content = constructions.arm_line(self._force.symbol, arm_m, frame, self._settings)
            self.records.append(record)
            self.strokes.append(Lever(f"{of}.arm-label{suffix}", of, *seen, content, always, self._arc))

    def _stroke(self, letter: str, length_m: float, start: Point, end: Point, mark: str) -> None:
        """A stroke from the pivot, or an offset, as far as it is on the sheet, with its letter and length."""
        seen = clip_segment(start, end, self._frame.room)
        if seen is None:
            return
        of, suffix = self._force.id, self._suffix
        key = "arm" if letter == "r" else f"offset-{letter}"
        role = "arm-second" if suffix else "arm"
        self.records.append(self._path(f"{of}.{key}{suffix}", role, _polyline(*seen) + mark, self._always))
        if (
            suffix and letter != "r"
        ):  # the offsets of the first pivot have their labels; these are as their strokes show
            return
        content = text.line(
            "label-pivot",
            self._frame.label_px,
            (letter, "symbol"),
            *text.subscript_pieces(self._force.symbol),
            (write_quantity(length_m, "length", self._settings), "value", 6.0),
        )
        self.strokes.append(Lever(f"{of}.{key}-label{suffix}", of, *seen, content, self._always, self._arc))

    def _across(self, arrow: Arrow) -> None:
        """The part of the force across r stands on r at the point of application; the rest runs along r."""
        at, reach = self._at, math.dist(self._pivot, self._at)
        from_at = math.dist(arrow.tail, at) <= math.dist(arrow.head, at)
        far = arrow.head if from_at else arrow.tail
        rx, ry = (at[0] - self._pivot[0]) / reach, (at[1] - self._pivot[1]) / reach
        part = (far[1] - at[1]) * rx - (far[0] - at[0]) * ry
        corner = (at[0] - ry * part, at[1] + rx * part)
        if abs(part) < SHORT_PX or math.dist(corner, far) < SHORT_PX:
            return
        of = self._force.id
        self.records.append(self._path(f"{of}.parts", f"component-{arrow.kind}", _polyline(at, corner, far), False))
        onwards = math.copysign(1.0, part)
        mark = self._right_angle(at, (-rx, -ry), (-ry * onwards, rx * onwards))
        self.records.append(self._path(f"{of}.square", "right-angle", mark, False))
        named = text.subscript_pieces(self._force.symbol)
        pieces = [*text.symbol_pieces(self._force.symbol), (" sin ", "value"), ("φ", "symbol"), *named]
        self._part_label("across", pieces, abs(self._forms.across_n), arrow, at, corner)

    def _offsets(self) -> None:
        """From the pivot along x, then along y to the point of application."""
        x, y = self._forms.x_m * self._frame.px_per_m, self._forms.y_m * self._frame.px_per_m
        right, up = self._x_axis
        corner = (self._pivot[0] + x * right, self._pivot[1] - x * up)
        mark = ""
        if min(abs(x), abs(y)) > SHORT_ARM_PX:
            back, on = math.copysign(1.0, x), math.copysign(1.0, y)
            mark = self._right_angle(corner, (-right * back, up * back), (-up * on, -right * on))
        if abs(x) >= SHORT_PX:
            self._stroke("x", self._forms.x_m, self._pivot, corner, mark)
        if abs(y) >= SHORT_PX:
            self._stroke("y", self._forms.y_m, corner, self._at, "")

    def _components(self, arrow: Arrow) -> None:
        """The names of the two components along their strokes."""
        right, up = self._x_axis
        share = (arrow.head[0] - arrow.tail[0]) * right - (arrow.head[1] - arrow.tail[1]) * up
        bend = (arrow.tail[0] + share * right, arrow.tail[1] - share * up)
        if math.dist(arrow.tail, bend) < SHORT_PX or math.dist(bend, arrow.head) < SHORT_PX:
            return
        for axis, size, start, end in (
            ("x", self._forms.x_n, arrow.tail, bend),
            ("y", self._forms.y_n, bend, arrow.head),
        ):
            self._part_label(axis, text.component_pieces(self._force.symbol, axis), size, arrow, start, end)

    def _part_label(
        self, key: str, pieces: list[tuple[str, str]], size_n: float, arrow: Arrow, start: Point, end: Point
    ) -> None:
        value = "" if self._turned.vector is None else write_quantity(size_n, "force", self._settings)
        gap = 6.0 if value else 0.0
        content = text.line(f"label-{arrow.kind}", self._frame.small_px, *pieces, (value, "value", gap))
        middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
        self.notes.append(Wanted(f"{self._force.id}.{key}-label", self._force.id, (content,), (middle, end), 2.0))

    def _torques(self) -> tuple[Line, ...]:
        """The torque beside the pivot; in parts first, where it is written in parts."""
        settings, forms = self._settings, self._forms
        positive = 1.0 if settings.counterclockwise_positive else -1.0
        named = text.subscript_pieces(self._force.symbol)
        said: list[tuple[list[tuple[str, str]], float]] = []
        if settings.torque_form == "components":
            for place, axis, torque, sign in (("x", "y", forms.from_y_n_m, 1.0), ("y", "x", forms.from_x_n_m, -1.0)):
                minus = "" if sign == positive else "−"
                pieces = [(minus, "value"), (place, "symbol"), *named, (" ", "value")]
                said.append(([*pieces, *text.component_pieces(self._force.symbol, axis)], torque))
        letter = "τ" if settings.turning_word == "torque" else "M"
        said.append(([(letter, "symbol"), *named], forms.from_y_n_m + forms.from_x_n_m))
        return tuple(
            text.line(
                "label-pivot",
                self._frame.small_px,
                *pieces,
                (write_quantity(torque * positive, "couple", settings), "value", 6.0),
            )
            for pieces, torque in said
        )

    def _right_angle(self, at: Point, first: Vector, second: Vector) -> str:
        back = RIGHT_ANGLE_PX * self._frame.pen
        (ax, ay), (bx, by) = first, second
        n = number
        start = f"M{n(at[0] + ax * back)} {n(at[1] + ay * back)}"
        return f"{start}l{n(bx * back)} {n(by * back)}l{n(-ax * back)} {n(-ay * back)}"

    def _path(self, record_id: str, role: str, path: str, always: bool) -> Record:
        return Record(
            record_id, "path", role, "construct", (("d", path),), (), self._force.id, shown_when(always=always)
        )


def _polyline(*points: Point) -> str:
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
