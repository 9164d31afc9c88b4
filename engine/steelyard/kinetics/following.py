"""Whether the motion of joined bodies is followed after they are let go, or only their start is told."""

from __future__ import annotations

from ..model import Sketch
from .released import Release

# The work of a step grows with the square of the bodies, and pages wait for it.
MOST_FOLLOWED = 8


def not_followed(sketch: Sketch, start: Release) -> str:
    """Why not, in words for after "The motion is not followed: "; nothing where it is, and for a body by itself."""
    parts = start.bodies
    if not parts or start.trouble or start.all_at_rest:
        return ""
    if len(parts) > MOST_FOLLOWED:
        return f"more than {MOST_FOLLOWED} bodies are joined"
    within = {part.body for part in parts}
    if any(
        each.other is not None and each.body in within and each.kind in ("contact", "roller")
        for each in sketch.supports
    ):
        return "bodies slide or roll on each other"
    if any(held.force.type == "friction" and held.mode == "slips" for part in parts for held in part.held):
        return "it slides against friction"
    return ""
