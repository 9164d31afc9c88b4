"""Words for what a support is on the point of doing, and for the ends of a face."""

from __future__ import annotations

from ..geometry import Point
from ..model import AboutTo, Sketch, Support
from ..statics import holding, shape
from ..working.phrases import direction_words

# Ends that lie less level than this are told apart as upper and lower.
_STEEP = 0.5


def end_words(face: tuple[Point, Point]) -> tuple[str, str]:
    """What the two ends (world) of a face are called: "left end" and "right end", or "lower end" and "upper end"."""
    (x, y), (to_x, to_y) = face
    level = abs(to_x - x) >= _STEEP * abs(to_y - y)
    first, last = ("left end", "right end") if level else ("lower end", "upper end")
    ahead = to_x > x if level else to_y > y
    return (first, last) if ahead else (last, first)


def face_of(sketch: Sketch, support: Support) -> tuple[Point, Point] | None:
    """The two ends of a contact's face in the world; None without one."""
    if support.face_m is None:
        return None
    body = sketch.body(support.body)
    return shape.world(body, support.place_m), shape.world(body, support.face_m)


def about_to_words(sketch: Sketch, support: Support, about: AboutTo) -> str:
    """ "slip to the right", "tip over its left end", "lift off", "go slack"; "" for none of them."""
    if about in ("", "lift", "slack"):
        return {"": "", "lift": "lift off", "slack": "go slack"}[about]
    if about.startswith("slip"):
        x, y = holding.tangent(support, sketch.body(support.body))
        way = (x, y) if about == "slip" else (0.0 - x, 0.0 - y)
        return f"slip {direction_words(way)}"
    face = face_of(sketch, support)
    if face is None:
        return "tip"
    first, last = end_words(face)
    return f"tip over its {last if about == 'tip' else first}"
