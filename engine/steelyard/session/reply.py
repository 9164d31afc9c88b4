"""The state reply: everything the page shows after one request, made from one analysis."""

from __future__ import annotations

from typing import Any

from ..model import Sketch
from ..panels.extents import extents
from ..panels.fields import fields
from ..panels.hints import hints
from ..panels.outline import outline
from ..panels.settings import settings_items
from ..panels.spoken import summary
from ..panels.system import system
from ..panels.table import table
from ..panels.verdict import verdict
from ..picture.record import Picture, Target
from ..statics.pivot import name_of
from ..statics.reading import Analysis

Data = dict[str, Any]


def live_panels(sketch: Sketch, analysis: Analysis | None, selected: str | None) -> Data:
    """The panels that follow the hand: these are all that a preview carries."""
    known = extents(sketch, analysis)
    return {
        "verdict": verdict(analysis, sketch.answers == "kept"),
        "table": table(analysis, sketch.settings, name_of(sketch) if sketch.bodies else "", known),
        "fields": fields(sketch, analysis, selected, known),
        "answers": sketch.answers,
        "empty": not sketch.bodies,
    }


def settled_panels(sketch: Sketch, analysis: Analysis | None, selected: str | None, undo: str, redo: str) -> Data:
    """All panels, for replies after which the hand rests."""
    return {
        "title": sketch.title,
        "question": sketch.question,
        "caution": sketch.caution,
        **live_panels(sketch, analysis, selected),
        "outline": outline(sketch, name_of(sketch) if sketch.bodies else ""),
        "settings": settings_items(sketch),
        "system": system(sketch, analysis),
        "hints": hints(sketch),
        "history": {"undo": undo, "redo": redo},
        "spoken": summary(sketch, analysis, selected),
    }


def picture_data(picture: Picture, only: frozenset[str] | None = None, *, targets: bool = True) -> Data:
    """A picture as data, but for its records: the door writes those that the page does not hold already.

    `only`, in a preview, names what is held or selected: what other things show when lit, and where they can
    be picked, is left out, since nothing else can be lit or picked while the hand is busy.
    """
    data: Data = {
        "width": picture.width,
        "height": picture.height,
        "records": [
            record for record in picture.records if only is None or record.shown == "always" or record.of in only
        ],
    }
    if targets:
        data["targets"] = [target_data(target) for target in picture.targets if only is None or target.of in only]
    return data


def target_data(target: Target) -> Data:
    """A target as data; parts at their usual value are left out to keep replies small."""
    data: Data = {
        "of": target.of,
        "grip": target.grip,
        "shape": target.shape,
        "points_px": [[round(x, 1), round(y, 1)] for x, y in target.points_px],
        "rank": target.rank,
        "name": target.name,
        "cursor": target.cursor,
    }
    if target.selected_only:
        data["selected_only"] = True
    if target.locked:
        data["locked"] = target.locked
    if target.command:
        data["command"] = {"name": target.command, "args": {"at": target.at_m}}
    if target.lights:
        data["lights"] = target.lights
    return data
