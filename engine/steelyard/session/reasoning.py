"""The reasoning beside the board: the argument about a guess, the working, and what pivots change."""

from __future__ import annotations

from typing import Any

from ..model import Sketch
from ..panels.argument import argument
from ..panels.pivots import pivots
from ..panels.working import live_working, working
from .presentation import Presentation
from .seen import Seen


def reasoning(
    sketch: Sketch, seen: Seen, presentation: Presentation, selected: str | None, *, preview: bool
) -> dict[str, Any] | None:
    """`{argument, working, pivots}`, each null where there is nothing to say; null while it is not open.

    `seen.analysis` is what may be shown, `seen.read` the revealed steps of the working. A preview leaves out what
    does not follow the hand.
    """
    study = presentation.study
    if study.side != "working" or seen.analysis is None or seen.read is None:
        return None
    steps = (
        live_working(sketch, seen.analysis, seen.read, study.line_px)
        if preview
        else working(sketch, seen.analysis, seen.read, study.order, study.line_px)
    )
    argued = argument(sketch, seen.analysis, selected, presentation.both, numbers=study.numbers, preview=preview)
    return {"argument": argued, "working": steps, "pivots": pivots(sketch, seen.analysis)}
