"""The views of forces alone, Point and Polygon, by name."""

from __future__ import annotations

from ..model import Sketch
from ..statics.reading import Analysis
from . import point, polygon
from .force_sheet import FORCE_VIEWS, ForceView, Looking
from .frame import Frame
from .plane import Window
from .record import Picture

__all__ = ["FORCE_VIEWS", "ForceView", "Looking", "Window", "draw", "window"]


def window(sketch: Sketch, analysis: Analysis, frame: Frame, view: str, before: Window | None = None) -> Window:
    """What of the newtons and of the small body is seen on this board; that of before is kept while it serves."""
    fit = point.window if view == "point" else polygon.window
    made = fit(sketch, analysis, frame, before)
    if before is None or not before.by_hand:
        return made
    return Window(before.n_per_px, before.centre_n, made.inset, by_hand=True)


def draw(
    sketch: Sketch,
    analysis: Analysis,
    frame: Frame,
    view: str,
    seen: Window | None = None,
    looking: Looking | None = None,
) -> Picture:
    """The picture in one of these views; without a window, in one that shows everything."""
    seen = window(sketch, analysis, frame, view) if seen is None else seen
    paint = point.draw if view == "point" else polygon.draw
    return paint(sketch, analysis, frame, seen, looking or Looking())
