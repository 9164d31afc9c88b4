"""The reasoning beside the board: the argument about a guess, the working, and what pivots change."""

from __future__ import annotations

from typing import Any

from ..model import Sketch
from ..panels.working import Worked, working
from ..statics.reading import Analysis
from .presentation import Presentation


def reasoning(
    sketch: Sketch, analysis: Analysis | None, presentation: Presentation, selected: str | None, worked: Worked | None
) -> dict[str, Any] | None:
    """`{argument, working, pivots}`, each null where there is nothing to say; null while it is not open.

    `analysis` is what may be shown; `worked` is the working, of which only the revealed steps are said.
    """
    if presentation.study.side != "working":
        return None
    return {
        "argument": None,
        "working": None if worked is None else working(worked),
        "pivots": None,
    }
