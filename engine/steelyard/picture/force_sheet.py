"""What the views of forces alone have in common: the ruled sheet, the arrows, the small body, and what can be held."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from ..geometry import Point
from ..model import Force, Sketch
from ..statics.reading import Analysis, ForceReading
from ..statics.theorems import Theorem, theorems
from . import arrows, edge, forces, grips, inset, labels, text
from .forces import Drawn
from .frame import Frame
from .inset import Piece
from .labels import HARD, Field, Wanted
from .plane import Window, sheet_of
from .record import LAYERS, Picture, Record, Target
from .text import plain

ForceView = Literal["point", "polygon"]
FORCE_VIEWS: tuple[ForceView, ...] = ("point", "polygon")
_LAYER_ORDER = {layer: index for index, layer in enumerate(LAYERS)}

# How far a label reaches from its arrow, on a desktop and on a phone: what a window leaves free for it.
LABEL_PX = (128.0, 44.0)
COMPACT_LABEL_PX = (92.0, 40.0)


@dataclass(frozen=True, slots=True)
class Looking:
    """How a sketch is being looked at: what is selected and held, the labels' memory, what was caught.

    `held` is a force whose arrow starts at a fixed point of the sheet while its head is in a hand. `lit`, while a
    hand is busy, names the only things that can be lit.
    """

    selected: str | None = None
    sides: Mapping[str, int] | None = None
    settle: bool = True
    moving: frozenset[str] = frozenset()
    held: tuple[str, Point] | None = None
    caught: tuple[Point, str] | None = None
    lit: frozenset[str] | None = None

    def can_light(self, of: str) -> bool:
        """Whether what is shown of a lit thing is wanted."""
        return self.lit is None or of in self.lit


class ForceSheet:
    """One sheet of forces alone, filled by its view."""

    def __init__(
        self,
        sketch: Sketch,
        analysis: Analysis,
        frame: Frame,
        window: Window,
        looking: Looking,
        *,
        exact: bool = False,
    ) -> None:
        self.sketch = sketch
        self.analysis = analysis
        self.frame = frame
        self.window = window
        self.looking = looking
        self.plane = replace(sheet_of(frame, window), exact=exact)
        self.records: list[Record] = []
        left, top, right, bottom = self.plane.room
        self.field = Field((left + 4, top + 4, right - 4, bottom - 4))
        self.wanted: list[Wanted] = []
        self.remembered = dict(looking.sides or {})
        self.tails: dict[str, Point] = {}
        self.sides: dict[str, int] = {}
        self.held = grips.Grips(sketch, self.plane, looking.selected)

    def rule(self) -> None:
        """The edge in newtons."""
        self.records.extend(edge.of_forces(self.plane, self.sketch.settings, self.analysis.x_axis))

    def add(self, record: Record | None) -> None:
        """One record more."""
        if record is not None:
            self.records.append(record)

    def arrows(self, readings: Iterable[ForceReading], sketch: Sketch) -> Drawn:
        """The arrows of these readings, whose points are in newtons, with the brass behind them while they are lit."""
        drawn = forces.draw(without_pushes(sketch), self.analysis, tuple(readings), self.plane, self.field)
        self.records.extend(drawn.records)
        for key, arrow in drawn.arrows.items():
            of = key.partition(".")[0]
            if self.looking.can_light(of):
                self.add(forces.highlight(key, of, arrow))
        return drawn

    def small_body(self, words: tuple[Piece, ...], theorem: Theorem | None) -> None:
        """Where they act, with what can be held there."""
        looking = self.looking
        drawer = inset.Drawer(self.sketch, self.analysis, self.frame, self.window.inset, words)
        drawer.lit = looking.lit
        made = drawer.draw(theorem, self.remembered, looking.settle, looking.moving)
        self.records.extend(made.records)
        self.sides.update(made.sides)
        entities = {each.id: each for each in (*self.sketch.supports, *self.sketch.loads)}
        for reading in self.analysis.readings:
            force = reading.force
            letter = plain(force.symbol)
            if force.id in made.tails:
                locked = grips.tail_locked(reading, entities.get(force.id))
                name = f"point of application of {letter}"
                self.held.dot(force.id, "tail", made.tails[force.id], grips.RANK_TAIL, name, locked=locked)
            elif force.id in made.turnings:
                locked = "A fixed end's couple acts at the fixed end." if force.entity != force.id else ""
                self.held.dot(
                    force.id, "place", made.turnings[force.id], grips.RANK_TAIL, f"couple {letter}", locked=locked
                )
        for of, (at, called, box) in made.pivots.items():
            flag = None if box is None else [(box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3])]
            grips.of_pivot(self.held, of, at, flag, called)

    def heads(self, drawn: Drawn) -> None:
        """The heads: of a known force its own, of an unknown one that of its guess."""
        entities = {each.id: each for each in (*self.sketch.supports, *self.sketch.loads)}
        for reading in drawn.readings:
            force = reading.force
            letter = plain(force.symbol)
            unknown = force.role == "unknown"
            guess_key = f"{force.id}.guess"
            arrow = drawn.arrows.get(guess_key) or drawn.arrows.get(force.id)
            at = arrow.head if arrow is not None else self.plane.to_sheet(force.point)
            if arrow is None and not unknown:
                continue
            self.held.dot(
                force.id,
                "guess" if unknown else "head",
                at,
                grips.RANK_HEAD,
                f"guess for {letter}" if unknown else f"head of {letter}",
                locked=grips.head_locked(reading, entities.get(force.id)),
                role="grip-guess" if guess_key in drawn.arrows else "grip",
            )

    def picture(self) -> Picture:
        """The whole, once everything is on it."""
        looking = self.looking
        placed = labels.place(
            self.wanted, self.field, self.remembered, with_weights(looking.moving), settle=looking.settle
        )
        for each in self.wanted:
            records, _ = labels.draw(each, placed[each.id])
            self.records.extend(records)
        self.sides.update(placed)
        self.records.extend(self.held.records)
        if looking.caught is not None:
            at, name = looking.caught
            self.add(arrows.dot(at, "snap.ring", "", 9.0, "snap", "overlay"))
            if name:
                words = text.line("snap-text", self.plane.small_px, (name, "plain"))
                over = words.width + at[0] + 14.0 > self.plane.room[2]
                x = at[0] - 14.0 if over else at[0] + 14.0
                y = max(at[1] - 12.0, self.plane.room[1] + self.plane.small_px)
                self.add(text.record("snap.text", words, x, y, layer="overlay", anchor="end" if over else "start"))
        ordered = sorted(self.records, key=lambda record: _LAYER_ORDER[record.layer])
        targets: tuple[Target, ...] = tuple(sorted(self.held.targets, key=lambda target: target.rank))
        return Picture(self.frame.width_px, self.frame.height_px, tuple(ordered), targets, self.sides, self.tails)


def without_pushes(sketch: Sketch) -> Sketch:
    """The sketch with no arrow ending at its point: alone, every force starts where it is put."""
    if not any(isinstance(load, Force) and load.head_at_point for load in sketch.loads):
        return sketch
    loads = tuple(replace(load, head_at_point=False) if isinstance(load, Force) else load for load in sketch.loads)
    return replace(sketch, loads=loads)


def with_weights(moving: frozenset[str]) -> frozenset[str]:
    """The ids whose labels may move: a moved body takes its weight along."""
    return moving | {f"{each}-weight" for each in moving}


def telling(analysis: Analysis) -> Theorem | None:
    """The theorem about the lines of action that is worth showing: three through a point, or all parallel."""
    return next((each for each in theorems(analysis) if each.kind in ("three-forces", "parallel")), None)


def label_px(frame: Frame) -> Point:
    """Width and height a label may need, in px."""
    wide, high = COMPACT_LABEL_PX if frame.compact else LABEL_PX
    return (wide * frame.text_scale, high * frame.text_scale)


def open_reach(reading: ForceReading, frame: Frame, sketch: Sketch) -> tuple[float, float, float, float]:
    """Px to the left, top, right and bottom that a force without a size takes round its start."""
    force = reading.force
    if force.sought == "size and direction":
        if sketch.settings.unknowns_drawn == "ring" and sketch.answers == "kept":
            reach = (forces.RING_RADIUS_PX + 12.0) * frame.pen
            return (reach, reach, reach, reach)
        reach = arrows.COMPONENT_PX * frame.pen
    else:
        reach = 1.9 * arrows.STANDARD_PX * frame.pen
    wide, high = label_px(frame)
    ways = forces.open_ways(reading)
    x = [way[0] * reach for way in ways]
    y = [way[1] * reach for way in ways]
    return (
        max(0.0, -min(x)) + (wide if min(x) < -1.0 else wide / 4),
        max(0.0, max(y)) + high / 2,
        max(0.0, max(x)) + (wide if max(x) > 1.0 else wide / 4),
        max(0.0, -min(y)) + high / 2,
    )


def keep_clear_of_dot(field: Field, at: Point, radius: float) -> None:
    """A dot no label may cover."""
    field.box((at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius), HARD)


def size_of(reading: ForceReading) -> float:
    """The largest size among the arrows a force has: its value and its guess."""
    return max([0.0, *(math.hypot(*vector) for vector in (reading.vector, reading.force.guess) if vector is not None)])
