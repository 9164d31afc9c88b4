"""What of a sketch may be shown: one analysis, with the answers taken out where they are kept back."""

from __future__ import annotations

from typing import NamedTuple

from ..document.givens import body_of
from ..edit.change import acts_for
from ..model import Couple, Force, Sketch, Support
from ..statics import analyse
from ..statics.holding import BACK
from ..statics.kept import kept_back, told_parts
from ..statics.pivot import pivot_point
from ..statics.reading import Analysis, ForceReading
from ..working.desk import Options
from ..working.reading import Read, read
from .presentation import FIRST_REVEALED, Study


def active_body(sketch: Sketch, selected: str | None) -> str | None:
    """The body being looked at: that of the selected thing, else the first; None on an empty sheet."""
    if not sketch.bodies:
        return None
    for body in sketch.bodies:
        if selected in (body.id, f"{body.id}-weight"):
            return body.id
    for holder in (*sketch.supports, *sketch.loads, *sketch.points):
        if holder.body is not None and selected is not None and acts_for(holder, selected):
            other = holder.other if isinstance(holder, Support) and selected.endswith(BACK) else None
            return other or holder.body
    for given in sketch.givens:
        if given.id == selected:
            return body_of(sketch, given) or sketch.bodies[0].id
    return sketch.bodies[0].id


class Seen(NamedTuple):
    """What may be shown: an analysis (None on an empty sheet), and the revealed steps where they are wanted."""

    analysis: Analysis | None
    read: Read | None


def beside(sketch: Sketch, analysis: Analysis | None) -> tuple[ForceReading, ...]:
    """Arrows drawn on bodies outside the system, for a picture of all bodies; with answers kept back, without them."""
    if analysis is None or len(analysis.bodies) == len(sketch.bodies):
        return ()
    drawn = {load.id for load in sketch.loads if isinstance(load, Force | Couple) and load.body not in analysis.bodies}
    if not drawn:
        return ()
    found: list[ForceReading] = []
    for body in sketch.bodies:
        if any(load.body == body.id for load in sketch.loads if load.id in drawn):
            other = analyse(sketch, bodies=(body.id,))
            if sketch.answers == "kept":
                other = kept_back(other, told_parts(other, sketch.told))
            found += [reading for reading in other.readings if reading.force.id in drawn]
    return tuple(found)


def seen(sketch: Sketch, selected: str | None, study: Study, *, count: bool = False) -> Seen:
    """The analysis every picture, strip and panel is made from, and the working as far as it is revealed.

    This is the only place that decides about answers: what is drawn or said later cannot give away what it was
    never handed. While answers are kept back, only what revealed steps have found is left in the analysis.
    `count`: also count the steps that are not revealed.
    """
    body_id = active_body(sketch, selected)
    if body_id is None:
        return Seen(None, None)
    analysis = analyse(sketch, body_id=body_id)
    kept = sketch.answers == "kept"
    told = told_parts(analysis, sketch.told)
    # The first step finds nothing, so with no more than that revealed a closed working need not be worked out.
    if study.side != "working" and not (kept and study.revealed > FIRST_REVEALED):
        return Seen(kept_back(analysis, told) if kept else analysis, None)
    steps = read(sketch, analysis, options_of(sketch, study), study.way, study.revealed, count=count)
    if kept and not (steps.whole and study.numbers):
        analysis = kept_back(analysis, told.union(steps.finds))
    return Seen(analysis, steps)


def options_of(sketch: Sketch, study: Study) -> Options:
    """How the working is written for this reader."""
    order = tuple(pivot_point(sketch) if key == "pivot" else key for key in study.order)
    return Options(symbols_only=not study.numbers, order=order or None)
