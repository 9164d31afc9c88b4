"""What of a sketch may be shown: one analysis, with the answers taken out where they are kept back."""

from __future__ import annotations

from ..model import Sketch
from ..panels.working import Worked
from ..statics import analyse
from ..statics.kept import kept_back
from ..statics.reading import Analysis
from ..working.desk import Options
from ..working.steps import work
from .presentation import Study


def active_body(sketch: Sketch, selected: str | None) -> str | None:
    """The body being looked at: that of the selected thing, else the first; None on an empty sheet."""
    if not sketch.bodies:
        return None
    for body in sketch.bodies:
        if selected in (body.id, f"{body.id}-weight"):
            return body.id
    for holder in (*sketch.supports, *sketch.loads, *sketch.points):
        if holder.id == selected and holder.body is not None:
            return holder.body
    return sketch.bodies[0].id


def seen(sketch: Sketch, selected: str | None) -> Analysis | None:
    """The analysis every picture, strip and panel is made from; None on an empty sheet.

    This is the only place that decides about answers: what is drawn or said later cannot give away
    what it was never handed.
    """
    body_id = active_body(sketch, selected)
    if body_id is None:
        return None
    analysis = analyse(sketch, body_id=body_id)
    return kept_back(analysis) if sketch.answers == "kept" else analysis


def worked(sketch: Sketch, selected: str | None, study: Study) -> Worked | None:
    """The working of the body being looked at, while its tab is open; None on an empty sheet."""
    body_id = active_body(sketch, selected)
    if body_id is None or study.side != "working":
        return None
    options = Options(symbols_only=not study.numbers)
    return Worked(work(sketch, analyse(sketch, body_id=body_id), options=options), study.revealed)
