"""What a lit or pinned force shows on the board: its line, levers, sense and components, its face and cone."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..geometry import Point, Vector
from ..model import Sketch
from ..statics import axes, meeting, moments
from ..statics.reading import ActingForce, Analysis, ForceReading, Turning
from . import constructions, edge, friction, grips, text
from .forces import Drawn
from .frame import Frame
from .labels import ACTION_COST, EDGE_COST, Field, Wanted
from .levers import Lever, Turned, levers
from .look import look_of
from .partner import LINKS
from .pivots import Placed
from .record import Record


class Constructions:
    """Draws into `records` and takes room in `field`; `chosen` is the pivot that is being thought about."""

    def __init__(
        self,
        sketch: Sketch,
        analysis: Analysis | None,
        frame: Frame,
        field: Field,
        pivots: Sequence[Placed],
        chosen: str | None,
        lit: frozenset[str] | None,
        *,
        extended: bool,
    ) -> None:
        self.sketch = sketch
        self.analysis = analysis
        self.frame = frame
        self.field = field
        self.pivots = pivots
        self.chosen = chosen
        self.lit = lit
        self.extended = extended
        self.x_axis = axes.x_axis(sketch)
        self.pinned = frozenset(sketch.pinned)
        self.records: list[Record] = []

    def _can_light(self, of: str) -> bool:
        """Whether a thing can be lit: while a hand is busy, most cannot."""
        return self.lit is None or of in self.lit

    def of(self, drawn: Drawn | None, notes_before: list[Wanted]) -> tuple[list[Lever], list[Wanted]]:
        """Draw them for every force; returns the levers and notes to be labelled, after `notes_before`."""
        analysis, frame = self.analysis, self.frame
        look = look_of(frame, self.sketch.settings, self.sketch.answers)
        strokes: list[Lever] = []
        notes: list[Wanted] = list(notes_before)
        if analysis is None or drawn is None:
            return strokes, notes
        for reading in drawn.readings:
            force = reading.force
            notes.extend(self._contact_limits(reading))
            if force.id not in drawn.lines and f"{force.id}.guess" not in drawn.arrows:
                if force.along is not None and self.extended and self._can_light(force.id):
                    marks = edge.marks(force.id, frame.to_sheet(force.point), frame)
                    self.records.extend([] if marks is None else [marks])
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
