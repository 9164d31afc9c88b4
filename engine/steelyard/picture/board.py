"""The board: one sketch in one view, lowered to a display list with its targets."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from ..geometry import Point
from ..model import Body, Couple, Force, NamedPoint, Sketch, SpreadLoad, Support, Thing
from ..statics import axes, shape
from ..statics.advice import Advice
from ..statics.holding import anchor
from ..statics.reading import Analysis, ForceReading
from ..units import write_exact
from . import (
    advice,
    arm_labels,
    arrows,
    bodies,
    edge,
    force_views,
    forces,
    givens,
    grips,
    joints,
    labels,
    lit,
    names,
    pivots,
    spreads,
    text,
)
from .forces import Drawn
from .frame import Frame
from .labels import EDGE_COST, HARD, SYMBOL_COST, Box, Field, Wanted
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
        shows = lit.Constructions(
            self.sketch, self.analysis, self.frame, self.field, self.pivots, self.chosen, self.lit,
            extended=self.view == "extended",
        )  # fmt: skip
        strokes, notes = shows.of(drawn, self.resultant_notes)
        self.records.extend(shows.records)
        arm_labels.keep_clear(self.field, strokes)
        wanted = [*(drawn.wanted if drawn is not None else ()), *self.wanted]
        placed = labels.place(wanted, self.field, remembered, _with_weights(moving), settle=settle)
        boxes: dict[str, Box] = {}
        for each in wanted:
            records, boxes[each.id] = labels.draw(each, placed[each.id])
            self.records.extend(givens.named(records, each, measured))
        new_sides.update(placed)
        records, sides_of_arms = arm_labels.place_arm_labels(
            strokes, notes, self.field, boxes, remembered, moving, settle=settle
        )
        self.records.extend(records)
        new_sides.update(sides_of_arms)
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


def _corners(box: Box) -> list[Point]:
    left, top, right, bottom = box
    return [(left, top), (right, top), (right, bottom), (left, bottom)]
