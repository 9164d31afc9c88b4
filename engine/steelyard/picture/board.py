"""The board: one sketch in one view, lowered to a display list with its targets."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from ..geometry import Point, Vector
from ..model import Body, Couple, Force, NamedPoint, Sketch, SpreadLoad, Support, Thing
from ..statics import axes, meeting, moments, shape
from ..statics.advice import Advice
from ..statics.holding import anchor
from ..statics.reading import ActingForce, Analysis, ForceReading, Turning
from ..units import write_exact
from . import (
    advice,
    arrows,
    bodies,
    constructions,
    edge,
    force_views,
    forces,
    friction,
    givens,
    grips,
    joints,
    labels,
    names,
    pivots,
    spreads,
    text,
)
from .forces import Drawn
from .frame import Frame
from .labels import ACTION_COST, CONSTRUCTION_COST, EDGE_COST, HARD, SYMBOL_COST, Box, Field, Wanted
from .levers import Lever, Turned, levers
from .look import PARTS_KEPT, look_of
from .partner import LINKS
from .pivots import Placed
from .record import LAYERS, Picture, Record, Target
from .text import number

View = Literal["set-up", "extended", "point", "polygon"]


@dataclass(frozen=True, slots=True)
class SnapMark:
    """The target a dragged point has caught: where it is in the world, and what it is called."""

    point_m: Point
    name: str


@dataclass(frozen=True, slots=True)
class Tries:
    """Points worth taking torques about, and whether they are listed beside the board, where each can be lit."""

    points: tuple[Advice, ...] = ()
    listed: bool = False


NO_TRIES = Tries()


def draw(
    sketch: Sketch,
    analysis: Analysis | None,
    frame: Frame,
    view: View,
    *,
    selected: str | None = None,
    sides: Mapping[str, int] | None = None,
    settle: bool | None = None,
    moving: frozenset[str] = frozenset(),
    snap_mark: SnapMark | None = None,
    ghost: tuple[Point, ...] | None = None,
    lit: frozenset[str] | None = None,
    tries: Tries = NO_TRIES,
    beside: tuple[ForceReading, ...] = (),
) -> Picture:
    """The picture of a sketch in a view.

    `sides` is the label memory of an earlier picture. During a gesture labels keep theirs, except those of
    things in `moving` (entity or force ids); without a memory, or with `settle`, all are placed anew.
    `ghost` is a thing being placed: world points so far. `lit`, while a hand is busy, names the only things that
    can be lit: what others would show then is left out. `tries` are points worth taking torques about. `beside` are
    arrows drawn on bodies outside the system, which the set-up shows too. With
    answers kept back, `analysis` must be one without them: this draws what it is handed and works nothing out.
    """
    settled = settle if settle is not None else sides is None
    if view in force_views.FORCE_VIEWS and analysis is not None:
        looking = force_views.Looking(selected, sides, settled, moving)
        return force_views.draw(sketch, analysis, frame, view, None, looking)
    drawn = _Board(sketch, analysis, frame, view, selected, lit, tries, beside)
    return drawn.picture(sides, settled, moving, snap_mark, ghost)


class _Board:
    def __init__(
        self,
        sketch: Sketch,
        analysis: Analysis | None,
        frame: Frame,
        view: View,
        selected: str | None,
        lit: frozenset[str] | None,
        tries: Tries,
        beside: tuple[ForceReading, ...],
    ) -> None:
        self.sketch = sketch
        self.analysis = analysis
        self.frame = frame
        self.x_axis = axes.x_axis(sketch)
        self.view = view
        self.selected = selected
        self.lit = lit
        self.tries = tries
        self.beside = beside
        # Which pivot is being thought about: it says what drops out, and shows where else it could be.
        self.chosen = next((each for each in grips.PIVOT_IDS if each == selected or (lit and each in lit)), None)
        self.pivots = pivots.placed(sketch, analysis)
        self.records: list[Record] = []
        left, top, right, bottom = frame.room
        self.field = Field((left + 4, top + 4, right - 4, bottom - 4))
        self.wanted: list[Wanted] = []
        self.outlines: dict[str, list[Point]] = {}
        self.boxes: dict[str, list[list[Point]]] = {}
        self.thing_boxes: dict[str, list[Point]] = {}
        self.by_id = {body.id: body for body in sketch.bodies}
        self.pinned = frozenset(sketch.pinned)
        self.diagrams = [
            spreads.diagram(load, self.by_id[load.body], frame)
            for load in sketch.loads
            if isinstance(load, SpreadLoad) and self._is_drawn(load.body)
        ]
        # Labels of resultants that show while their load is lit.
        self.resultant_notes: list[Wanted] = []

    def picture(
        self,
        sides: Mapping[str, int] | None,
        settle: bool,
        moving: frozenset[str],
        snap_mark: SnapMark | None,
        ghost: tuple[Point, ...] | None,
    ) -> Picture:
        remembered = dict(sides or {})
        self.records.extend(edge.draw(self.frame, self.sketch.settings, self.x_axis))
        self._bodies()
        self._supports()
        self._spreads()
        drawn = self._forces()
        self._named_points()
        for pivot in self.pivots:
            self._pivot(pivot)
        marks = self._marks()
        measured = givens.draw(self.sketch, self.frame, self.view, self.field, remembered, moving, settle=settle)
        self.records.extend(measured.records)
        self.wanted.extend(measured.wanted)
        new_sides = {**measured.sides, **self._key(drawn, remembered, settle)}
        strokes, notes = self._constructions(drawn)
        self._construction_obstacles(strokes)
        wanted = [*(drawn.wanted if drawn is not None else ()), *self.wanted]
        placed = labels.place(wanted, self.field, remembered, _with_weights(moving), settle=settle)
        boxes: dict[str, Box] = {}
        for each in wanted:
            records, boxes[each.id] = labels.draw(each, placed[each.id])
            self.records.extend(givens.named(records, each, measured))
        new_sides.update(placed)
        new_sides.update(self._arm_labels(strokes, notes, boxes, remembered, settle, moving))
        targets = self._grips(drawn, boxes, marks, measured)
        if self.lit is None and (self.chosen or self.tries.listed):
            self.records.extend(advice.when_lit(marks, self.frame, self.field, list(boxes.values())))
        self._overlay(snap_mark, ghost)
        by_layer: dict[str, list[Record]] = {layer: [] for layer in LAYERS}
        for record in self.records:
            by_layer[record.layer].append(record)
        ordered = tuple(record for layer in by_layer.values() for record in layer)
        return Picture(self.frame.width_px, self.frame.height_px, ordered, targets, new_sides)

    def _can_light(self, of: str) -> bool:
        """Whether a thing can be lit: while a hand is busy, most cannot."""
        return self.lit is None or of in self.lit

    # What stands on the paper

    def _bodies(self) -> None:
        sketch, frame = self.sketch, self.frame
        # What is not drawn as the free body is only its surroundings, and lies below it.
        for body in sorted(sketch.bodies, key=lambda each: self._is_drawn(each.id)):
            outline = bodies.outline_px(body, frame, sketch)
            self.outlines[body.id] = outline
            mine = self._is_drawn(body.id)
            self.records.append(bodies.body_record(body, outline, frame, names.of_body(body), isolated=mine))
            self.records += bodies.piece_records(body, frame, isolated=mine)
            if body.kind == "disc":
                self.records.append(bodies.disc_centre(body, frame))
            self.records.append(_rim(body.id, bodies.outer_path(body, outline, frame)))
            added = (bodies.piece_area(body, piece, frame) for piece in body.pieces)
            for ring in (outline, *bodies.holes_px(body, frame), *added):
                self.field.path(ring, 1.0, EDGE_COST, closed=True)
            if mine and _has_weight(body):
                self.records.extend(bodies.mass_centre(body, frame))
                at = frame.to_sheet(shape.centre_of_mass(body))
                r = 8.0 * frame.pen
                self.field.box((at[0] - r, at[1] - r, at[0] + r, at[1] + r), SYMBOL_COST)

    def _is_drawn(self, body_id: str) -> bool:
        """Whether a body is drawn with all that is on it: in the set-up all are, else those of the system."""
        return self.view == "set-up" or self.analysis is None or body_id in self.analysis.bodies

    def _supports(self) -> None:
        sketch = self.sketch
        for support in sketch.supports:
            # What holds the bodies of a system together exerts no force on it: it is drawn itself.
            if self.view == "set-up" or self._is_inside(support):
                self._support(support)
        if self.view != "set-up":
            return
        for body in sketch.bodies:
            self._mass_label(body)
        for load in sketch.loads:
            if isinstance(load, Thing):
                self._thing(load)

    def _is_inside(self, support: Support) -> bool:
        """Whether a joint is between two bodies of the system."""
        if self.analysis is None or support.other is None or support.over_m is not None:
            return False
        return support.body in self.analysis.bodies and support.other in self.analysis.bodies

    def _support(self, support: Support) -> None:
        sketch, frame = self.sketch, self.frame
        records, boxes = joints.draw(sketch, support, frame, names.of_support(support, sketch))
        self.records.extend(records)
        self.boxes[support.id] = boxes
        linked = support.kind in ("rope", "strut")
        at = frame.to_sheet(shape.world(self.by_id[support.body], support.place_m))
        ends = [frame.to_sheet(point) for point in (support.over_m, anchor(sketch, support)) if point is not None]
        for start, end in pairwise((at, *ends)):
            self.records.append(_band(support.id, start, end, second=start != at))
            self.field.segment(start, end, 5.0, HARD)
        if support.face_m is not None:
            face = frame.to_sheet(shape.world(self.by_id[support.body], support.face_m))
            self.records.append(_band(support.id, at, face))
        elif not ends:
            self.records.append(_glow(support.id, at, (24.0 if support.other is None else 12.0) * frame.pen))
        for corners in boxes[len(ends) if linked else 0 :]:
            self.field.corners(corners, HARD)
        words = self._support_words(support)
        if not words:
            return
        middle = joints.middle(sketch, support, frame) if linked else at
        if boxes and not linked:
            xs, ys = [corner[0] for corner in boxes[0]], [corner[1] for corner in boxes[0]]
            middle = (sum(xs) / len(xs), sum(ys) / len(ys))
        self.wanted.append(Wanted(f"{support.id}.label", support.id, words, (middle, at), 8.0 if linked else 16.0))

    def _support_words(self, support: Support) -> tuple[text.Line, ...]:
        """How rough it is, what exerts its force, and what it is on the point of."""
        small = self.frame.small_px
        lines: list[text.Line] = []
        if support.mu is not None:
            value = write_exact(support.mu, "number", self.sketch.settings)
            pieces = [*text.symbol_pieces(support.mu_symbol), (f" = {value}", "value")]
            lines.append(text.line("label-plain", small, *pieces))
        if support.agent:
            lines.append(text.line("caption", small, (support.agent, "plain")))
        if support.about_to:
            lines.append(text.line("caption", small, (names.ABOUT_TO_WORDS[support.about_to], "plain")))
        return tuple(lines)

    def _mass_label(self, body: Body) -> None:
        """The body's own mass or weight, beside its centre of mass."""
        settings = self.sketch.settings
        if body.total_mass_kg is not None:
            words = write_exact(body.total_mass_kg, "mass", settings)
        elif body.weight_n is not None:
            words = write_exact(body.weight_n, "force", settings)
        else:
            return
        at = self.frame.to_sheet(shape.centre_of_mass(body))
        lines = [text.line("label-plain", self.frame.small_px, (words, "plain"))]
        if body.name:
            lines.append(text.line("caption", self.frame.small_px, (body.name, "plain")))
        self.wanted.append(Wanted(f"{body.id}.mass-label", body.id, tuple(lines), (at,), 10.0))

    def _thing(self, load: Thing) -> None:
        frame, settings = self.frame, self.sketch.settings
        record, box = bodies.thing(load, self.by_id[load.body], frame, load.name or text.plain(load.symbol))
        self.records.append(record)
        self.thing_boxes[load.id] = box
        middle = ((box[0][0] + box[1][0]) / 2.0, (box[0][1] + box[2][1]) / 2.0)
        self.records.append(_glow(load.id, middle, 22.0 * frame.pen))
        self.field.corners(box, HARD)
        lines = []
        if load.mass_kg is not None:
            mass = write_exact(load.mass_kg, "mass", settings)
            lines.append(text.line("label-known", frame.small_px, (mass, "plain")))
        if load.name:
            lines.append(text.line("caption", frame.small_px, (load.name, "plain")))
        if lines:
            top = (middle[0], box[0][1])
            self.wanted.append(Wanted(f"{load.id}.label", load.id, tuple(lines), (middle, top), 8.0))

    def _forces(self) -> Drawn | None:
        analysis = self.analysis
        if analysis is None:
            return None
        if self.view == "set-up":
            # Supports and things stand there themselves; only arrows drawn as arrows are shown.
            arrows_ = {load.id for load in self.sketch.loads if isinstance(load, Force | Couple)}
            readings = tuple(each for each in (*analysis.readings, *self.beside) if each.force.id in arrows_)
        else:
            readings = analysis.readings
        spread_out = {each.load.id for each in self.diagrams}
        alone = tuple(each for each in readings if each.force.id not in spread_out)
        drawn = forces.draw(self.sketch, analysis, alone, self.frame, self.field)
        drawn.readings = (*alone, *(each for each in analysis.readings if each.force.id in spread_out))
        for reading in drawn.readings[len(alone) :]:
            self._resultant(reading, drawn)
        self.records.extend(drawn.records)
        for key, arrow in drawn.arrows.items():
            of = key.partition(".")[0]
            if self._can_light(of):
                self.records.append(forces.highlight(key, of, arrow))
        for key, at in drawn.turnings.items():
            if self._can_light(key):
                self.records.append(_glow(key, at, 27.0 * self.frame.pen, ring=True))
        return drawn

    def _spreads(self) -> None:
        """Load diagrams, in both views alike: a load is what it is, whatever holds the body."""
        for each in self.diagrams:
            on = self.by_id[each.load.body].name
            self.records.extend(spreads.records(each, self.frame, spreads.spoken(each.load, self.sketch, on)))
            spreads.keep_clear(each, self.field)
            self.wanted.extend(spreads.label_wishes(each, self.sketch, self.frame, on))

    def _resultant(self, reading: ForceReading, drawn: Drawn) -> None:
        """The thin arrow of a spread load's resultant: lit only, unless lines and arms are asked for."""
        of = reading.force.id
        always = self.sketch.settings.all_constructions or of in self.pinned
        arrow = spreads.resultant(reading, self.frame)
        if arrow is None or not (always or self._can_light(of)):
            return
        drawn.records.extend(spreads.resultant_records(arrow, of, self.frame, always=always))
        drawn.arrows[of] = arrow
        drawn.lines[of] = reading.vector or reading.force.along or (1.0, 0.0)
        label = spreads.resultant_label(reading, arrow, self.sketch, self.frame)
        if always:
            self.field.segment(arrow.tail, arrow.head, 1.5, HARD)
            self.wanted.append(label)
        else:
            self.resultant_notes.append(label)

    def _named_points(self) -> None:
        here = [self.frame.to_sheet(pivot.place) for pivot in self.pivots]
        for point in self.sketch.points:
            place = self._place(point)
            at = self.frame.to_sheet(place)
            self.records.append(bodies.point_dot(point.id, at, self.frame))
            self.records.append(_glow(point.id, at, 10.0 * self.frame.pen))
            self.field.box((at[0] - 4, at[1] - 4, at[0] + 4, at[1] + 4), SYMBOL_COST)
            # A pivot on the point bears its name already.
            if point.name and all(math.dist(at, other) > 1.0 for other in here):
                line = text.line("label-plain", self.frame.small_px, (point.name, "plain"))
                self.wanted.append(Wanted(f"{point.id}.label", point.id, (line,), (at,), 2.0))

    def _place(self, point: NamedPoint) -> Point:
        return shape.world(self.by_id[point.body], point.place_m) if point.body else point.place_m

    def _pivot(self, pivot: Placed) -> None:
        frame = self.frame
        of, at = pivot.id, frame.to_sheet(pivot.place)
        self.records.append(pivots.ring(pivot, frame, self.field))
        self.records.append(_glow(of, at, pivot.reach_px(frame)))
        lines = [pivots.name_line(pivot, frame)]
        if of == self.chosen and self.analysis is not None:
            said, through = pivots.dropping(self.analysis, pivot.place, frame)
            self.records.extend(through)
            lines.extend([said] if said is not None else ())
        n = number(at[0])
        ringed = any(record.role == "ring" and dict(record.attrs)["cx"] == n for record in self.records)
        reach = forces.RING_RADIUS_PX + 6.0 if ringed else grips.RING_PX[of] + 1.0
        self.wanted.append(Wanted(f"{of}.label", of, tuple(lines), (at,), reach * frame.pen))

    def _marks(self) -> list[advice.Mark]:
        """The points worth trying, as quiet rings."""
        if self.analysis is None or not self.tries.points:
            return []
        frame, chosen = self.frame, self.chosen
        symbols = {reading.force.id: reading.force.symbol for reading in self.analysis.readings}
        busy = self.lit is not None
        taken = [frame.to_sheet(place) for _, place, _ in self.pivots]
        found = advice.marks(self.tries.points, symbols, frame, taken, busy=busy)
        if chosen is not None:
            advice.keep_clear(found, frame, self.field)
        self.records.extend(advice.rings(found, frame, of=chosen or grips.PIVOT_ID, always=chosen is not None))
        return found

    def _key(self, drawn: Drawn | None, remembered: Mapping[str, int], settle: bool) -> dict[str, int]:
        """Axes, positive sense and scale of force, in the corner that hides least; it stays there while it can."""
        left, top, right, bottom = self.frame.room
        width, height = edge.key_size(self.frame, self.sketch.settings)
        with_scale = drawn is not None and any(arrow.to_scale for arrow in drawn.arrows.values())
        corners = (
            (left + 14, bottom - 12),
            (right - width - 10, bottom - 12),
            (right - width - 10, top + height + 10),
            (left + 14, top + height + 10),
        )

        def hidden(index: int) -> float:
            x, y = corners[index]
            box = (x - 4, y - height - 4, x + width, y + 4)
            total = 0.0 if index == remembered.get("key", 0) else 40.0
            for far_left, far_top, far_right, far_bottom, weight, stroke in self.field.things:
                if (
                    box[0] < far_right
                    and box[2] > far_left
                    and box[1] < far_bottom
                    and box[3] > far_top
                    and (stroke is None or labels.segment_meets_box(*stroke[:4], box))
                ):
                    total += weight
            return total

        index = remembered["key"] if not settle and "key" in remembered else min(range(4), key=hidden)
        x, y = corners[index]
        self.records.extend(edge.key(self.frame, self.sketch.settings, x, y, with_scale=with_scale, x_axis=self.x_axis))
        self.field.box((x - 4, y - height, x + width, y + 4), HARD)
        return {"key": index}

    # What the lit or pinned force shows

    def _constructions(self, drawn: Drawn | None) -> tuple[list[Lever], list[Wanted]]:
        """Line, lever, sense, components and edge marks of every force; returns the levers and notes to be labelled."""
        analysis, frame = self.analysis, self.frame
        look = look_of(frame, self.sketch.settings, self.sketch.answers)
        strokes: list[Lever] = []
        notes: list[Wanted] = list(self.resultant_notes)
        if analysis is None or drawn is None:
            return strokes, notes
        for reading in drawn.readings:
            force = reading.force
            notes.extend(self._contact_limits(reading))
            if force.id not in drawn.lines and f"{force.id}.guess" not in drawn.arrows:
                if force.along is not None and self.view == "extended" and self._can_light(force.id):
                    self._add(edge.marks(force.id, frame.to_sheet(force.point), frame))
                continue
            always = self.sketch.settings.all_constructions or force.id in self.pinned
            if not always and self.lit is not None and force.id not in self.lit:
                continue
            along, turning = self._line_of(reading, drawn)
            at = frame.to_sheet(force.point)
            notes += self._elsewhere(force, at)
            arrow = drawn.arrows.get(f"{force.id}.guess") or drawn.arrows.get(force.id)
            can_light = self._can_light(force.id)
            records, line = constructions.along_line(force.id, at, along, arrow, look, self.x_axis, always, can_light)
            self.records.extend(records)
            if line is not None:
                self.field.segment(*line, 1.0, EDGE_COST if always else ACTION_COST)
            guess = reading.force.guess
            # Where no balance is possible, what balance would need is nobody's answer.
            impossible = analysis.supports.kind == "impossible" and force.role == "unknown"
            answer = None if impossible else reading.vector
            vector = guess if guess is not None and math.hypot(*guess) > 0.0 else answer
            for of, place, _ in self.pivots:
                if of != grips.PIVOT_ID:
                    turning = moments.about(place, force, vector, along, analysis.lever_m)
                if turning is None:
                    continue
                if turning.drops_out and of != self.chosen:
                    if can_light:
                        notes.append(self._dropped(force, of, place))
                    continue
                turned = Turned(force, along, turning, vector, arrow)
                drawing = levers(turned, place, look, self.x_axis, of != grips.PIVOT_ID, always)
                self.records.extend(drawing.records)
                strokes.extend(drawing.strokes)
                notes.extend(drawing.notes)
        return strokes, notes

    def _elsewhere(self, force: ActingForce, at: Point) -> list[Wanted]:
        """What a lit force of a pair says: on which body its partner acts, in whose picture it is drawn."""
        other = meeting.other_body(self.sketch, force) if self._can_light(force.id) else None
        if other is None:
            return []
        # A light rope or strut is a thing between the two: it does the same to the other body.
        says = f"as much on {other.name}" if force.type in LINKS else f"partner on {other.name}"
        line = text.line("caption", self.frame.small_px, (says, "plain"))
        return [Wanted(f"{force.id}.elsewhere", force.id, (line,), (at,), 12.0 * self.frame.pen)]

    def _contact_limits(self, reading: ForceReading) -> list[Wanted]:
        """The face and the cone of friction of a lit contact force; returns the note of its whole force."""
        force, analysis = reading.force, self.analysis
        always = force.id in self.pinned
        if analysis is None or not (always or self._can_light(force.id)):
            return []
        if force.face is not None:
            self.records.append(friction.band(force.id, force.face, self.frame, always=always))
        pair = friction.pair_of(reading, analysis)
        if pair is None:
            return []
        normal, rubbing = pair
        along, mu = normal.force.along, rubbing.force.mu
        if along is not None and mu:
            stands = friction.apex(normal.force)
            self.records.append(friction.cone(force.id, stands, along, mu, self.frame, always=always))
            for start, end in friction.cone_strokes(stands, along, mu, self.frame):
                self.field.segment(start, end, 1.0, EDGE_COST if always else ACTION_COST)
        if analysis.supports.kind == "impossible" and not (normal.cannot or rubbing.cannot):
            return []
        found = friction.whole(force.id, normal, rubbing, analysis.force_scale_n, self.frame, always=always)
        if found is None:
            return []
        self.records.append(found[0])
        return [found[1]]

    def _dropped(self, force: ActingForce, of: str, place: Point) -> Wanted:
        """What a lit force says at a pivot its line passes through: there is no arm to draw."""
        frame = self.frame
        pieces = [*text.symbol_pieces(force.symbol), (" drops out", "plain")]
        line = text.line("label-pivot", frame.small_px, *pieces)
        reach = (grips.RING_PX[of] + 1.0) * frame.pen
        return Wanted(f"{force.id}.drops-{of}", force.id, (line,), (frame.to_sheet(place),), reach)

    def _line_of(self, reading: ForceReading, drawn: Drawn) -> tuple[Vector, Turning | None]:
        """The unit line a force is lit along, and what it does about the pivot: of its guess while it has one."""
        guess = reading.force.guess
        if guess is not None and math.hypot(*guess) > 0.0:
            size = math.hypot(*guess)
            return (guess[0] / size, guess[1] / size), reading.guess_turning
        vector = drawn.lines.get(reading.force.id, (1.0, 0.0))
        size = math.hypot(*vector) or 1.0
        return (vector[0] / size, vector[1] / size), reading.turning

    def _construction_obstacles(self, strokes: list[Lever]) -> None:
        for each in strokes:
            cost = EDGE_COST if each.always else CONSTRUCTION_COST
            self.field.segment(each.start, each.end, 1.5, cost)
            for box in each.arc:
                self.field.box(box, cost)

    def _arm_labels(
        self,
        strokes: list[Lever],
        notes: list[Wanted],
        boxes: Mapping[str, Box],
        remembered: Mapping[str, int],
        settle: bool,
        moving: frozenset[str],
    ) -> dict[str, int]:
        sides: dict[str, int] = {}
        placed = list(boxes.values())
        # What all keep clear of; in most previews every label keeps its place and nobody asks.
        taken: list[constructions.Met] | None = None
        # What each lit force has labelled so far: only its own labels are seen together.
        own: dict[str, list[Box]] = {}
        # Those always shown first: the others keep clear of them.
        for key, force_id, start, end, content, always, arc in sorted(strokes, key=lambda each: not each.always):
            side = remembered.get(key)
            if side is None or settle or force_id in moving:
                if taken is None:
                    taken = self._arm_obstacles(placed, len(boxes))
                others = [each for each in strokes if each.of == force_id and each.id != key]
                met = [*arc, *(box for each in others for box in each.arc), *own.get(force_id, ())]
                mine = [*taken, *((box, None, 1.0) for box in met), *(_stroke_met(each) for each in others)]
                old = None if settle else side
                side, cost = constructions.place_arm_label(start, end, content, mine, self.field.room, old)
                if cost >= 1.0:
                    # No room along the arm: level then, wherever there is some, with a leader.
                    was = (
                        old - constructions.ARM_PLACES if old is not None and old >= constructions.ARM_PLACES else None
                    )
                    level = _level(key, force_id, content, start, end)
                    free, _ = labels.best_side(level, self.field, [*placed, *own.get(force_id, ())], was)
                    side = constructions.ARM_PLACES + free
            sides[key] = side
            if side >= constructions.ARM_PLACES:
                level = _level(key, force_id, content, start, end)
                records, box = labels.draw(level, side - constructions.ARM_PLACES)
                shown: Literal["always", "lit"] = "always" if always else "lit"
                self.records.extend(record._replace(layer="construct", shown=shown) for record in records)
            else:
                record, box = constructions.arm_label(key, force_id, start, end, content, side, always)
                self.records.append(record)
            if always:
                if taken is not None:
                    taken.append((box, None, 1.0))
                placed.append(box)
            else:
                own.setdefault(force_id, []).append(box)
        for note in notes:
            beside = own.setdefault(note.of, [])
            old = None if settle else remembered.get(note.id)
            sides[note.id], _ = labels.best_side(note, self.field, [*placed, *beside], old)
            records, box = labels.draw(note, sides[note.id])
            self.records.extend(record._replace(layer="construct", shown="lit") for record in records)
            beside.append(box)
        return sides

    def _arm_obstacles(self, placed: list[Box], labelled: int) -> list[constructions.Met]:
        """What labels along arms keep clear of: the other labels (`labelled` of them no arm's), and what is drawn."""
        taken: list[constructions.Met] = [(box, None, 1.0) for box in placed[:labelled]]
        for left, top, right, bottom, weight, stroke in self.field.things:
            # Crossing a body's edge is only ugly: it decides between places that are free otherwise.
            ugly = weight == EDGE_COST
            if weight >= SYMBOL_COST or ugly:
                cost = constructions.UGLY if ugly else 1.0
                taken.append(((left, top, right, bottom), stroke, cost))
        return [*taken, *((box, None, 1.0) for box in placed[labelled:])]

    # What a hand takes hold of

    def _grips(
        self, drawn: Drawn | None, boxes: Mapping[str, Box], marks: list[advice.Mark], measured: givens.DrawnGivens
    ) -> tuple[Target, ...]:
        held = grips.Grips(self.sketch, self.frame, self.selected, self.lit)
        grips.of_bodies(held, self.outlines)
        grips.of_points(held)
        grips.of_supports(held, self.boxes, as_forces=self.view == "extended" and self.analysis is not None)
        if self.view == "set-up":
            grips.of_loads_set_up(held, self.thing_boxes)
        if drawn is not None and self.analysis is not None:
            grips.of_forces(held, drawn)
        grips.of_spreads(held, self.diagrams)
        for of, place, called in self.pivots:
            flag = boxes.get(f"{of}.label")
            grips.of_pivot(held, of, self.frame.to_sheet(place), _corners(flag) if flag is not None else None, called)
        if self.chosen is not None and self.lit is None:
            held.targets.extend(advice.targets(marks, self.chosen))
        givens.of_givens(held, measured, boxes)
        self.records.extend(held.records)
        return tuple(sorted(held.targets, key=lambda target: target.rank))

    def _overlay(self, snap_mark: SnapMark | None, ghost: tuple[Point, ...] | None) -> None:
        frame = self.frame
        if snap_mark is not None:
            at = frame.to_sheet(snap_mark.point_m)
            self.records.append(arrows.dot(at, "snap.ring", "", 9.0, "snap", "overlay"))
            if snap_mark.name:
                words = text.line("snap-text", frame.small_px, (snap_mark.name, "plain"))
                over = words.width + at[0] + 14.0 > frame.room[2]
                x = at[0] - 14.0 if over else at[0] + 14.0
                y = max(at[1] - 12.0, frame.room[1] + frame.small_px)
                anchor = "end" if over else "start"
                self.records.append(text.record("snap.text", words, x, y, layer="overlay", anchor=anchor))
        points = [frame.to_sheet(point) for point in ghost or ()]
        if len(points) > 1:
            path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
            self.records.append(Record("ghost.line", "path", "ghost", "overlay", (("d", path),)))
        for index, point in enumerate(points):
            self.records.append(arrows.dot(point, f"ghost.{index}", "", 7.0, "ghost-dot", "overlay"))
        if not self.sketch.bodies and not points:
            self._empty()

    def _empty(self) -> None:
        """An empty sheet shows a ghost of a bar and the two ways to draw one."""
        frame = self.frame
        x, y = frame.middle_px
        half = 105.0 * frame.text_scale
        n = number
        line = f"M{n(x - half)} {n(y + 18)}L{n(x + half)} {n(y - 18)}"
        self.records.append(Record("ghost.line", "path", "ghost", "overlay", (("d", line),)))
        self.records.append(arrows.dot((x - half, y + 18), "ghost.0", "", 7.0, "ghost-dot", "overlay"))
        self.records.append(arrows.dot((x + half, y - 18), "ghost.1", "", 7.0, "ghost-dot", "overlay"))
        title = text.line("label-plain", frame.label_px, ("Draw the thing you want to hold up", "strong"))
        how = text.line("ghost-text", frame.small_px, ("press here, let go there, or tap both ends", "plain"))
        self.records.append(text.record("ghost.title", title, x, y - 46, layer="overlay", anchor="middle"))
        self.records.append(text.record("ghost.how", how, x, y + 58, layer="overlay", anchor="middle"))

    def _add(self, record: Record | None) -> None:
        if record is not None:
            self.records.append(record)


def _has_weight(body: Body) -> bool:
    return body.weighs


def _with_weights(moving: frozenset[str]) -> frozenset[str]:
    """The ids whose labels may move: a moved body takes its weight along, a moved fixed end its couple."""
    return moving | {f"{each}{part}" for each in moving for part in ("-weight", "-couple", "-friction")}


def _rim(of: str, path: str) -> Record:
    """The brass rim of a lit body, below it."""
    return Record(f"{of}.brass", "path", "highlight", "ground", (("d", path),), (), of, "lit")


def _band(of: str, start: Point, end: Point, *, second: bool = False) -> Record:
    """The brass band along a lit rope or strut, or along the second piece of a rope over a pulley."""
    path = f"M{number(start[0])} {number(start[1])}L{number(end[0])} {number(end[1])}"
    return Record(f"{of}.brass{'-2' if second else ''}", "path", "highlight", "ground", (("d", path),), (), of, "lit")


def _glow(of: str, at: Point, radius: float, *, ring: bool = False) -> Record:
    """The brass disc behind a lit symbol, or the brass ring behind a lit turning arrow."""
    attrs = (("cx", number(at[0])), ("cy", number(at[1])), ("r", number(radius)))
    role = "highlight" if ring else "highlight-area"
    return Record(f"{of}.brass", "circle", role, "construct" if ring else "ground", attrs, (), of, "lit")


def _stroke_met(stroke: Lever) -> constructions.Met:
    """Another stroke of the same force as something its labels had better not cross."""
    (x1, y1), (x2, y2) = stroke.start, stroke.end
    box = (min(x1, x2) - 1.5, min(y1, y2) - 1.5, max(x1, x2) + 1.5, max(y1, y2) + 1.5)
    return (box, (x1, y1, x2, y2, 1.5), constructions.UGLY)


@lru_cache(maxsize=PARTS_KEPT)
def _level(key: str, of: str, content: text.Line, start: Point, end: Point) -> Wanted:
    """The label of an arm along which there is no room, kept while it does not change."""
    return Wanted(key, of, (content,), (_middle(start, end), start, end), 2.0)


def _middle(start: Point, end: Point) -> Point:
    return ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)


def _corners(box: Box) -> list[Point]:
    left, top, right, bottom = box
    return [(left, top), (right, top), (right, bottom), (left, bottom)]
