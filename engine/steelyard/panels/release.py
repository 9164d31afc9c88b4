"""Letting go, for the page: what happens in words, and the motion to play; nothing while answers are kept back."""

from __future__ import annotations

from functools import lru_cache

from ..model import Body, Sketch
from ..picture import release as pictures
from ..picture.frame import Frame
from ..report.release import assumed, ending, energy_kept, said, seconds
from ..statics.motion import Motion, motion
from ..statics.reading import Analysis
from ..statics.release import Release, release
from .item import Item

Data = dict[str, object]


def release_panel(sketch: Sketch, analysis: Analysis | None, frame: Frame, *, wanted: bool) -> Data:
    """`{offered, shown}`: whether the body does not stay as it stands, and, where `wanted`, what happens.

    `shown` holds what is said and, where it moves, the path of the body with a transform for each moment.
    """
    if analysis is None or sketch.answers == "kept":
        return {"offered": False, "shown": None}
    return {"offered": moves(analysis), "shown": _shown(sketch, analysis.body, frame) if wanted else None}


def moves(analysis: Analysis) -> bool:
    """Whether the body as drawn is not in balance, or free to move, so that letting it go is worth a look."""
    kind = analysis.supports.kind
    return kind in ("mechanism", "impossible") or (kind == "none" and analysis.balance.kind == "unbalanced")


def release_action(sketch: Sketch, selected: str) -> list[Item]:
    """The button in the fields of a body that lets it go, held or not; none while answers are kept back."""
    if sketch.answers == "kept" or all(body.id != selected for body in sketch.bodies):
        return []
    return [
        {
            "key": "let-go",
            "label": "Let go",
            "kind": "show",
            "text": "",
            "unit": "",
            "show": {"let_go": True},
            "spoken": "let it go",
        }
    ]


@lru_cache(maxsize=2)
def _found(sketch: Sketch, body_id: str) -> tuple[Release, Motion | None]:
    """Only a saving of work: zooming and panning draw the same motion again."""
    found = release(sketch, body_id)
    return found, motion(sketch, found, body_id=body_id)


def _shown(sketch: Sketch, body_id: str, frame: Frame) -> Data:
    found, moved = _found(sketch, body_id)
    body = sketch.body(body_id)
    return {
        "words": [{"text": sentence} for sentence in said(sketch, found)],
        "assumed": {"text": "" if found.trouble else assumed(sketch, found)},
        "motion": None if moved is None else _played(sketch, body, found, moved, frame),
    }


def _played(sketch: Sketch, body: Body, found: Release, moved: Motion, frame: Frame) -> Data:
    left = {thing.force.id for thing in found.things if thing.left}
    return {
        "path": pictures.outline(sketch, body, frame, left),
        "times": [round(pose.time_s, 6) for pose in moved.poses],
        "transforms": pictures.transforms(body, moved.poses, frame),
        "stamps": [{"text": seconds(pose.time_s, sketch.settings)} for pose in moved.poses],
        "ending": {"text": ending(sketch, moved)},
        "energy": {"text": energy_kept(moved, sketch.settings)},
    }
