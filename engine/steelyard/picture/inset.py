"""Where they act: the small body beside the forces, with their lines of action, the pivot, and a sentence.

Forces drawn alone have lost their places. Here they are, to be looked at and taken hold of.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from ..geometry import Point, Vector
from ..model import Sketch
from ..statics import axes, shape
from ..statics.reading import Analysis, ForceReading
from ..statics.theorems import Theorem
from . import arrows, bodies, constructions, edge, forces, labels, names, pivots, text, theme
from .arrows import Arrow
from .frame import Frame, Need, centre_of, zoom_for
from .grips import RING_PX
from .labels import ACTION_COST, EDGE_COST, HARD, SYMBOL_COST, Box, Field, Wanted
from .pivots import Placed, certain_line
from .plane import inset_box
from .record import Record
from .text import Line, number

Piece = tuple[str, str]

# The longest of the small arrows, against the smaller side of the room; the shortest, in px.
LONGEST_PART = 0.24
SHORTEST_PX = 26.0
STUB_PX = 34.0
# The room a sentence may take of the whole.
WORDS_PART = 0.46


@dataclass(slots=True)
class Inset:
    """What the small body put on the board, and where its tails and pivots are."""

    records: list[Record] = field(default_factory=list)
    tails: dict[str, Point] = field(default_factory=dict)
    turnings: dict[str, Point] = field(default_factory=dict)
    pivots: dict[str, tuple[Point, str, Box | None]] = field(default_factory=dict)
    sides: dict[str, int] = field(default_factory=dict)


def wrap(pieces: tuple[Piece, ...], role: str, size: float, width: float) -> list[Line]:
    """Lines of words no wider than a width; symbols stay with what stands next to them without a space."""
    tokens: list[list[Piece]] = []
    open_token = False
    for words, run in pieces:
        parts = words.split(" ") if run in ("plain", "strong") else [words]
        for index, part in enumerate(parts):
            if index > 0:
                open_token = False
            if part:
                if open_token:
                    tokens[-1].append((part, run))
                else:
                    tokens.append([(part, run)])
                open_token = True
    lines: list[Line] = []
    held: list[Piece] = []
    for token in tokens:
        longer = [*held, *((" ", "plain"),)[: 1 if held else 0], *token]
        if held and text.line(role, size, *longer).width > width:
            lines.append(text.line(role, size, *_joined(held)))
            held = list(token)
        else:
            held = longer
    if held:
        lines.append(text.line(role, size, *_joined(held)))
    return lines


def _joined(pieces: list[Piece]) -> list[Piece]:
    """Neighbouring pieces of one role as one."""
    found: list[Piece] = []
    for words, run in pieces:
        if found and found[-1][1] == run:
            found[-1] = (found[-1][0] + words, run)
        else:
            found.append((words, run))
    return found


@dataclass(frozen=True, slots=True)
class Parts:
    """How the inset is divided: the whole box, the body's own, and the lines of words with their first baseline."""

    whole: Box
    body: Box
    lines: tuple[Line, ...]
    words_at: Point
    heading_at: Point


def parts(frame: Frame, words: tuple[Piece, ...]) -> Parts:
    """The division for a sentence: words below the body, or beside it where the inset lies below the forces."""
    left, top, right, bottom = inset_box(frame)
    unit = frame.text_scale
    aside = right - left < frame.width_px - 1.0
    size = (theme.EDGE_SIZE if frame.compact else theme.SMALL_SIZE) * unit
    lead = size * 1.32
    pad = (10.0 if frame.compact else 20.0) * unit
    # The buttons for looking around float at the upper right.
    cover = frame.covered_px[1] if aside else 0.0
    heading = top + (24.0 if aside else 18.0) * unit
    if aside:
        lines = wrap(words, "inset-words", size, right - left - 2 * pad)
        most = max(1, int(WORDS_PART * (bottom - top) / lead))
        lines = lines[:most]
        words_top = bottom - 14.0 * unit - lead * len(lines)
        body = (left + 8.0, heading + 12.0 * unit, right - max(8.0, cover), words_top - 6.0 * unit)
        return Parts(
            (left, top, right, bottom), body, tuple(lines), (left + pad, words_top + size), (left + pad, heading)
        )
    middle = left + 0.5 * (right - left)
    width = right - middle - pad
    lines = wrap(words, "inset-words", size, width)[: max(1, int((bottom - heading - 6.0 * unit) / lead))]
    body = (left + 6.0, top + 6.0, middle - 4.0, bottom - 6.0)
    return Parts((left, top, right, bottom), body, tuple(lines), (middle, heading + lead), (middle, heading))


def settled(
    sketch: Sketch, analysis: Analysis | None, frame: Frame, words: tuple[Piece, ...], meeting: Point | None
) -> Frame:
    """The frame of the small body: everything on it and on its pivot in sight, arrows short beside it."""
    left, top, right, bottom = parts(frame, words).body
    covered = (top, frame.width_px - right, frame.height_px - bottom - frame.bottom_edge_px, left - frame.left_edge_px)
    small = replace(frame, covered_px=covered, px_per_m=1.0, centre_m=(0.0, 0.0), exact=False)
    needs: list[Need] = []
    unit = frame.pen
    for body in sketch.bodies:
        for place in shape.outermost(body):
            needs.append((place, 12.0, 12.0, 12.0, 12.0))
    for pivot in pivots.placed(sketch, analysis):
        needs.append((pivot.place, 24.0 * unit, 24.0 * unit, 24.0 * unit, 24.0 * unit))
    reach = LONGEST_PART * min(right - left, bottom - top)
    for reading in analysis.readings if analysis is not None else ():
        side = reach + 18.0 * unit
        for x, y in _ways(reading):
            needs.append(
                (reading.force.point, side * max(0.2, -x), side * max(0.2, y), side * max(0.2, x), side * max(0.2, -y))
            )
    if not needs:
        return small
    alone = zoom_for(needs, small)
    if meeting is not None:
        with_meeting = [*needs, (meeting, 34.0 * unit, 26.0 * unit, 34.0 * unit, 26.0 * unit)]
        # Far off, it would shrink the body to nothing: then the lines only point to it.
        if zoom_for(with_meeting, small) > 0.4 * alone or not math.isfinite(alone):
            needs = with_meeting
    zoom = zoom_for(needs, small)
    if not math.isfinite(zoom):
        zoom = 60.0
    return replace(small, px_per_m=zoom, centre_m=centre_of(needs, zoom))


def _ways(reading: ForceReading) -> list[Vector]:
    """The unit directions a force is drawn in on the small body; none for a couple or an unknown direction."""
    force = reading.force
    if force.along is None:
        return []
    shown = certain_line(reading)
    return [shown] if shown is not None else []


class Drawer:
    """Draws one inset."""

    def __init__(
        self, sketch: Sketch, analysis: Analysis | None, frame: Frame, small: Frame, words: tuple[Piece, ...]
    ) -> None:
        self.sketch = sketch
        self.analysis = analysis
        self.frame = frame
        self.small = small
        self.parts = parts(frame, words)
        self.made = Inset()
        left, top, right, bottom = self.parts.body
        self.field = Field((left, top, right, bottom))
        self.wanted: list[Wanted] = []
        # While a hand is busy, the only things that can be lit.
        self.lit: frozenset[str] | None = None

    def draw(
        self,
        theorem: Theorem | None,
        remembered: dict[str, int],
        settle: bool,
        moving: frozenset[str],
    ) -> Inset:
        """All of it; `theorem` is the one whose meeting point is shown."""
        self._paper()
        self._bodies()
        merged = theorem.merged if theorem is not None else ()
        largest = max([math.hypot(*vector) for vector in self._shown_vectors(theorem)], default=0.0)
        for reading in self.analysis.readings if self.analysis is not None else ():
            self._force(reading, largest, merged=reading.force.id in merged)
        if theorem is not None:
            self._merged(theorem, largest)
            self._meeting(theorem)
        for pivot in pivots.placed(self.sketch, self.analysis):
            self._pivot(pivot)
        sides = self._key(remembered, settle)
        placed = labels.place(self.wanted, self.field, remembered, moving, settle=settle)
        for each in self.wanted:
            records, box = labels.draw(each, placed[each.id])
            self.made.records.extend(records)
            if each.of in self.made.pivots:
                at, name, _ = self.made.pivots[each.of]
                self.made.pivots[each.of] = (at, name, box)
        self.made.sides = {**placed, **sides}
        return self.made

    def _add(self, record: Record | None) -> None:
        if record is not None:
            self.made.records.append(record)

    def _paper(self) -> None:
        """The line that sets it off, the heading and the sentence."""
        n = number
        left, top, right, bottom = self.parts.whole
        paper = f"M{n(left)} {n(top)}H{n(right)}V{n(bottom)}H{n(left)}Z"
        self._add(Record("inset.paper", "path", "edge-blank", "edge", (("d", paper),)))
        rim = f"M{n(left)} {n(top)}V{n(bottom)}" if left > 0.5 else f"M{n(left)} {n(top)}H{n(right)}"
        self._add(Record("inset.line", "path", "edge-line", "edge", (("d", rim),)))
        size = self.frame.label_px * 17.0 / 19.0
        heading = text.line("inset-words", size, ("Where they act", "strong"))
        self._add(text.record("inset.heading", heading, *self.parts.heading_at, layer="edge"))
        x, y = self.parts.words_at
        said = " ".join("".join(run.text for run in line.runs) for line in self.parts.lines)
        for index, line in enumerate(self.parts.lines):
            name = said if index == 0 else ""
            record = text.record(f"inset.words{index}", line, x, y + index * line.size * 1.32, layer="edge", name=name)
            self._add(record)

    def _bodies(self) -> None:
        isolated = self.analysis.bodies if self.analysis is not None else ()
        for body in self.sketch.bodies:
            outline = bodies.outline_px(body, self.small, self.sketch)
            mine = body.id in isolated or not isolated
            self._add(bodies.body_record(body, outline, self.small, names.of_body(body), isolated=mine))
            self.made.records += bodies.piece_records(body, self.small, isolated=mine)
            self.field.path(outline, 1.0, EDGE_COST, closed=True)

    def _shown_vectors(self, theorem: Theorem | None) -> list[Vector]:
        if self.analysis is None:
            return []
        merged = theorem.merged if theorem is not None else ()
        found = []
        for reading in self.analysis.readings:
            vector = reading.force.guess or reading.vector
            if vector is not None and reading.force.along is not None and reading.force.id not in merged:
                found.append(vector)
        if merged and self.analysis.applied is not None:
            found.append((self.analysis.applied.fx_n, self.analysis.applied.fy_n))
        return found

    def _arrow(self, at: Point, vector: Vector, largest: float, kind: arrows.Kind) -> Arrow:
        """A small arrow: as long as its force beside the others, but never so short that it shows no direction."""
        left, top, right, bottom = self.parts.body
        size = math.hypot(*vector)
        length = LONGEST_PART * min(right - left, bottom - top) * (size / largest if largest > 0.0 else 1.0)
        length = max(SHORTEST_PX * self.frame.pen, length)
        return arrows.placed(
            at, (vector[0] / size * length, -vector[1] / size * length), kind, self.frame.pen, exact=True
        )

    def _force(self, reading: ForceReading, largest: float, *, merged: bool) -> None:
        force = reading.force
        small, unit = self.small, self.frame.pen
        at = small.to_sheet(force.point)
        if force.along is None:
            self._couple(reading, at)
            return
        self.made.tails[force.id] = at
        along = certain_line(reading)
        if along is not None:
            self._add(constructions.action(force.id, at, along, small, always=not merged))
            line = constructions.clipped(at, (along[0], -along[1]), small.room)
            if line is not None and not merged:
                self.field.segment(*line, 1.0, ACTION_COST)
            if self.lit is None or force.id in self.lit:
                self._arm(reading, along)
        self._add(arrows.dot(at, f"{force.id}.place", force.id, 2.8 * unit, "tail", "pivot"))
        self.field.box((at[0] - 4, at[1] - 4, at[0] + 4, at[1] + 4), SYMBOL_COST)
        if merged:
            return
        kind: arrows.Kind = "guess" if force.guess is not None else "known" if force.role == "known" else "unknown"
        vector = force.guess or reading.vector
        if vector is not None and math.hypot(*vector) > 0.0:
            arrow = self._arrow(at, vector, largest, kind)
        elif along is not None and reading.size_n != 0.0:
            x, y = forces.open_ways(reading)[0]
            arrow = arrows.placed(at, (x * STUB_PX * unit, -y * STUB_PX * unit), kind, unit, exact=True)
        else:
            self._symbol(force.id, force.symbol, kind, (at,), 4.0)
            return
        self._small_arrow(f"{force.id}.small", force.id, arrow)
        self._symbol(force.id, force.symbol, kind, (arrow.head, arrow.middle, at), 2.0)

    def _small_arrow(self, key: str, of: str, arrow: Arrow) -> None:
        self.made.records.extend(arrows.straight(arrow, key, of, self.frame.pen * 0.8))
        if of and (self.lit is None or of in self.lit):
            self._add(forces.highlight(key, of, arrow))
        self.field.segment(arrow.tail, arrow.head, 5.0 * self.frame.pen, HARD)

    def _symbol(self, of: str, symbol: str, kind: arrows.Kind, anchors: tuple[Point, ...], gap: float) -> None:
        content = text.line(f"label-{kind}", self.frame.label_px * 17.0 / 19.0, *text.symbol_pieces(symbol))
        self.wanted.append(Wanted(f"{of}.small-label", of, (content,), anchors, gap))

    def _arm(self, reading: ForceReading, along: Vector) -> None:
        """The arm and its sense about the pivot, shown while the force is lit."""
        assert self.analysis is not None
        turning = reading.guess_turning if reading.force.guess is not None else reading.turning
        if turning is None or turning.foot is None or turning.drops_out or turning.arm_m is None:
            return
        pivot, foot = self.small.to_sheet(self.analysis.pivot), self.small.to_sheet(turning.foot)
        record, seen = constructions.arm(reading.force.id, pivot, foot, along, self.small, always=False)
        self._add(record)
        if seen is not None:
            self._add(constructions.sense(reading.force.id, pivot, foot, turning, self.small, always=False))

    def _couple(self, reading: ForceReading, at: Point) -> None:
        force = reading.force
        self.made.turnings[force.id] = at
        unit = self.frame.pen * 0.7
        value = force.guess_couple_n_m if force.guess_couple_n_m is not None else reading.couple_n_m
        kind: arrows.Kind = (
            "guess" if force.guess_couple_n_m is not None else "known" if force.role == "known" else "unknown"
        )
        turned = force.drawn_sense >= 0 if not value else value > 0.0
        self.made.records.extend(
            arrows.turning(at, turned, kind, force.id, force.id, unit, names.of_force(reading, self.sketch.settings))
        )
        brass = _disc(at, (arrows.TURNING_RADIUS_PX + 3.0) * unit)
        self._add(Record(f"{force.id}.brass", "circle", "highlight", "construct", brass, (), force.id, "lit"))
        reach = (arrows.TURNING_RADIUS_PX + 6.0) * unit
        self.field.box((at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach), HARD)
        self._symbol(force.id, force.symbol, kind, (at,), reach)

    def _merged(self, theorem: Theorem, largest: float) -> None:
        """Known forces taken together: one arrow on the line of their sum."""
        analysis = self.analysis
        if (
            len(theorem.merged) < 2
            or analysis is None
            or analysis.applied is None
            or analysis.applied.line_point is None
        ):
            return
        applied = analysis.applied
        vector = (applied.fx_n, applied.fy_n)
        size = math.hypot(*vector)
        along = (vector[0] / size, vector[1] / size)
        assert applied.line_point is not None
        at = self.small.to_sheet(self._on_body(applied.line_point, along, theorem))
        self._add(constructions.action("sum", at, along, self.small, always=True))
        arrow = self._arrow(at, vector, largest, "known")
        self._small_arrow("sum.small", "", arrow)
        pieces: list[Piece] = []
        for force_id in theorem.merged:
            if pieces:
                pieces.append((" + ", "plain"))
            pieces.extend(text.symbol_pieces(analysis.reading(force_id).force.symbol))
        content = text.line("label-known", self.frame.label_px * 17.0 / 19.0, *pieces)
        self.wanted.append(Wanted("sum.small-label", "", (content,), (arrow.head, arrow.middle, at), 2.0))

    def _on_body(self, line_point: Point, along: Vector, theorem: Theorem) -> Point:
        """The point of the sum's line nearest to where its forces act: there its arrow starts."""
        assert self.analysis is not None
        points = [self.analysis.reading(each).force.point for each in theorem.merged]
        middle = (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
        shift = (middle[0] - line_point[0]) * along[0] + (middle[1] - line_point[1]) * along[1]
        return (line_point[0] + shift * along[0], line_point[1] + shift * along[1])

    def _meeting(self, theorem: Theorem) -> None:
        """A ring where the lines of three forces meet."""
        if theorem.kind != "three-forces" or theorem.point is None:
            return
        at = self.small.to_sheet(theorem.point)
        left, top, right, bottom = self.parts.body
        if not (left < at[0] < right and top < at[1] < bottom):
            return
        self._add(arrows.dot(at, "meeting", "", 9.0 * self.frame.pen, "meeting", "pivot"))
        reach = 11.0 * self.frame.pen
        self.field.box((at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach), SYMBOL_COST)
        size = (theme.EDGE_SIZE if self.frame.compact else theme.SMALL_SIZE) * self.frame.text_scale
        content = text.line("label-plain", size, ("they meet here", "plain"))
        self.wanted.append(Wanted("meeting.label", "", (content,), (at,), reach))

    def _pivot(self, pivot: Placed) -> None:
        at, reach = self.small.to_sheet(pivot.place), pivot.reach_px(self.small)
        self._add(pivots.ring(pivot, self.small, self.field))
        self._add(
            Record(f"{pivot.id}.brass", "circle", "highlight-area", "ground", _disc(at, reach), (), pivot.id, "lit")
        )
        content = text.line("label-pivot", self.frame.small_px, (pivot.called.rsplit(" ", 1)[-1], "plain"))
        self.wanted.append(Wanted(f"{pivot.id}.label", pivot.id, (content,), (at,), RING_PX[pivot.id] * self.frame.pen))
        self.made.pivots[pivot.id] = (at, pivot.called, None)

    @property
    def _x_axis(self) -> Vector:
        return axes.LEVEL if self.analysis is None else self.analysis.x_axis

    def _key(self, remembered: dict[str, int], settle: bool) -> dict[str, int]:
        """Axes and positive sense, in the corner of the small body that hides least; not where there is no room."""
        if self.frame.compact:
            return {}
        left, top, right, bottom = self.parts.body
        width, height = edge.key_size(self.frame, self.sketch.settings)
        width *= 0.55 if self.sketch.settings.seen_from == "side" else 1.0
        corners = (
            (left + 8, bottom - 6),
            (right - width, bottom - 6),
            (right - width, top + height),
            (left + 8, top + height),
        )

        def hidden(index: int) -> float:
            x, y = corners[index]
            box = (x, y - height, x + width, y + 4)
            meets = (
                thing[4]
                for thing in self.field.things
                if box[0] < thing[2]
                and box[2] > thing[0]
                and box[1] < thing[3]
                and box[3] > thing[1]
                and (thing[5] is None or labels.segment_meets_box(*thing[5][:4], box))
            )
            return sum(meets) + (0.0 if index == remembered.get("inset-key", 0) else 6.0)

        index = remembered["inset-key"] if not settle and "inset-key" in remembered else min(range(4), key=hidden)
        x, y = corners[index]
        self.made.records.extend(
            edge.key(self.frame, self.sketch.settings, x, y, with_scale=False, x_axis=self._x_axis)
        )
        self.field.box((x, y - height, x + width, y + 4), HARD)
        return {"inset-key": index}


def _disc(at: Point, radius: float) -> tuple[tuple[str, str], ...]:
    return (("cx", number(at[0])), ("cy", number(at[1])), ("r", number(radius)))
