"""Three hints for the first half minute, each tied to the thing it is about."""

from __future__ import annotations

from ..model import Sketch, Thing
from .words import PIVOT_ID


def hints(sketch: Sketch) -> list[dict[str, str]]:
    """`[{key, of, grip, text}]`, in the order to try them.

    Given only where all three make sense (a thing to drag, a rope to touch and a pivot to move) on a
    sketch that asks something: on somebody's own sketch they would be noise.
    """
    thing = next((load for load in sketch.loads if isinstance(load, Thing)), None)
    rope = next((support for support in sketch.supports if support.kind == "rope"), None)
    if not sketch.question or thing is None or rope is None or sketch.pivot is None:
        return []
    word = sketch.settings.pivot_word
    return [
        {"key": "drag-thing", "of": thing.id, "grip": "place", "text": f"Drag the {thing.name or 'thing'} along."},
        {"key": "touch-rope", "of": rope.id, "grip": "body", "text": "Touch the rope: see its line and arm."},
        {"key": "move-pivot", "of": PIVOT_ID, "grip": "pivot", "text": f"Move the {word}: what changes?"},
    ]
